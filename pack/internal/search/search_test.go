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

func random(r *rand.Rand) *model.Problem {
	pr := &model.Problem{Stocks: []model.Stock{{W: 30, H: 24, Copies: model.Unlimited, Cost: 3}, {W: 20, H: 20, Copies: 2, Cost: 1}}}
	for range 4 + r.IntN(12) {
		pr.Items = append(pr.Items, model.Item{W: 3 + r.IntN(14), H: 3 + r.IntN(14), Demand: 1 + r.IntN(4), Turn: r.IntN(2) == 0})
	}
	return pr
}

// Going on does not lose anything, bounds only rise, and the cost never lies
// below them.
func TestRunOnAndOn(t *testing.T) {
	for seed := range uint64(20) {
		pr := random(rand.New(rand.NewPCG(seed, 21)))
		s := search.New(pr, search.Options{Effort: 200_000, Seed: seed, Workers: 2})
		cost, bound := int64(1<<60), int64(0)
		for range 6 {
			s.Run(context.Background(), 20_000)
			out := s.Outcome()
			require.NotNil(t, out.Best)
			require.LessOrEqual(t, out.Best.Cost(pr), cost)
			require.GreaterOrEqual(t, out.Bound, bound)
			cost, bound = out.Best.Cost(pr), out.Bound
			require.GreaterOrEqual(t, cost, bound)
			for i, n := range out.Best.Missing(pr) {
				require.LessOrEqual(t, n, 0, "item %d", i)
			}
		}
	}
}

// A cost to beat that nothing beats ends the search without a solution.
func TestAimThatNothingReaches(t *testing.T) {
	pr := random(rand.New(rand.NewPCG(3, 21)))
	s := search.New(pr, search.Options{Effort: 200_000, Workers: 1})
	s.Aim(s.Outcome().Bound)
	s.Run(context.Background(), 200_000)
	assert.True(t, s.Done())
	assert.Nil(t, s.Outcome().Best)
}

// Five squares of 6 do not fit one sheet of 12 x 12, though four do.
func TestImpossible(t *testing.T) {
	pr := &model.Problem{
		Items:  []model.Item{{W: 6, H: 6, Demand: 5}},
		Stocks: []model.Stock{{W: 12, H: 12, Copies: 1, Cost: 1}},
	}
	s := search.New(pr, search.Options{Effort: 200_000, Workers: 1})
	s.Run(context.Background(), 200_000)
	assert.Nil(t, s.Outcome().Best)
	require.NotNil(t, s.Outcome().Partial)
	assert.Equal(t, []int{1}, s.Outcome().Partial.Missing(pr))
	assert.True(t, s.Impossible())
	pr.Items[0].Demand = 4
	s = search.New(pr, search.Options{Effort: 200_000, Workers: 1})
	s.Run(context.Background(), 200_000)
	assert.True(t, s.Done())
}

// A context that has ended still gives the first solution.
func TestStoppedBeforeItBegins(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	pr := random(rand.New(rand.NewPCG(5, 21)))
	s := search.New(pr, search.Options{Effort: 200_000, Workers: 1})
	s.Run(ctx, 200_000)
	assert.NotNil(t, s.Outcome().Best)
}
