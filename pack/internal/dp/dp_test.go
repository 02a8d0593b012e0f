package dp

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// brute is the plain recursion over every whole cut position, without any of
// the table's shortcuts. stages < 0 is no limit.
type brute struct {
	items []model.Item
	value []int64
	memo  map[[4]int]int64
}

func (b *brute) single(w, h int) (v int64) {
	for k, it := range b.items {
		if it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h {
			v = max(v, b.value[k])
		}
	}
	return v
}

func (b *brute) free(w, h int) int64 {
	key := [4]int{w, h, -1, 0}
	if v, ok := b.memo[key]; ok {
		return v
	}
	v := b.single(w, h)
	for a := 1; a < w; a++ {
		v = max(v, b.free(a, h)+b.free(w-a, h))
	}
	for a := 1; a < h; a++ {
		v = max(v, b.free(w, a)+b.free(w, h-a))
	}
	b.memo[key] = v
	return v
}

// staged cuts along axis first.
func (b *brute) staged(w, h, stages, axis int) int64 {
	if stages == 0 {
		return b.single(w, h)
	}
	key := [4]int{w, h, stages, axis}
	if v, ok := b.memo[key]; ok {
		return v
	}
	v := b.staged(w, h, stages-1, 1-axis)
	if axis == 0 {
		for a := 1; a < w; a++ {
			v = max(v, b.staged(a, h, stages-1, 1)+b.staged(w-a, h, stages, 0))
		}
	} else {
		for a := 1; a < h; a++ {
			v = max(v, b.staged(w, a, stages-1, 0)+b.staged(w, h-a, stages, 1))
		}
	}
	b.memo[key] = v
	return v
}

func (b *brute) best(w, h, stages int) int64 {
	if stages == 0 {
		return b.free(w, h)
	}
	return max(b.staged(w, h, stages, 0), b.staged(w, h, stages, 1))
}

func randomItems(r *rand.Rand, n, side, demand int) ([]model.Item, []int64) {
	items, values := make([]model.Item, n), make([]int64, n)
	for k := range items {
		it := model.Item{W: 1 + r.IntN(side), H: 1 + r.IntN(side), Demand: 1 + r.IntN(demand)}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		items[k] = it
		values[k] = int64(r.IntN(2 * it.W * it.H))
	}
	return items, values
}

func sum(placed []model.Placed, values []int64) (v int64) {
	for _, p := range placed {
		v += values[p.Item]
	}
	return v
}

// The table equals the plain recursion for every rectangle of a few sheets, and
// what it recovers is a layout of that value and of no more stages.
func TestTableAgainstPlainRecursion(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for round := range 3000 {
		stages := round % 5
		items, values := randomItems(r, 1+r.IntN(4), 7, 3)
		for k := range items {
			items[k].Demand = 400
		}
		sheets := []Size{{1 + r.IntN(14), 1 + r.IntN(14)}}
		if r.IntN(2) == 0 {
			sheets = append(sheets, Size{1 + r.IntN(14), 1 + r.IntN(14)})
		}
		tab := New(items, sheets, stages)
		tab.Solve(make([]int64, len(items))) // a second Solve must not remember the first
		tab.Solve(values)
		b := &brute{items, values, map[[4]int]int64{}}
		pr := &model.Problem{Items: items}
		for _, s := range sheets {
			for w := 0; w <= s.W; w++ {
				for h := 0; h <= s.H; h++ {
					require.Equal(t, b.best(w, h, stages), tab.Value(w, h), "round %d: %d x %d, %d stages of %v worth %v", round, w, h, stages, items, values)
				}
			}
			placed := tab.Pattern(s.W, s.H)
			require.Equal(t, tab.Value(s.W, s.H), sum(placed, values), "round %d", round)
			_, err := model.Build(pr, s.W, s.H, stages, placed)
			require.NoError(t, err, "round %d: %d x %d, %d stages, %v %v", round, s.W, s.H, stages, items, placed)
		}
	}
}

// With demands the table bounds what is possible, and capped fillings are
// layouts within them.
func TestCapped(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for round := range 3000 {
		stages := round % 5
		items, values := randomItems(r, 1+r.IntN(5), 8, 3)
		w, h := 1+r.IntN(20), 1+r.IntN(20)
		tab := New(items, []Size{{w, h}}, stages)
		tab.Solve(values)
		left := make([]int, len(items))
		for k := range left {
			left[k] = r.IntN(items[k].Demand + 1)
		}
		placed := tab.Capped(w, h, left)
		counts := make([]int, len(items))
		model.Pattern{Placed: placed}.Count(counts)
		for k := range counts {
			require.LessOrEqual(t, counts[k], left[k])
		}
		assert.LessOrEqual(t, sum(placed, values), tab.Value(w, h))
		_, err := model.Build(&model.Problem{Items: items}, w, h, stages, placed)
		require.NoError(t, err, "round %d: %d x %d, %d stages, %v %v", round, w, h, stages, items, placed)
	}
}
