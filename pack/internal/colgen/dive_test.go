package colgen

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// watch is a sink that derives again what every pattern promises.
type watch struct {
	t     *testing.T
	pr    *model.Problem
	said  string
	heard int
}

func (w *watch) Offer(p model.Pattern) {
	w.heard++
	st := w.pr.Stocks[p.Stock]
	_, err := model.Build(w.pr, st.W, st.H, w.pr.Stages, p.Placed)
	require.NoError(w.t, err, w.said)
	counts := make([]int, len(w.pr.Items))
	p.Count(counts)
	for k, n := range counts {
		require.LessOrEqual(w.t, n, w.pr.Items[k].Demand, w.said)
	}
	for _, q := range p.Placed {
		it := w.pr.Items[q.Item]
		require.True(w.t, it.Turn || !q.Turned, w.said)
		pw, ph := it.Sides(q.Turned)
		x, y := int(q.X), int(q.Y)
		for _, b := range st.Bad {
			require.False(w.t, x < b.X+b.W && b.X < x+pw && y < b.Y+b.H && b.Y < y+ph, w.said)
		}
	}
}

// varied is a problem whose relaxed solution is far from whole: few copies of many
// sizes, on an unlimited stock, a smaller limited one and one with a hole.
func varied(seed uint64, grain int) *model.Problem {
	r := rand.New(rand.NewPCG(seed, 33))
	pr := &model.Problem{Stocks: []model.Stock{
		{W: 36 * grain, H: 42 * grain, Copies: model.Unlimited, Cost: 7},
		{W: 36 * grain, H: 21 * grain, Copies: 4, Cost: 4},
		{W: 28 * grain, H: 30 * grain, Copies: 2, Cost: 1, Bad: []model.Rect{{X: 9 * grain, Y: 11 * grain, W: 4 * grain, H: 5 * grain}}},
	}}
	for range 18 {
		it := model.Item{W: 3*grain + r.IntN(9*grain), H: 3*grain + r.IntN(15*grain), Demand: 3 + r.IntN(6)}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		pr.Items = append(pr.Items, it)
	}
	return pr
}

// The search goes on where the bound is not met, by dives into what remains: what it
// offers on the way are layouts, its best solution is whole and only gets cheaper, and
// its bound only rises. On a fine grid sheets are filled without being bounded.
func TestDives(t *testing.T) {
	dived, quick, tails := 0, 0, 0
	for seed := range uint64(2) {
		pr := varied(seed, []int{1, 16}[seed%2])
		w := &watch{t: t, pr: pr, said: fmt.Sprintf("seed %d", seed)}
		e := New(pr, Options{Seed: seed, Sink: w, Tail: func(residual *model.Problem, target int64) *model.Solution {
			tails++
			require.Positive(t, residual.Copies())
			return svcBest(residual)
		}})
		cost, bound := int64(math.MaxInt64), int64(0)
		for more, spent := true, int64(0); more && spent < 250_000; {
			var n int64
			n, more = e.Run(20_000)
			spent += n
			if e.Best() != nil {
				require.LessOrEqual(t, e.Best().Cost(pr), cost, w.said)
				cost = e.Best().Cost(pr)
			}
			require.GreaterOrEqual(t, e.Bound(), bound, w.said)
			require.LessOrEqual(t, e.Bound(), cost, w.said)
			bound = e.Bound()
			if spent > 150_000 {
				// Of interest is now only what meets the bound.
				e.Aim(bound + 1)
			}
		}
		valid(t, pr, e.Best())
		for _, p := range e.Best().Patterns {
			w.Offer(p)
		}
		assert.LessOrEqual(t, cost, bound+bound/4, w.said)
		if e.tries > 1 {
			dived++
		}
		if e.pricer.quick != nil {
			quick++
		}
		assert.Greater(t, w.heard, 100, w.said)
	}
	assert.Positive(t, dived)
	assert.Positive(t, quick)
	assert.Positive(t, tails)
}

// A cost to beat that nothing beats: nothing cheaper is called a solution, and a bound
// that meets it ends the search.
func TestAimThatNothingBeats(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	ended, open := 0, 0
	for round := range 400 {
		pr := tiny(r)
		want := (&optimum{pr, map[[2]int]map[[3]int]bool{}}).least()
		if want < 0 {
			continue
		}
		e := New(pr, Options{Seed: uint64(round)})
		e.Aim(want)
		if _, more := e.Run(10_000); more {
			open++
		} else {
			ended++
			n, more := e.Run(10_000)
			require.False(t, more)
			require.Zero(t, n, "there is nothing left to do")
		}
		require.LessOrEqual(t, e.Bound(), want, "round %d: %+v", round, pr)
		if e.Best() != nil {
			require.GreaterOrEqual(t, e.Best().Cost(pr), want, "round %d: %+v", round, pr)
		}
	}
	assert.Greater(t, ended, 200)
	assert.Positive(t, open)
}

// In one stage a sheet holds a row or a column, and the search starts from the longer.
func TestOneStage(t *testing.T) {
	pr := &model.Problem{
		Items:  []model.Item{{W: 3, H: 5, Demand: 8}, {W: 7, H: 2, Demand: 9}},
		Stocks: []model.Stock{{W: 14, H: 10, Copies: model.Unlimited, Cost: 1}},
		Stages: 1,
	}
	e := New(pr, Options{})
	longest := []int{0, 0}
	for _, c := range e.master.counts {
		longest[0], longest[1] = max(longest[0], c[0]), max(longest[1], c[1])
	}
	assert.Equal(t, []int{4, 5}, longest, "four beside each other, five on top of each other")
	e.Run(20_000)
	valid(t, pr, e.Best())
	assert.Equal(t, int64(4), e.Best().Cost(pr), "two rows and two columns")
	assert.Equal(t, int64(4), e.Bound())
}
