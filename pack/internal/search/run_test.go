package search_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
)

// What is reported while searching only gets better, and ends with the outcome; what
// is reported changes nothing.
func TestProgressOnlyGetsBetter(t *testing.T) {
	told := 0
	for seed := range uint64(6) {
		pr := random(rand.New(rand.NewPCG(seed, 22)))
		cost, bound, work := int64(1<<60), int64(0), int64(0)
		last := []int64{}
		o := search.Options{Effort: 100_000, Seed: seed, Workers: 2}
		quiet := search.New(pr, o)
		quiet.Run(context.Background(), 100_000)
		o.Progress = func(best *model.Solution, low, spent int64) {
			told++
			c := best.Cost(pr)
			require.LessOrEqual(t, c, cost)
			require.GreaterOrEqual(t, low, bound)
			require.GreaterOrEqual(t, spent, work)
			require.LessOrEqual(t, low, c)
			cost, bound, work = c, low, spent
			last = []int64{c, low}
		}
		s := search.New(pr, o)
		s.Run(context.Background(), 100_000)
		out := s.Outcome()
		require.Equal(t, []int64{out.Best.Cost(pr), out.Bound}, last)
		require.Equal(t, quiet.Outcome(), out)
	}
	assert.Greater(t, told, 6)
}

// unmet is a problem whose bound the search does not meet for long.
func unmet() *model.Problem {
	r := rand.New(rand.NewPCG(2, 24))
	pr := &model.Problem{Stocks: []model.Stock{{W: 36, H: 42, Copies: model.Unlimited, Cost: 1}}}
	for range 14 {
		pr.Items = append(pr.Items, model.Item{W: 3 + r.IntN(14), H: 3 + r.IntN(14), Demand: 1 + r.IntN(16), Turn: r.IntN(2) == 0})
	}
	return pr
}

// A lower cost to beat is passed to a search that has begun, a higher one changes
// nothing, and one that the bound meets ends it.
func TestAimIsLowered(t *testing.T) {
	pr := unmet()
	s := search.New(pr, search.Options{Effort: 2_000_000, Workers: 2})
	s.Run(context.Background(), 20_000)
	best := s.Outcome().Best
	require.NotNil(t, best)
	require.Greater(t, best.Cost(pr), s.Outcome().Bound)
	s.Aim(best.Cost(pr))
	s.Aim(best.Cost(pr) + 100)
	s.Run(context.Background(), 300_000)
	require.False(t, s.Over(), "engines still look for what is cheaper")
	assert.Same(t, best, s.Outcome().Best, "what costs as much is of no interest any more")
	s.Aim(s.Outcome().Bound)
	assert.True(t, s.Over())
	was := s.Outcome().Work
	s.Run(context.Background(), 300_000)
	assert.Equal(t, was, s.Outcome().Work, "nothing is done any more")
}

// Without any sheet, or any copy of one, nothing is found and nothing is to be done.
func TestNoSheets(t *testing.T) {
	for _, stocks := range [][]model.Stock{nil, {{W: 10, H: 10, Copies: 0, Cost: 1}}} {
		pr := &model.Problem{Items: []model.Item{{W: 2, H: 3, Demand: 1}}, Stocks: stocks}
		s := search.New(pr, search.Options{Effort: 50_000, Workers: 1})
		s.Run(context.Background(), 50_000)
		assert.Nil(t, s.Outcome().Best)
		assert.True(t, s.Over())
		require.NotNil(t, s.Outcome().Partial)
		assert.Equal(t, []int{1}, s.Outcome().Partial.Missing(pr))
	}
}

// A sheet cut at random into pieces: that one sheet does is found again where the first
// solutions take two.
func TestOneSheetOfTwo(t *testing.T) {
	two := 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 23))
		pr := &model.Problem{Stocks: []model.Stock{{W: 60, H: 48, Copies: model.Unlimited, Cost: 10}}}
		var part func(w, h, cuts int)
		part = func(w, h, cuts int) {
			switch {
			case cuts > 0 && w >= h && w > 3:
				c := 2 + r.IntN(w-3)
				part(c, h, cuts-1)
				part(w-c, h, cuts-1)
			case cuts > 0 && h > 3:
				c := 2 + r.IntN(h-3)
				part(w, c, cuts-1)
				part(w, h-c, cuts-1)
			default:
				pr.Items = append(pr.Items, model.Item{W: w, H: h, Demand: 1, Turn: w != h})
			}
		}
		part(60, 48, 3)
		var first int64
		s := search.New(pr, search.Options{Effort: 2_000_000, Seed: seed, Workers: 1, Progress: func(best *model.Solution, _, _ int64) {
			if first == 0 {
				first = best.Cost(pr)
			}
		}})
		s.Run(context.Background(), 2_000_000)
		require.Equal(t, int64(10), s.Outcome().Best.Cost(pr), "seed %d: %+v", seed, pr)
		require.True(t, s.Done())
		if first > 10 {
			two++
		}
	}
	assert.Greater(t, two, 15)
}

// Four pieces around a fifth fill a square, but no cut from edge to edge parts them
// where they may not be turned: by area one sheet would do.
func TestPinwheelTakesTwoSheets(t *testing.T) {
	for _, turn := range []bool{false, true} {
		pr := &model.Problem{
			Items:  []model.Item{{W: 20, H: 10, Demand: 2, Turn: turn}, {W: 10, H: 20, Demand: 2, Turn: turn}, {W: 10, H: 10, Demand: 1}},
			Stocks: []model.Stock{{W: 30, H: 30, Copies: model.Unlimited, Cost: 10}},
		}
		s := search.New(pr, search.Options{Effort: 2_000_000, Workers: 1})
		s.Run(context.Background(), 2_000_000)
		want := int64(20)
		if turn {
			want = 10 // four of 20 x 10 beside each other and on top, and the fifth
		}
		assert.Equal(t, want, s.Outcome().Best.Cost(pr))
		assert.Equal(t, want, s.Outcome().Bound)
	}
}
