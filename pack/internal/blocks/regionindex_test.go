package blocks

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// Every region is looked at by its measures, and the numbers are compared.
func TestRegionIndex(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 0))
	for range 300 {
		positions := func(length int) (out []int32) {
			for p := range length + 1 {
				if p == 0 || p == length || rng.IntN(2) == 0 {
					out = append(out, int32(p))
				}
			}
			return out
		}
		w, h := 2+rng.IntN(9), 2+rng.IntN(9)
		x, y := positions(w), positions(h)
		var bad []model.Rect
		for range 1 + rng.IntN(3) {
			b := model.Rect{X: rng.IntN(w), Y: rng.IntN(h)}
			b.W, b.H = 1+rng.IntN(w-b.X), 1+rng.IntN(h-b.Y)
			bad = append(bad, b)
		}
		g := newRegionIndex(x, y, bad, 1<<20)
		require.NotNil(t, g)
		dirty := 0
		for x0 := range x {
			for x1 := x0 + 1; x1 < len(x); x1++ {
				for y0 := range y {
					for y1 := y0 + 1; y1 < len(y); y1++ {
						a := model.Rect{X: int(x[x0]), Y: int(y[y0]), W: int(x[x1] - x[x0]), H: int(y[y1] - y[y0])}
						meet := false
						for _, b := range bad {
							meet = meet || meets(a, b)
						}
						q := region{int32(x0), int32(x1), int32(y0), int32(y1)}
						i, ok := g.find(q)
						require.Equal(t, meet, ok, "%v %v %v", a, bad, q)
						if !meet {
							continue
						}
						dirty++
						assert.Equal(t, q, g.list[i])
						for c := x0 + 1; c < x1; c++ {
							for _, part := range []region{{q.x0, int32(c), q.y0, q.y1}, {int32(c), q.x1, q.y0, q.y1}} {
								if j, ok := g.find(part); ok {
									assert.Less(t, j, i, "parts first")
								}
							}
						}
						for c := y0 + 1; c < y1; c++ {
							for _, part := range []region{{q.x0, q.x1, q.y0, int32(c)}, {q.x0, q.x1, int32(c), q.y1}} {
								if j, ok := g.find(part); ok {
									assert.Less(t, j, i, "parts first")
								}
							}
						}
					}
				}
			}
		}
		assert.Len(t, g.list, dirty)
		assert.Equal(t, region{0, int32(len(x) - 1), 0, int32(len(y) - 1)}, g.list[dirty-1], "the whole last")
		assert.NotNil(t, newRegionIndex(x, y, bad, dirty+1))
		assert.Nil(t, newRegionIndex(x, y, bad, dirty))
	}
}
