package pack_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// Sizes in inches and centimetres together have a grid so fine that engines place
// on a coarser one: the gaps, narrower than the kerf, must not cost a stage.
func TestKerfBetweenInchesAndCentimetres(t *testing.T) {
	problems := 40
	if testing.Short() {
		problems = 8
	}
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 22))
		p := pack.Problem{Rules: pack.Rules{Kerf: units.Inch / 16, Stages: 2 + seed%2}}
		for i := range 2 + r.IntN(3) {
			unit := []units.Length{units.Inch / 4, units.Centimetre / 2}[i%2]
			p.Pieces = append(p.Pieces, pack.Piece{
				ID: fmt.Sprint(i), W: unit * units.Length(4+r.IntN(14)), H: unit * units.Length(4+r.IntN(30)), Demand: 4 + r.IntN(60), Turn: r.IntN(3) > 0,
			})
		}
		p.Sheets = []pack.Sheet{{ID: "fat quarter", W: units.Inch * 21 * 975 / 1000, H: units.Inch * 18, Copies: pack.Unlimited, Price: 300}}
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10, Seed: uint64(seed)})
		require.NoError(t, err, "seed %d", seed)
		require.NotEqual(t, pack.Short, s.Status, "seed %d", seed)
	}
}

// A piece that a bad area keeps less than a kerf from the edge once had a cut
// planned beyond it.
func TestKerfBetweenTheEdgeAndABadArea(t *testing.T) {
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "A", W: 3, H: 2, Demand: 2, Turn: true}, {ID: "B", W: 1, H: 2, Demand: 3}},
		Sheets: []pack.Sheet{
			{ID: "small", W: 3, H: 4, Copies: 2, Free: true, Bad: []pack.Rect{{X: 1, Y: 1, W: 1, H: 1}, {X: 0, Y: 3, W: 1, H: 2}}},
			{ID: "large", W: 8, H: 7, Squared: pack.Margins{Right: 1}, Copies: 1, Free: true, Bad: []pack.Rect{{X: 2, Y: 1, W: 1, H: 2}, {X: 0, Y: 6, W: 2, H: 2}}},
		},
		Rules: pack.Rules{Kerf: 2},
		Goal:  pack.LeastArea,
	}
	_, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 6, Workers: 1})
	require.NoError(t, err)
}
