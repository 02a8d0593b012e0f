package svc

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

func random(r *rand.Rand) *model.Problem {
	pr := &model.Problem{Stages: []int{0, 2, 3}[r.IntN(3)]}
	for range 1 + r.IntN(8) {
		it := model.Item{W: 1 + r.IntN(9), H: 1 + r.IntN(9), Demand: r.IntN(30)}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		pr.Items = append(pr.Items, it)
	}
	pr.Stocks = []model.Stock{
		{W: 9 + r.IntN(10), H: 9 + r.IntN(10), Cost: int64(1 + r.IntN(5)), Copies: model.Unlimited},
		{W: 9 + r.IntN(10), H: 9 + r.IntN(10), Copies: r.IntN(3)},
	}
	return pr
}

type sink struct{ patterns []model.Pattern }

func (s *sink) Offer(p model.Pattern) { s.patterns = append(s.patterns, p) }

// Every layout is a guillotine layout within the stages, solutions are complete
// and keep to the stock, and the cost never rises from pass to pass.
func TestSolutions(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for round := range 200 {
		pr := random(r)
		all := &sink{}
		e := New(pr, dp.NewScraps(pr), all, uint64(round))
		last := int64(-1)
		for e.Passes() < 8 {
			if _, more := e.Run(1); !more {
				break
			}
			s := e.Best()
			if s == nil {
				continue
			}
			cost := s.Cost(pr)
			require.True(t, last < 0 || cost <= last)
			last = cost
		}
		require.NotNil(t, e.Best(), "round %d: %+v", round, pr)
		free := 0
		for k, p := range e.Best().Patterns {
			if p.Stock == 1 {
				free += e.Best().Copies[k]
			}
		}
		require.LessOrEqual(t, free, pr.Stocks[1].Copies)
		for _, m := range e.Best().Missing(pr) {
			require.Zero(t, m)
		}
		for _, p := range all.patterns {
			st := pr.Stocks[p.Stock]
			_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
			require.NoError(t, err, "round %d: %+v", round, p)
		}
	}
}

// The second run of the same seed is the same; with an aim below what the area
// allows there is nothing to do.
func TestDeterminismAndAim(t *testing.T) {
	pr := random(rand.New(rand.NewPCG(43, 44)))
	solve := func() *model.Solution {
		e := New(pr, dp.NewScraps(pr), nil, 5)
		e.Run(20_000)
		return e.Best()
	}
	assert.Equal(t, solve(), solve())
	e := New(pr, dp.NewScraps(pr), nil, 5)
	e.Aim(0)
	_, more := e.Run(1000)
	assert.False(t, more)
	assert.Nil(t, e.Best())
}
