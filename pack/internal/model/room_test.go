package model_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// Bad regions that overlap, touch or lie partly or wholly beside the sheet: the room
// is the number of unit squares that none of them covers.
func TestRoomCountsEverySquareOnce(t *testing.T) {
	overlapping, outside := 0, 0
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 31))
		st := model.Stock{W: 1 + r.IntN(12), H: 1 + r.IntN(12)}
		for range r.IntN(6) {
			st.Bad = append(st.Bad, model.Rect{X: r.IntN(st.W+4) - 3, Y: r.IntN(st.H+4) - 3, W: 1 + r.IntN(6), H: 1 + r.IntN(6)})
		}
		want, covered := int64(0), 0
		for x := range st.W {
			for y := range st.H {
				if over := hits(st.Bad, x, y); over == 0 {
					want++
				} else {
					covered += over
				}
			}
		}
		require.Equal(t, want, st.Room(), "seed %d: %+v", seed, st)
		sum := 0
		for _, b := range st.Bad {
			sum += b.W * b.H
		}
		if int64(covered) > st.Area()-want {
			overlapping++
		}
		if sum > covered {
			outside++
		}
	}
	assert.Greater(t, overlapping, 50)
	assert.Greater(t, outside, 50)
	whole := model.Stock{W: 7, H: 3}
	assert.Equal(t, int64(21), whole.Room())
}

// hits is how many of the regions cover the unit square at x, y.
func hits(bad []model.Rect, x, y int) (n int) {
	for _, b := range bad {
		if b.X <= x && x < b.X+b.W && b.Y <= y && y < b.Y+b.H {
			n++
		}
	}
	return n
}
