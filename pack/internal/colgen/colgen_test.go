package colgen

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/svc"
)

// optimum is the least cost of a tiny problem by plain enumeration: every set of
// counts a sheet can hold, then every sequence of sheets.
type optimum struct {
	pr   *model.Problem
	memo map[[2]int]map[[3]int]bool
}

func (o *optimum) fillings(w, h int) map[[3]int]bool {
	key := [2]int{w, h}
	if s, ok := o.memo[key]; ok {
		return s
	}
	s := map[[3]int]bool{{}: true}
	for k, it := range o.pr.Items {
		if it.Demand > 0 && (it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h) {
			var c [3]int
			c[k] = 1
			s[c] = true
		}
	}
	join := func(p, q map[[3]int]bool) {
		for c := range p {
			for d := range q {
				f := c
				for k := range o.pr.Items {
					f[k] = min(f[k]+d[k], o.pr.Items[k].Demand)
				}
				s[f] = true
			}
		}
	}
	for a := 1; 2*a <= w; a++ {
		join(o.fillings(a, h), o.fillings(w-a, h))
	}
	for a := 1; 2*a <= h; a++ {
		join(o.fillings(w, a), o.fillings(w, h-a))
	}
	o.memo[key] = s
	return s
}

// least is -1 when the stocks do not hold everything.
func (o *optimum) least() int64 {
	type state struct {
		left   [3]int
		copies [2]int
	}
	var from state
	for k, it := range o.pr.Items {
		from.left[k] = it.Demand
	}
	for t, s := range o.pr.Stocks {
		from.copies[t] = s.Copies
	}
	memo := map[state]int64{}
	var solve func(state) int64
	solve = func(s state) int64 {
		if s.left == [3]int{} {
			return 0
		}
		if v, ok := memo[s]; ok {
			return v
		}
		best := int64(-1)
		for t, st := range o.pr.Stocks {
			if s.copies[t] == 0 {
				continue
			}
			for c := range o.fillings(st.W, st.H) {
				n := s
				if n.copies[t] > 0 {
					n.copies[t]--
				}
				for k := range n.left {
					n.left[k] = max(0, n.left[k]-c[k])
				}
				if n.left == s.left {
					continue
				}
				if v := solve(n); v >= 0 && (best < 0 || v+st.Cost < best) {
					best = v + st.Cost
				}
			}
		}
		memo[s] = best
		return best
	}
	return solve(from)
}

func tiny(r *rand.Rand) *model.Problem {
	pr := &model.Problem{}
	for range 1 + r.IntN(3) {
		it := model.Item{W: 1 + r.IntN(4), H: 1 + r.IntN(4), Demand: 1 + r.IntN(4)}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		pr.Items = append(pr.Items, it)
	}
	for range 1 + r.IntN(2) {
		s := model.Stock{W: 2 + r.IntN(5), H: 2 + r.IntN(5), Cost: int64(r.IntN(12)), Copies: model.Unlimited}
		if r.IntN(2) == 0 {
			s.Copies = r.IntN(4)
		}
		pr.Stocks = append(pr.Stocks, s)
	}
	return pr
}

func valid(t *testing.T, pr *model.Problem, s *model.Solution) {
	t.Helper()
	used := make([]int, len(pr.Stocks))
	for k, p := range s.Patterns {
		st := pr.Stocks[p.Stock]
		used[p.Stock] += s.Copies[k]
		_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
		require.NoError(t, err)
	}
	for _, m := range s.Missing(pr) {
		require.LessOrEqual(t, m, 0)
	}
	for k, st := range pr.Stocks {
		if st.Copies != model.Unlimited {
			require.LessOrEqual(t, used[k], st.Copies)
		}
	}
}

// The bound never exceeds the least cost, a solution never falls below it, and
// nothing is called infeasible that is not.
func TestBoundAgainstEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	met, complete := 0, 0
	for round := range 1000 {
		pr := tiny(r)
		want := (&optimum{pr, map[[2]int]map[[3]int]bool{}}).least()
		pr.Stages = []int{0, 0, 3}[round%3]
		e := New(pr, Options{Seed: uint64(round)})
		for spent := int64(0); spent < 3000; {
			n, more := e.Run(100)
			spent += n + 1
			if want >= 0 {
				require.LessOrEqual(t, e.Bound(), want, "round %d: %+v", round, pr)
				require.False(t, e.Infeasible(), "round %d: %+v", round, pr)
			}
			if !more {
				break
			}
		}
		if want < 0 {
			require.Nil(t, e.Best())
			continue
		}
		complete++
		if s := e.Best(); s != nil {
			valid(t, pr, s)
			require.GreaterOrEqual(t, s.Cost(pr), e.Bound())
			if pr.Stages == 0 {
				require.GreaterOrEqual(t, s.Cost(pr), want)
			}
			if s.Cost(pr) <= want {
				met++
			}
		}
	}
	assert.Greater(t, complete, 500)
	assert.Greater(t, met*100, complete*97, "%d of %d", met, complete)
}

// A coarse table bounds as rightly as an exact one, if less well: lengths are
// blown up so that the optimum stays what it was while rounding down to grains
// changes much.
func TestCoarseBoundAgainstEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	coarse := 0
	for range 400 {
		pr := tiny(r)
		want := (&optimum{pr, map[[2]int]map[[3]int]bool{}}).least()
		for k := range pr.Items {
			pr.Items[k].W, pr.Items[k].H = 11*pr.Items[k].W, 11*pr.Items[k].H
		}
		for k := range pr.Stocks {
			pr.Stocks[k].W, pr.Stocks[k].H = 11*pr.Stocks[k].W+r.IntN(11), 11*pr.Stocks[k].H+r.IntN(11)
		}
		p := newPricer(pr, dp.NewScraps(pr), 20)
		if p.grain > 1 {
			coarse++
		}
		for range 5 {
			prices := make([]float64, len(pr.Items))
			for k := range prices {
				prices[k] = r.Float64()
			}
			p.price(prices, 1)
			p.prove()
			b, feasible := lagrangian(pr, p.values, p.most)
			if want >= 0 {
				require.True(t, feasible)
				require.LessOrEqual(t, newPrices(pr).up(b), want)
			}
		}
	}
	assert.Greater(t, coarse, 50)
}

// Made-up prices, however bad, never give a wrong bound.
func TestLagrangianWithAnyPrices(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	for round := range 1000 {
		pr := tiny(r)
		o := &optimum{pr, map[[2]int]map[[3]int]bool{}}
		want := o.least()
		values, most := make([]int64, len(pr.Items)), make([]int64, len(pr.Stocks))
		for k := range values {
			values[k] = r.Int64N(1 << 40)
		}
		for k, s := range pr.Stocks {
			for c := range o.fillings(s.W, s.H) {
				var v int64
				for i := range values {
					v += int64(c[i]) * values[i]
				}
				most[k] = max(most[k], v)
			}
		}
		b, feasible := lagrangian(pr, values, most)
		if want >= 0 {
			require.True(t, feasible)
			require.LessOrEqual(t, b.Cmp(new(big.Rat).SetInt64(want)), 0, "round %d: %+v", round, pr)
			require.LessOrEqual(t, newPrices(pr).up(b), want)
		}
	}
}

// many is a problem of 40 fabric-like sizes on fat quarters in half inches.
func many(pieces int) *model.Problem {
	r := rand.New(rand.NewPCG(25, 26))
	pr := &model.Problem{Stocks: []model.Stock{{W: 36, H: 42, Copies: model.Unlimited, Cost: 1}}}
	for range 40 {
		it := model.Item{W: 3 + r.IntN(8), H: 3 + r.IntN(17), Demand: 1 + r.IntN(2*pieces/40)}
		it.Turn = it.W != it.H
		pr.Items = append(pr.Items, it)
	}
	return pr
}

// A hundred times the pieces take about the same work, to the first solution
// and to the end.
func TestWorkDoesNotGrowWithDemand(t *testing.T) {
	for _, pieces := range []int{1_000, 100_000} {
		pr := many(pieces)
		e := New(pr, Options{Seed: 1})
		spent := int64(0)
		for e.Best() == nil && spent < 100_000 {
			n, _ := e.Run(1000)
			spent += n
		}
		require.NotNil(t, e.Best(), "%d pieces", pieces)
		for more := true; more && spent < 400_000; {
			var n int64
			n, more = e.Run(10_000)
			spent += n
		}
		valid(t, pr, e.Best())
		assert.LessOrEqual(t, e.Best().Cost(pr), e.Bound()+1, "%d pieces", pieces)
	}
}

func TestSameSeedSameSolution(t *testing.T) {
	solve := func(quantum int64) *model.Solution {
		e := New(many(900), Options{Seed: 7})
		for spent := int64(0); spent < 60_000; {
			n, more := e.Run(quantum)
			spent += n
			if !more {
				break
			}
		}
		return e.Best()
	}
	assert.Equal(t, solve(1000), solve(1000))
}

// Where the bound is not met, the tail is asked, with what remains and what is
// left to pay, and what it answers is used.
func TestTail(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	open, won := 0, 0
	for round := 0; round < 3000 && open < 3; round++ {
		pr := tiny(r)
		want := (&optimum{pr, map[[2]int]map[[3]int]bool{}}).least()
		if want < 0 {
			continue
		}
		asked := 0
		better := &model.Solution{}
		var e *Engine
		e = New(pr, Options{Tail: func(res *model.Problem, target int64) *model.Solution {
			asked++
			require.Len(t, res.Items, len(pr.Items))
			if e.Best() != nil {
				require.Less(t, target, e.Best().Cost(pr))
			}
			better = svcBest(res)
			return better
		}})
		e.Run(300_000)
		if e.Best() == nil || e.Bound() >= e.Best().Cost(pr) {
			continue
		}
		open++
		require.Positive(t, asked)
		if better != nil {
			won++
		}
	}
	assert.Positive(t, open)
	assert.Positive(t, won)
}

func svcBest(pr *model.Problem) *model.Solution {
	e := svc.New(pr, dp.NewScraps(pr), nil, 1)
	e.Run(2000)
	return e.Best()
}

// Bad areas stay empty.
func TestBadAreas(t *testing.T) {
	pr := many(500)
	bad := model.Rect{X: 10, Y: 12, W: 5, H: 6}
	pr.Stocks = append(pr.Stocks, model.Stock{W: 30, H: 30, Copies: 3, Bad: []model.Rect{bad}})
	e := New(pr, Options{Seed: 1})
	e.Run(60_000)
	require.NotNil(t, e.Best())
	valid(t, pr, e.Best())
	held := 0
	for _, p := range e.Best().Patterns {
		if p.Stock == 1 {
			for _, q := range p.Placed {
				w, h := pr.Items[q.Item].Sides(q.Turned)
				x, y := int(q.X), int(q.Y)
				assert.False(t, x < bad.X+bad.W && bad.X < x+w && y < bad.Y+bad.H && bad.Y < y+h)
				held++
			}
		}
	}
	assert.Positive(t, held)
}

func BenchmarkPricingRound(b *testing.B) {
	pr := many(10_000)
	e := New(pr, Options{Seed: 1})
	e.Run(1)
	e.best = &model.Solution{} // skip the first solution
	e.cost = 1 << 40
	b.ResetTimer()
	for b.Loop() {
		e.round()
	}
}
