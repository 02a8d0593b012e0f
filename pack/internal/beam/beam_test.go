package beam

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// draw makes a problem of n sizes with sides up to side on w x h sheets.
func draw(rng *rand.Rand, n, side, w, h, demand, stages int, turn bool) *model.Problem {
	pr := &model.Problem{Stages: stages}
	seen := map[[2]int]bool{}
	for len(pr.Items) < n {
		iw, ih := 1+rng.IntN(min(side, w)), 1+rng.IntN(min(side, h))
		if seen[[2]int{iw, ih}] || turn && seen[[2]int{ih, iw}] {
			continue
		}
		seen[[2]int{iw, ih}] = true
		pr.Items = append(pr.Items, model.Item{
			W: iw, H: ih, Demand: 1 + rng.IntN(demand), Turn: turn && iw != ih,
			Value: int64(iw*ih + rng.IntN(20)),
		})
	}
	pr.Stocks = []model.Stock{{W: w, H: h, Copies: model.Unlimited, Cost: 1}}
	return pr
}

// check judges a solution by the model alone: cut trees within the stages,
// copies of sheets, and all pieces there (for Fill: not too many).
func check(t *testing.T, pr *model.Problem, goal Goal, sol *model.Solution) {
	t.Helper()
	used := make([]int, len(pr.Stocks))
	stages := pr.Stages
	if stages == 0 {
		stages = 3
	}
	for i, p := range sol.Patterns {
		st := pr.Stocks[p.Stock]
		used[p.Stock] += sol.Copies[i]
		_, err := model.Build(pr, st.W, st.H, stages, p.Placed)
		require.NoError(t, err)
	}
	for i, n := range used {
		if c := pr.Stocks[i].Copies; c != model.Unlimited {
			require.LessOrEqual(t, n, c)
		}
	}
	for _, n := range sol.Missing(pr) {
		if goal == Fill {
			require.GreaterOrEqual(t, n, 0)
		} else {
			require.Zero(t, n)
		}
	}
}

func TestTinyAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for n := range 150 {
		w, h := 4+rng.IntN(8), 4+rng.IntN(8)
		stages := []int{0, 2, 3}[n%3]
		pr := draw(rng, 2+rng.IntN(3), 9, w, h, 1, stages, n%2 == 0)
		b := newBrute(pr)
		if n%4 == 1 {
			pr.Stocks[0].Cost = int64(w * h)
			pr.Stocks = append(pr.Stocks,
				model.Stock{W: h, H: w, Copies: 1, Cost: int64(w*h) - 1},
				model.Stock{W: 12, H: 12, Copies: model.Unlimited, Cost: 150},
				model.Stock{W: 4, H: 9, Copies: 1, Cost: 0})
		}
		for _, goal := range []Goal{Pack, Strip, Fill} {
			name := fmt.Sprintf("%d goal %d: %+v", n, goal, pr)
			q := *pr
			if goal == Strip {
				q.Stocks = []model.Stock{{W: w, H: 60, Copies: 1}}
			}
			s := New(&q, Options{Goal: goal})
			_, more := s.Run(500_000)
			require.False(t, more, name)
			require.True(t, s.Exhausted(), name)
			want := map[Goal]func() int64{
				Pack:  b.cost,
				Strip: func() int64 { return b.height(w) },
				Fill:  func() int64 { return b.value(w, h) },
			}[goal]()
			if goal == Strip && !everyFits(pr, w) {
				require.Nil(t, s.Best(), name)
				continue
			}
			require.NotNil(t, s.Best(), name)
			assert.Equal(t, want, s.Value(), name)
			check(t, &q, goal, s.Best())
			if goal == Pack {
				assert.Equal(t, s.Value(), s.Best().Cost(&q), name)
			}
		}
	}
}

func everyFits(pr *model.Problem, w int) bool {
	for _, it := range pr.Items {
		if it.W > w && !(it.Turn && it.H <= w) {
			return false
		}
	}
	return true
}

func TestSolutionsAreValid(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for n := range 24 {
		pr := draw(rng, 5+rng.IntN(30), 30, 40+rng.IntN(20), 40+rng.IntN(20), 6, []int{0, 2, 3}[n%3], n%2 == 0)
		if n%4 == 0 {
			pr.Stocks = append(pr.Stocks, model.Stock{W: 35, H: 35, Copies: 2, Cost: 0})
		}
		for _, goal := range []Goal{Pack, Strip, Fill} {
			q := *pr
			if goal == Strip {
				q.Stocks = []model.Stock{{W: 60, H: 5000, Copies: 1}}
			}
			s := New(&q, Options{Goal: goal, Seed: uint64(n)})
			s.Run(30_000)
			require.NotNil(t, s.Best())
			check(t, &q, goal, s.Best())
		}
	}
}

// open is a problem that is not solved to the end within the tests' budgets.
func open() *model.Problem {
	return draw(rand.New(rand.NewPCG(5, 5)), 100, 30, 60, 60, 1, 3, false)
}

// The state reached depends only on the sum of the budgets.
func TestQuantaDoNotMatter(t *testing.T) {
	pr := open()
	whole, parts := New(pr, Options{}), New(pr, Options{})
	spent, more := whole.Run(200_000)
	require.True(t, more)
	var sum int64
	for given := int64(0); given < 200_000; given += 700 {
		n, _ := parts.Run(min(700, 200_000-given))
		sum += n
	}
	assert.Equal(t, spent, sum)
	assert.Equal(t, whole.Best(), parts.Best())
	assert.Equal(t, whole.configs, parts.configs)
	assert.Equal(t, whole.pass.trail, parts.pass.trail)
	assert.InDelta(t, 200_000, spent, 1_000)
}

type gathered []model.Pattern

func (g *gathered) Offer(p model.Pattern) { *g = append(*g, p) }

func TestAimAndSink(t *testing.T) {
	pr := open()
	free := New(pr, Options{})
	free.Run(50_000)
	require.NotNil(t, free.Best())

	// Nothing as dear as the aim is ever taken, and what is cut off is offered.
	var g gathered
	aimed := New(pr, Options{Sink: &g})
	aimed.Aim(free.Value())
	aimed.Run(50_000)
	if aimed.Best() != nil {
		assert.Less(t, aimed.Best().Cost(pr), free.Value())
	}
	require.NotEmpty(t, g)
	for _, p := range g {
		_, err := model.Build(pr, 60, 60, 3, p.Placed)
		require.NoError(t, err)
		n := make([]int, len(pr.Items))
		p.Count(n)
		for i := range n {
			require.LessOrEqual(t, n[i], pr.Items[i].Demand)
		}
	}

	// An aim below what the area allows ends the search.
	var area int64
	for _, it := range pr.Items {
		area += it.Area() * int64(it.Demand)
	}
	hopeless := New(pr, Options{})
	hopeless.Aim((area + 3599) / 3600)
	_, more := hopeless.Run(50_000)
	assert.False(t, more)
	assert.Nil(t, hopeless.Best())
	assert.True(t, hopeless.Exhausted())
}

func TestNothingToDo(t *testing.T) {
	one := []model.Item{{W: 5, H: 5, Demand: 1}}
	for name, pr := range map[string]*model.Problem{
		"no pieces":     {Stocks: []model.Stock{{W: 9, H: 9, Copies: 1, Cost: 1}}},
		"no sheets":     {Items: one},
		"spoiled sheet": {Items: one, Stocks: []model.Stock{{W: 9, H: 9, Copies: 1, Cost: 1, Bad: []model.Rect{{W: 1, H: 1}}}}},
		"too small":     {Items: one, Stocks: []model.Stock{{W: 4, H: 9, Copies: 1, Cost: 1}}},
		"one too large": {Items: []model.Item{{W: 5, H: 5, Demand: 1}, {W: 5, H: 10, Demand: 1}},
			Stocks: []model.Stock{{W: 9, H: 9, Copies: 2, Cost: 1}}},
		"too few": {Items: []model.Item{{W: 5, H: 5, Demand: 2}}, Stocks: []model.Stock{{W: 5, H: 5, Copies: 1, Cost: 1}}},
	} {
		s := New(pr, Options{})
		spent, more := s.Run(100_000)
		assert.False(t, more, name)
		assert.Nil(t, s.Best(), name)
		assert.Less(t, spent, int64(100_000), name)
	}
}

// BenchmarkExpand measures one node expanded, levels and passes included.
func BenchmarkExpand(b *testing.B) {
	pr := open()
	pr.Stocks = []model.Stock{{W: 60, H: 2000, Copies: 1}}
	s := New(pr, Options{Goal: Strip, Width: 500})
	s.Run(3_000_000) // buffers grown
	before := s.spent
	b.ReportAllocs()
	for b.Loop() {
		s.step()
	}
	require.False(b, s.closed)
	b.ReportMetric(float64(s.spent-before)/float64(b.N), "counted-ns/op")
}
