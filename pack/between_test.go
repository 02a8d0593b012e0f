package pack_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// With sheets beside a long roll not every length is tried; the bound holds for
// those between as well. A length between needs fewer fat quarters here, and was
// once overlooked.
func TestBoundHoldsBetweenTheLengthsTried(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		Pieces: []pack.Piece{
			{ID: "A", W: 3 * in, H: 14*in + 5*in/8, Demand: 49, Turn: true},
			{ID: "B", W: 4 * in, H: 5 * in, Demand: 977, Turn: true},
		},
		Sheets: []pack.Sheet{{ID: "fat quarter", W: 18 * in, H: 20 * in, Copies: pack.Unlimited, Price: 79}},
		Roll:   &pack.Roll{ID: "bolt", W: 40 * in, Step: units.Yard / 8, Price: 20, Per: units.Yard},
	}
	least := int64(1 << 60)
	var solutions []pack.Solution
	for _, share := range []int{1, 5, 20, 100} {
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: share})
		require.NoError(t, err)
		solutions = append(solutions, s)
		least = min(least, s.Cost)
	}
	for _, s := range solutions {
		assert.LessOrEqual(t, s.Bound, least)
	}
}
