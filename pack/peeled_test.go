package pack_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// cutFrom cuts w x h inches from edge to edge at random into n pieces that may be
// turned, none narrower than 2 inches.
func cutFrom(r *rand.Rand, w, h, n int) []pack.Piece {
	parts := [][2]int{{w, h}}
	for len(parts) < n {
		i, axis := r.IntN(len(parts)), r.IntN(2)
		p := parts[i]
		if p[axis] < 4 || p[0]*p[1] < w*h/n {
			continue
		}
		a, b := p, p
		a[axis] = 2 + r.IntN(p[axis]-3)
		b[axis] -= a[axis]
		parts[i] = a
		parts = append(parts, b)
	}
	var out []pack.Piece
	for i, p := range parts {
		out = append(out, pack.Piece{ID: fmt.Sprint(i), W: units.Inch * units.Length(p[0]), H: units.Inch * units.Length(p[1]), Demand: 1, Turn: true})
	}
	return out
}

// Pieces cut from a length of a roll come from that length again, or from little
// more, on one core as on two.
func TestManyDifferentPiecesWasteNextToNothing(t *testing.T) {
	rolls, again := 6, 0
	if testing.Short() {
		rolls = 2
	}
	for seed := range rolls {
		r := rand.New(rand.NewPCG(uint64(seed), 67))
		p := pack.Problem{
			Pieces: cutFrom(r, 42, 72, 70+r.IntN(50)),
			Roll:   &pack.Roll{W: units.Inch * 42, Step: units.Inch, Price: 100, Per: units.Inch, Most: units.Inch * 200},
		}
		var found []pack.Solution
		for _, workers := range []int{1, 2} {
			s, err := pack.Solve(context.Background(), p, pack.Options{Share: 40, Seed: uint64(seed), Workers: workers})
			require.NoError(t, err)
			found = append(found, s)
		}
		require.Equal(t, found[0], found[1], "seed %d", seed)
		assert.LessOrEqual(t, found[0].Cost, int64(7_300), "seed %d", seed)
		if found[0].Status == pack.Proved {
			again++
		}
	}
	t.Logf("%d of %d proved best", again, rolls)
	assert.GreaterOrEqual(t, again, rolls/2)
}
