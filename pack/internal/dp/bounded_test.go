package dp

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// exact is the greatest value of a w x h rectangle within the counts left, by
// plain enumeration: every set of counts a rectangle can hold is kept.
type exact struct {
	items []model.Item
	memo  map[[2]int]map[[4]int]bool
	left  [4]int
}

func (e *exact) fillings(w, h int) map[[4]int]bool {
	key := [2]int{w, h}
	if s, ok := e.memo[key]; ok {
		return s
	}
	s := map[[4]int]bool{{}: true}
	for k, it := range e.items {
		if e.left[k] > 0 && (it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h) {
			var c [4]int
			c[k] = 1
			s[c] = true
		}
	}
	join := func(p, q map[[4]int]bool) {
		for c := range p {
		next:
			for d := range q {
				f := c
				for k := range f {
					if f[k] += d[k]; f[k] > e.left[k] {
						continue next
					}
				}
				s[f] = true
			}
		}
	}
	for a := 1; 2*a <= w; a++ {
		join(e.fillings(a, h), e.fillings(w-a, h))
	}
	for a := 1; 2*a <= h; a++ {
		join(e.fillings(w, a), e.fillings(w, h-a))
	}
	e.memo[key] = s
	return s
}

func (e *exact) best(w, h int, values []int64) (v int64) {
	for c := range e.fillings(w, h) {
		var u int64
		for k := range e.items {
			u += int64(c[k]) * values[k]
		}
		v = max(v, u)
	}
	return v
}

// Bounded fillings are layouts within the limits, never better than the
// enumerated optimum and within a twentieth of it on the whole; the table and the area bound
// are never below it.
func TestBoundedAgainstEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	const rounds = 1000
	var found, possible int64
	for range rounds {
		items, values := randomItems(r, 1+r.IntN(4), 5, 3)
		w, h := 1+r.IntN(9), 1+r.IntN(9)
		left, e := make([]int, len(items)), &exact{items: items, memo: map[[2]int]map[[4]int]bool{}}
		for k, it := range items {
			left[k], e.left[k] = it.Demand, it.Demand
		}
		want := e.best(w, h, values)
		placed := NewBounded(items).Fill(w, h, values, left)
		counts := make([]int, len(items))
		model.Pattern{Placed: placed}.Count(counts)
		for k := range counts {
			require.LessOrEqual(t, counts[k], left[k])
		}
		got := sum(placed, values)
		require.LessOrEqual(t, got, want)
		_, err := model.Build(&model.Problem{Items: items}, w, h, 0, placed)
		require.NoError(t, err)
		found, possible = found+got, possible+want
		tab := New(items, []Size{{w, h}}, 0)
		tab.Solve(values)
		require.GreaterOrEqual(t, tab.Value(w, h), want)
		require.GreaterOrEqual(t, AreaBound(items, values, left, int64(w*h)), want)
	}
	assert.Greater(t, found*1000, possible*950, "%d of %d", found, possible)
}

// Every copy is found room for when the sheet has it, many more than a byte
// counts.
func TestBoundedManyCopies(t *testing.T) {
	items := []model.Item{{W: 1, H: 1, Demand: 1000}}
	placed := NewBounded(items).Fill(20, 20, []int64{1}, []int{1000})
	assert.Len(t, placed, 400)
}

// Thinned positions lose fillings, never their validity.
func TestBoundedThinned(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 5 {
		items := make([]model.Item, 40)
		left, values := make([]int, len(items)), make([]int64, len(items))
		for k := range items {
			items[k] = model.Item{W: 60 + r.IntN(300), H: 60 + r.IntN(300), Demand: 3, Turn: true}
			left[k], values[k] = 3, items[k].Area()
		}
		f := NewBounded(items)
		placed := f.Fill(1501, 1303, values, left)
		require.LessOrEqual(t, len(f.g.x), 3*thinTo)
		_, err := model.Build(&model.Problem{Items: items}, 1501, 1303, 0, placed)
		require.NoError(t, err)
		assert.Greater(t, sum(placed, values), int64(1501*1303*93/100))
	}
}
