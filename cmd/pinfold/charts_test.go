package main

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func number(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	require.NoError(t, err)
	return n
}

// The rows of the yard chart (D) with hundreds and thousands of squares.
func TestYieldOfTheYardChartsSmallSquares(t *testing.T) {
	if testing.Short() {
		t.Skip("thousands of squares on a sheet")
	}
	rows := chart(t, "yard.csv")
	require.Len(t, rows, 25)
	for _, row := range rows[1:4] {
		for i, printed := range row[1:] {
			a := yieldOf(t, row[0]+" x "+row[0], "--from", "1 yd x "+rows[0][i+1])
			assert.Equal(t, number(t, printed), a.Count, "%s in from %s in", row[0], rows[0][i+1])
			assert.True(t, a.Proved, row[0])
		}
	}
}

// Rectangles whose most, with turning, is what the area allows. Sources stand in
// the chart, as in those below.
func TestYieldOfRectanglesThatFillTheArea(t *testing.T) {
	for _, row := range chart(t, "rectangles.csv")[1:] {
		a := yieldOf(t, row[0], "--from", row[1])
		assert.Equal(t, number(t, row[3]), a.Count, row)
		assert.True(t, a.Proved, row)
	}
}

func TestPrintedFiguresThatNoPlanCanReach(t *testing.T) {
	for _, row := range chart(t, "impossible.csv")[1:] {
		a := yieldOf(t, row[1], "--from", row[2])
		assert.Less(t, int(a.Bound), number(t, row[3]), row)
	}
}

func TestPrintedFiguresThatAreBeaten(t *testing.T) {
	for _, row := range chart(t, "beaten.csv")[1:] {
		a := yieldOf(t, row[1], "--from", row[2])
		assert.Greater(t, a.Count, number(t, row[3]), row)
		assert.Equal(t, number(t, row[4]), a.Count, row)
	}
}
