package pack_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// At the same price as little as possible of the cloth at hand is cut into.
func TestCutsIntoLittleOfTheStash(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "a", W: 3 * in, H: 2 * in, Demand: 13, Turn: true}, {ID: "b", W: 5 * in, H: 5 * in, Demand: 2}},
		Sheets: []pack.Sheet{
			{ID: "half yard", W: 40 * in, H: 18 * in, Copies: 1, Free: true},
			{ID: "large", W: 20 * in, H: 18 * in, Copies: 2, Free: true},
			{ID: "small", W: 16 * in, H: 8 * in, Copies: 1, Free: true},
			{ID: "fat quarter", W: 21 * in, H: 18 * in, Copies: pack.Unlimited, Price: 325},
		},
	}
	s, err := pack.Solve(context.Background(), p, pack.Options{})
	require.NoError(t, err)
	assert.Equal(t, pack.Proved, s.Status)
	require.Len(t, s.Layouts, 1)
	// 13 x 6 + 2 x 25 = 128 square inches fill the small piece: 10 x 5 and 10 x 3
	// on one another, 6 x 8 beside them.
	assert.Equal(t, "small", p.Sheets[s.Layouts[0].Stock.Sheet].ID)
}
