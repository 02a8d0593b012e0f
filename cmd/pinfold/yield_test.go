package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// answer is the JSON of yield.
type answer struct {
	Count    int             `json:"count"`
	Bound    int64           `json:"bound"`
	Proved   bool            `json:"proved"`
	ProvedBy string          `json:"proved_by"`
	Size     [2]units.Length `json:"size"`
	Sheet    struct {
		Width, Height units.Length
		Raw           [2]units.Length
		Squared       [4]units.Length
		Placements    []struct{ X, Y, W, H units.Length }
	} `json:"sheet"`
}

// yieldOf asks the command and holds its answer against itself: as many places
// as counted, none overlapping or outside.
func yieldOf(t *testing.T, args ...string) answer {
	t.Helper()
	s := invoke(t, append([]string{"yield", "--json"}, args...)...)
	require.Equal(t, exitDone, s.code, s.errors)
	var a answer
	require.NoError(t, json.Unmarshal([]byte(s.out), &a), s.out)
	assert.Len(t, a.Sheet.Placements, a.Count)
	assert.LessOrEqual(t, int64(a.Count), a.Bound)
	assert.Equal(t, a.Proved, int64(a.Count) == a.Bound)
	for i, p := range a.Sheet.Placements {
		require.True(t, p.X >= 0 && p.Y >= 0 && p.X+p.W <= a.Sheet.Width && p.Y+p.H <= a.Sheet.Height, "place %d lies outside", i)
		require.Equal(t, a.Size[0]*a.Size[1], p.W*p.H)
		for _, q := range a.Sheet.Placements[:i] {
			require.True(t, p.X+p.W <= q.X || q.X+q.W <= p.X || p.Y+p.H <= q.Y || q.Y+q.H <= p.Y, "places overlap")
		}
	}
	return a
}

// chart reads a published chart; its comments name the sources.
func chart(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "charts", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	return rows
}

// The charts of squares per fat quarter (A1 to A3), cell by cell. Sources stand
// in the chart.
func TestYieldOfAFatQuarterChart(t *testing.T) {
	rows := chart(t, "fat-quarter.csv")
	for _, row := range rows[1:] {
		a := yieldOf(t, row[0]+" x "+row[0], "--from", "fat quarter")
		assert.True(t, a.Proved, row[0])
		for i, cell := range row[1:] {
			if cell != "" {
				assert.Equal(t, cell, strconv.Itoa(a.Count), "%s in, %s", row[0], rows[0][i+1])
			}
		}
	}
}

// The chart of squares per yard (D), cell by cell. Its smallest squares, up to
// 5760 of them, are left to the tests of package pack.
func TestYieldOfAYardChart(t *testing.T) {
	rows := chart(t, "yard.csv")
	for _, row := range rows[1:] {
		if side, err := strconv.ParseFloat(row[0], 64); err != nil || side < 2 {
			continue
		}
		for i, cell := range row[1:] {
			width := strings.TrimSuffix(rows[0][i+1], " in")
			a := yieldOf(t, row[0]+" x "+row[0], "--from", "1 yd x "+width)
			assert.Equal(t, cell, strconv.Itoa(a.Count), "%s in from %s", row[0], width)
			assert.True(t, a.Proved)
		}
	}
}

// Worked examples from print.
// W6: fat quarter 18 x 21, width 42, quilting forum, n.d.,
// http://forum.missouriquiltco.com/quilting-questions/47676-math-gurus-please-help-how-do-i-cut-my-fabric.html
// W11: tutorial guide of a quilting magazine's publisher, n.d.,
// https://anniescatalog.com/quilting/content.html?content_id=804&scat_id=623&type_id=S
// W12: 36 x 45 and 36 x 40, quilting forum, n.d.,
// http://www.quiltingboard.com/main-f1/please-confirm-my-math-t46327.html
func TestYieldOfWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		from, size string
		want       int
	}{
		{"fat quarter 18 x 21", "4 1/2 x 4 1/2", 16},
		{"fat quarter 18 x 21", "2 1/2 x 2 1/2", 56},
		{"2 1/2 x 42", "2 1/2 x 2 1/2", 16},
		{"5 x 40", "5 x 5", 8},
		{"10 x 40", "10 x 10", 4},
		{"1/8 yd x 42", "2 1/2 x 42", 1},
		{"1/4 yd", "2 1/2 x 40", 3},
		{"3/8 yd", "2 1/2 x 40", 5},
		{"1 yd x 45", "5 x 5", 63},
		{"1 yd x 40", "5 x 5", 56},
		{"1 yd x 44", "5 x 5", 56},
	} {
		a := yieldOf(t, c.size, "--from", c.from)
		assert.Equal(t, c.want, a.Count, "%s from %s", c.size, c.from)
		assert.True(t, a.Proved, "%s from %s", c.size, c.from)
	}
}

// Own figures, each equal to the area of the sheet over that of the piece
// rounded down, so nothing can do better.
func TestYieldTurnsPiecesOnlyWhenItMay(t *testing.T) {
	a := yieldOf(t, "2 1/2 x 4 1/2", "--from", "fat quarter")
	assert.Equal(t, []int{35, 35}, []int{a.Count, int(a.Bound)})
	a = yieldOf(t, "2 1/2 x 4 1/2", "--from", "fat quarter", "--no-turn")
	assert.Equal(t, []int{28, 28}, []int{a.Count, int(a.Bound)}, "7 strips of 4: the longer side lies across")
	a = yieldOf(t, "4 1/2 x 2 1/2", "--from", "fat quarter", "--no-turn")
	assert.Equal(t, []int{32, 32}, []int{a.Count, int(a.Bound)}, "4 strips of 8")
}

func TestYieldTakesTheSheetAsGivenUnlessSquared(t *testing.T) {
	a := yieldOf(t, "4 1/2 x 4 1/2", "--from", "fat quarter")
	assert.Equal(t, 16, a.Count)
	a = yieldOf(t, "4 1/2 x 4 1/2", "--from", "fat quarter", "--squaring", "1/4")
	assert.Equal(t, 12, a.Count, "17 1/2 in hold three strips only")
	assert.Equal(t, [4]units.Length{0, units.Inch / 4, units.Inch / 4, units.Inch / 4}, a.Sheet.Squared, "the selvage side is no raw edge")
	a = yieldOf(t, "2 x 2", "--from", "1/2 yd", "--squaring", "1/4")
	assert.Equal(t, [2]units.Length{40 * units.Inch, 18 * units.Inch}, a.Sheet.Raw)
	assert.Equal(t, [2]units.Length{40 * units.Inch, 35 * units.Inch / 2}, [2]units.Length{a.Sheet.Width, a.Sheet.Height})
	a = yieldOf(t, "5 x 5", "--from", "50 x 55", "--unit", "cm", "--squaring", "5 mm")
	assert.Equal(t, 90, a.Count, "49 x 54 cm hold 9 x 10")
}

func TestYieldSheets(t *testing.T) {
	in := func(n float64) units.Length { return units.Length(n * float64(units.Inch)) }
	for text, want := range map[string]units.Size{
		"fat quarter":           {Along: in(18), Across: in(22)},
		"Fat  Quarter, 18 x 21": {Along: in(18), Across: in(21)},
		"fat eighth":            {Along: in(9), Across: in(22)},
		"fat eighth 25 x 55 cm": {Along: 25 * units.Centimetre, Across: 55 * units.Centimetre},
		"1/2 yd":                {Along: in(18), Across: in(40)},
		"1/2 yd x 42":           {Along: in(18), Across: in(42)},
		"1 1/4 yards × 44 in":   {Along: in(45), Across: in(44)},
		"½ yd x 110 cm":         {Along: in(18), Across: 110 * units.Centimetre},
		"0.5 m":                 {Along: 50 * units.Centimetre, Across: in(40)},
		"0.5 m x 110":           {Along: 50 * units.Centimetre, Across: 110 * units.Centimetre},
		"10 x 12 in":            {Along: in(10), Across: in(12)},
		"10 x 12":               {Along: in(10), Across: in(12)},
		"50 x 55 cm":            {Along: 50 * units.Centimetre, Across: 55 * units.Centimetre},
		"267 mm x 10 1/2 in":    {Along: 267 * units.Millimetre, Across: in(10.5)},
	} {
		c, err := parseCloth(text, units.Inches)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, c.size, text)
		}
	}
	for _, text := range []string{"", "quarter", "fat quarters", "18", "18 in", "fat quarter 18", "0 yd", "1 yd x 0", "1 yd x wide", "0.3333 yd", "1 x 2 x 3"} {
		_, err := parseCloth(text, units.Inches)
		assert.Error(t, err, text)
	}
}

func TestYieldInWords(t *testing.T) {
	s := invoke(t, "yield", "6 x 8", "--from", "fat eighth")
	assert.Equal(t, exitDone, s.code, s.errors)
	lines := strings.Split(s.out, "\n")
	assert.Equal(t, "3 pieces of 6 x 8 in from a fat eighth of 9 x 22 in", lines[0])
	assert.Equal(t, "proved: no edge-to-edge cutting gives more", lines[1])
	assert.Contains(t, s.out, "22 in across, 9 in along the selvage")
	for _, l := range lines {
		assert.LessOrEqual(t, len(l), 80)
	}
	s = invoke(t, "yield", "20 x 23", "--from", "fat quarter")
	assert.Equal(t, exitDone, s.code)
	assert.Equal(t, "0 pieces of 20 x 23 in from a fat quarter of 18 x 22 in\nproved: it does not fit\n", s.out)
	s = invoke(t, "yield", "1/2 x 1/2", "--from", "9 x 22")
	assert.Contains(t, s.out, "too small on this sheet to draw")
}

func TestYieldRefuses(t *testing.T) {
	for want, args := range map[string][]string{
		"yield needs a size":            {"--from", "fat quarter"},
		"yield needs the sheet to cut":  {"2 x 2"},
		`cannot read "2 1/2" as a size`: {"2 1/2", "--from", "fat quarter"},
		`quote what has spaces`:         {"2 x 2", "quarter", "--from", "fat"},
		`cannot read "bolt" as a sheet: it is no cut by name and no size`: {"2 x 2", "--from", "bolt"},
		`unknown unit "ft"`:            {"2 x 2", "--from", "fat quarter", "--unit", "ft"},
		"--squaring: cannot read":      {"2 x 2", "--from", "fat quarter", "--squaring", "some"},
		"leaves nothing of 2 x 2 in":   {"1 x 1", "--from", "2 x 2", "--squaring", "1"},
		`size "0 x 2" has a side of 0`: {"0 x 2", "--from", "fat quarter"},
		"too large":                    {"2 x 2", "--from", "99999 yd"},
	} {
		refused(t, invoke(t, append([]string{"yield"}, args...)...), want)
	}
}
