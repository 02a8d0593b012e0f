package pack_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// Arranged layouts are still right, and a session makes every cut of them once,
// each region after the cut that frees it, in no fewer passes than the bound.
func TestArrangedLayoutsAndTheirSession(t *testing.T) {
	problems := 150
	if testing.Short() {
		problems = 40
	}
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 21))
		p := randomProblem(r)
		p.Rules.Ruler, p.Rules.Flat = units.Length(r.IntN(3))*10*units.Inch, r.IntN(3) == 0
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10, Seed: uint64(seed)})
		require.NoError(t, err)
		alone := 0
		for _, l := range s.Layouts {
			alone += l.CutCount() * l.Copies
		}
		cloths := []pack.Cloth{{Problem: p, Layouts: s.Layouts}}
		pack.Arrange(cloths)
		s.Layouts = cloths[0].Layouts
		require.NoError(t, pack.Check(p, s), "seed %d", seed)
		cuts := 0
		for _, l := range s.Layouts {
			cuts += l.CutCount() * l.Copies
		}
		require.LessOrEqual(t, cuts, alone, "seed %d: putting in order adds no cut", seed)
		session := pack.NewSession(cloths)
		requireOrder(t, session, p.Rules, cuts)
		require.GreaterOrEqual(t, session.Passes, session.AtLeast, "seed %d", seed)
		again := []pack.Cloth{{Problem: p, Layouts: s.Layouts}}
		pack.Arrange(again)
		require.Equal(t, cloths, again, "seed %d: what is in order stays", seed)
	}
}

// requireOrder follows the jobs of one cloth: nothing is cut before it is free.
func requireOrder(t *testing.T, s pack.Session, rules pack.Rules, cuts int) {
	t.Helper()
	type region struct {
		layout int
		pack.Rect
	}
	free := map[region]bool{}
	edged := map[int]bool{}
	for _, j := range s.Jobs {
		count := 0
		for _, l := range j.Lots {
			count += l.Copies
			if j.Square {
				edged[l.Layout] = true
				continue
			}
			at := region{l.Layout, l.Rect}
			whole := l.Rect.X == 0 && l.Rect.Y == 0 && l.From == 0 && !free[at]
			require.True(t, whole || free[at], "%v is not free", l.Rect)
			require.Equal(t, [2]units.Length{j.W, j.H}, [2]units.Length{l.Rect.W, l.Rect.H})
			delete(free, at)
			r := l.Rect
			for range j.Cuts {
				part, rest := r, r
				if j.Axis == pack.X {
					part.W = j.Measure
					rest.X, rest.W = r.X+j.Measure+rules.Kerf, max(0, r.W-j.Measure-rules.Kerf)
				} else {
					part.H = j.Measure
					rest.Y, rest.H = r.Y+j.Measure+rules.Kerf, max(0, r.H-j.Measure-rules.Kerf)
				}
				free[region{l.Layout, part}] = true
				cuts -= l.Copies
				r = rest
			}
			free[region{l.Layout, r}] = true
		}
		require.Equal(t, j.Count, count)
		layers := max(rules.Layers, 1)
		require.LessOrEqual(t, j.Fold, layers)
		require.GreaterOrEqual(t, j.Stacks*(layers/j.Fold), j.Count)
		if !j.Square {
			require.Equal(t, j.Cuts*j.Lays*j.Stacks, j.Passes)
			length := j.H
			if j.Axis == pack.Y {
				length = j.W
			}
			if rules.Ruler > 0 {
				require.LessOrEqual(t, length, rules.Ruler*units.Length(j.Fold*j.Lays))
			}
			require.False(t, rules.Flat && j.Fold > 1)
		}
	}
	require.Zero(t, cuts, "every cut is made once")
}
