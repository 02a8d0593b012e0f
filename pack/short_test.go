package pack_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// When the stock does not hold everything, as much as it can hold is cut.
func TestShortOfStock(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "2 x 2 1/2", W: 5 * in / 2, H: 2 * in, Demand: 200, Turn: true}},
		Sheets: []pack.Sheet{{ID: "fat quarter", W: 22 * in, H: 18 * in, Copies: 1, Free: true}},
	}
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, pack.Short, s.Status)
	// floor(18 x 22 / (2 x 2 1/2)) = 79, so nothing holds more.
	assert.Equal(t, 200-79, s.Missing[0])
}

// A search whose time is up before it begins still cuts everything.
func TestStoppedAtOnce(t *testing.T) {
	in := units.Inch
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "a", W: 3 * in, H: 2 * in, Demand: 300, Turn: true}, {ID: "b", W: 11 * in, H: 2 * in, Demand: 9}},
		Roll:   &pack.Roll{ID: "bolt", W: 42 * in, Step: units.Yard / 8, Price: 1000, Per: units.Yard},
	}
	s, err := pack.Solve(ctx, p, pack.Options{})
	require.NoError(t, err)
	assert.True(t, s.Stopped)
	assert.NotEqual(t, pack.Short, s.Status)
}
