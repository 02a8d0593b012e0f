package insert_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
)

func random(r *rand.Rand) *model.Problem {
	pr := &model.Problem{Stages: []int{0, 0, 2, 3}[r.IntN(4)]}
	for range 1 + r.IntN(6) {
		pr.Items = append(pr.Items, model.Item{W: 1 + r.IntN(12), H: 1 + r.IntN(12), Demand: r.IntN(9), Turn: r.IntN(2) == 0})
	}
	for range 1 + r.IntN(3) {
		st := model.Stock{W: 6 + r.IntN(20), H: 6 + r.IntN(20), Copies: r.IntN(4) - 1, Cost: int64(r.IntN(9))}
		if r.IntN(3) == 0 {
			st.Bad = append(st.Bad, model.Rect{X: r.IntN(st.W), Y: r.IntN(st.H), W: 1 + r.IntN(4), H: 1 + r.IntN(4)})
		}
		pr.Stocks = append(pr.Stocks, st)
	}
	return pr
}

// Every layout can be cut within the stages, keeps off bad areas and takes no
// more copies of anything than there are.
func TestInsertionIsValid(t *testing.T) {
	for seed := range 600 {
		pr := random(rand.New(rand.NewPCG(uint64(seed), 5)))
		for _, rule := range insert.Rules(1) {
			var all []*model.Solution
			for _, limit := range []int64{0, 6, 25, math.MaxInt64} {
				a, _ := insert.Together(t.Context(), pr, rule, limit)
				b, _ := insert.Repeated(t.Context(), pr, rule, limit)
				all = append(all, a, b)
			}
			for _, s := range all {
				used := make([]int, len(pr.Stocks))
				for i, p := range s.Patterns {
					st := pr.Stocks[p.Stock]
					used[p.Stock] += s.Copies[i]
					_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
					require.NoError(t, err, "seed %d, rule %+v", seed, rule)
					for _, q := range p.Placed {
						w, h := pr.Items[q.Item].Sides(q.Turned)
						require.True(t, !q.Turned || pr.Items[q.Item].Turn)
						for _, b := range st.Bad {
							x, y := int(q.X), int(q.Y)
							require.False(t, x < b.X+b.W && b.X < x+w && y < b.Y+b.H && b.Y < y+h, "seed %d", seed)
						}
					}
				}
				for i, n := range s.Missing(pr) {
					require.GreaterOrEqual(t, n, 0, "seed %d, item %d", seed, i)
				}
				for i, st := range pr.Stocks {
					require.True(t, st.Copies == model.Unlimited || used[i] <= st.Copies, "seed %d", seed)
				}
			}
		}
	}
}

// The work of repeating layouts does not grow with the copies.
func TestRepeatedWorkIsBounded(t *testing.T) {
	pr := &model.Problem{
		Items:  []model.Item{{W: 5, H: 5, Demand: 1000, Turn: true}, {W: 4, H: 21, Demand: 100, Turn: true}, {W: 3, H: 7, Demand: 999, Turn: true}},
		Stocks: []model.Stock{{W: 36, H: 42, Copies: model.Unlimited, Cost: 1}},
	}
	small, few := insert.Repeated(t.Context(), pr, insert.Rule{}, math.MaxInt64)
	for i := range pr.Items {
		pr.Items[i].Demand *= 1000
	}
	large, many := insert.Repeated(t.Context(), pr, insert.Rule{}, math.MaxInt64)
	assert.Positive(t, small.Sheets())
	assert.Greater(t, large.Sheets(), 900*small.Sheets())
	assert.Less(t, many, 3*few)
}

// A roll of 60,000 pieces in forty sizes: insertion by itself takes a thousand times
// this work. When it may not have it, or the context has ended, everything is cut all
// the same, and no more than a tenth of the cloth below the last piece is waste.
func TestInsertionEndsWithShelves(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	pr := &model.Problem{}
	var need int64
	for range 40 {
		it := model.Item{W: 20 + r.IntN(100), H: 20 + r.IntN(100), Demand: 1500, Turn: true}
		pr.Items = append(pr.Items, it)
		need += it.Area() * int64(it.Demand)
	}
	const width = 1344
	pr.Stocks = []model.Stock{{W: width, H: int(need / width * 10 / 9), Copies: 1}}
	ended, end := context.WithCancel(t.Context())
	end()
	for name, run := range map[string]func() (*model.Solution, int64){
		"no work":          func() (*model.Solution, int64) { return insert.Repeated(t.Context(), pr, insert.Rule{}, 0) },
		"some work":        func() (*model.Solution, int64) { return insert.Repeated(t.Context(), pr, insert.Rule{}, 300_000) },
		"an ended context": func() (*model.Solution, int64) { return insert.Repeated(ended, pr, insert.Rule{}, math.MaxInt64) },
		"together":         func() (*model.Solution, int64) { return insert.Together(ended, pr, insert.Rule{}, math.MaxInt64) },
	} {
		s, work := run()
		assert.Zero(t, s.Lacks(pr), name)
		assert.Less(t, work, int64(600_000), name)
	}
}

// Of five hundred free scraps, each of another size, those are cut that the pieces fill
// best. Without more work for more stocks many pieces lie on shelves, and of the cloth
// cut into 87 % is used instead of 97 %.
func TestManyScrapsAreChosenWell(t *testing.T) {
	pr := &model.Problem{Items: []model.Item{
		{W: 20, H: 20, Demand: 500, Turn: true}, {W: 16, H: 16, Demand: 300, Turn: true},
		{W: 16, H: 24, Demand: 300, Turn: true}, {W: 14, H: 84, Demand: 50, Turn: true},
	}}
	for i := range 500 {
		pr.Stocks = append(pr.Stocks, model.Stock{W: 64 + i*5%89, H: 48 + i*7%103, Copies: 1})
	}
	s, work := insert.Repeated(t.Context(), pr, insert.Rule{}, insert.Work(pr, 0))
	assert.Zero(t, s.Lacks(pr))
	var used, cloth int64
	for _, p := range s.Patterns {
		used += p.Area(pr)
		cloth += pr.Stocks[p.Stock].Area()
	}
	assert.Greater(t, float64(used)/float64(cloth), 0.9)
	assert.Less(t, work, insert.Work(pr, 0))
}
