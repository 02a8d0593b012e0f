package reselect

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// layouts of unit squares in a row: geometry does not matter here.
func row(stock int, counts ...int) model.Pattern {
	p := model.Pattern{Stock: stock}
	for k, n := range counts {
		for range n {
			p.Placed = append(p.Placed, model.Placed{Item: int32(k), X: int32(len(p.Placed))})
		}
	}
	return p
}

// covers is the least cost of covering left, by plain recursion.
func covers(pr *model.Problem, layouts []model.Pattern, left [3]int, copies [2]int, memo map[[5]int]int64) int64 {
	if left == [3]int{} {
		return 0
	}
	key := [5]int{left[0], left[1], left[2], copies[0], copies[1]}
	if v, ok := memo[key]; ok {
		return v
	}
	best := int64(1 << 40)
	for _, p := range layouts {
		if copies[p.Stock] == 0 {
			continue
		}
		n, c := left, copies
		if c[p.Stock] > 0 {
			c[p.Stock]--
		}
		for _, q := range p.Placed {
			n[q.Item] = max(0, n[q.Item]-1)
		}
		if n != left {
			best = min(best, pr.Stocks[p.Stock].Cost+covers(pr, layouts, n, c, memo))
		}
	}
	memo[key] = best
	return best
}

func TestChooseAgainstEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	met, possible := 0, 0
	for round := range 500 {
		pr := &model.Problem{Stocks: []model.Stock{{W: 20, H: 1, Copies: model.Unlimited, Cost: int64(1 + r.IntN(9))}, {W: 20, H: 1, Copies: r.IntN(4), Cost: int64(r.IntN(9))}}}
		var left [3]int
		for k := range left {
			left[k] = 1 + r.IntN(9)
			pr.Items = append(pr.Items, model.Item{W: 1, H: 1, Demand: left[k]})
		}
		pool := NewPool(pr, 100)
		var layouts []model.Pattern
		for range 3 + r.IntN(8) {
			p := row(r.IntN(2), r.IntN(4), r.IntN(4), r.IntN(4))
			layouts = append(layouts, p)
			pool.Offer(p)
		}
		want := covers(pr, layouts, left, [2]int{model.Unlimited, pr.Stocks[1].Copies}, map[[5]int]int64{})
		s, _ := pool.Choose(1<<39, 0, 100_000)
		if s == nil {
			continue
		}
		for _, m := range s.Missing(pr) {
			require.Zero(t, m, "round %d", round)
		}
		require.GreaterOrEqual(t, s.Cost(pr), want)
		possible++
		if s.Cost(pr) == want {
			met++
		}
		again, _ := pool.Choose(want, 0, 100_000)
		require.Nil(t, again, "nothing is cheaper than the least cost")
	}
	assert.Greater(t, possible, 300)
	assert.Equal(t, possible, met)
}

// Trimming leaves exactly the demands, whatever the surplus.
func TestTrim(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	for range 2000 {
		pr := &model.Problem{Stocks: []model.Stock{{W: 20, H: 1, Copies: model.Unlimited, Cost: 1}}, Items: make([]model.Item, 3)}
		s := &model.Solution{}
		for range 1 + r.IntN(4) {
			s.Add(row(0, r.IntN(4), r.IntN(4), r.IntN(4)), 1+r.IntN(20))
		}
		total := s.Missing(pr)
		for k := range pr.Items {
			pr.Items[k] = model.Item{W: 1, H: 1, Demand: r.IntN(1 - total[k])}
		}
		out := trim(pr, s)
		for _, m := range out.Missing(pr) {
			require.Zero(t, m)
		}
		require.LessOrEqual(t, out.Sheets(), s.Sheets())
	}
}

// A pool asked to keep little keeps fillings for every item.
func TestPrune(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	pr := &model.Problem{Stocks: []model.Stock{{W: 40, H: 1, Cost: 1, Copies: model.Unlimited}}, Items: make([]model.Item, 5)}
	for k := range pr.Items {
		pr.Items[k] = model.Item{W: 1, H: 1, Demand: 10}
	}
	pool := NewPool(pr, 20)
	pool.Offer(row(0, 0, 0, 0, 0, 1))
	for range 1000 {
		pool.Offer(row(0, r.IntN(9), r.IntN(9), r.IntN(9), r.IntN(9)))
	}
	assert.Less(t, pool.Len(), 40)
	s, _ := pool.Choose(1<<40, 0, 10_000)
	require.NotNil(t, s)
}
