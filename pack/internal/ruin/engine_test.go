package ruin

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/random"
)

// checkSolution derives everything a solution promises from the places of its
// pieces.
func checkSolution(t require.TestingT, pr *model.Problem, sol *model.Solution) {
	for i, n := range sol.Missing(pr) {
		require.Zero(t, n, "item %d", i)
	}
	used := make([]int, len(pr.Stocks))
	for i, p := range sol.Patterns {
		used[p.Stock] += sol.Copies[i]
		st := pr.Stocks[p.Stock]
		_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
		require.NoError(t, err)
		for _, q := range p.Placed {
			require.False(t, q.Turned && !pr.Items[q.Item].Turn)
		}
	}
	for k, st := range pr.Stocks {
		require.True(t, st.Copies == model.Unlimited || used[k] <= st.Copies)
	}
}

type patterns struct {
	pr *model.Problem
	t  require.TestingT
	n  int
}

func (p *patterns) Offer(q model.Pattern) {
	p.n++
	st := p.pr.Stocks[q.Stock]
	_, err := model.Build(p.pr, st.W, st.H, p.pr.Stages, q.Placed)
	require.NoError(p.t, err)
}

func TestSolutionsAreValid(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		pr := problems.Draw(t, "problem")
		sink := &patterns{pr: pr, t: t}
		e := New(pr, Options{Seed: rapid.Uint64().Draw(t, "seed"), Sink: sink})
		e.Run(500)
		sol := e.Best()
		if sol == nil {
			return
		}
		found++
		checkSolution(t, pr, sol)
		require.GreaterOrEqual(t, sink.n, len(sol.Patterns))

		// From a solution on, nothing gets worse.
		warm := New(pr, Options{Warm: sol})
		warm.Run(0)
		require.NotNil(t, warm.Best())
		checkSolution(t, pr, warm.Best())
		require.LessOrEqual(t, warm.Best().Cost(pr), sol.Cost(pr))
	})
	require.Positive(t, found)
}

// TestQuantaDoNotMatter runs the same work in one go and in pieces.
func TestQuantaDoNotMatter(t *testing.T) {
	pr := mixed(60, false)
	whole := New(pr, Options{Seed: 3})
	whole.Run(20000)
	parts := New(pr, Options{Seed: 3})
	for parts.s.work < whole.s.work {
		parts.Run(1)
	}
	require.Equal(t, whole.s.work, parts.s.work)
	assert.Equal(t, whole.Best(), parts.Best())
	assert.Equal(t, whole.rnd, parts.rnd)

	again := New(mixed(60, false), Options{Seed: 3})
	again.Run(20000)
	assert.Equal(t, whole.Best(), again.Best())
}

// TestTheStartKeepsToItsBudget fills sheets with hundreds of pieces, which takes
// far longer than a call may.
func TestTheStartKeepsToItsBudget(t *testing.T) {
	pr := mixed(60, true)
	for i := range pr.Items {
		pr.Items[i].Demand = 30
	}
	pr.Stocks[0].W, pr.Stocks[0].H = 1000, 1000
	e := New(pr, Options{})
	calls := 0
	for ; !e.started; calls++ {
		spent, more := e.Run(100)
		require.True(t, more)
		require.LessOrEqual(t, spent, int64(200))
	}
	assert.Greater(t, calls, 100)
	checkSolution(t, pr, e.Best())
}

func TestAimAndBoundEndTheSearch(t *testing.T) {
	pr := mixed(40, true)
	e := New(pr, Options{})
	more := true
	for !e.started {
		_, more = e.Run(1)
	}
	require.True(t, more)
	cost := e.Best().Cost(pr)
	e.Aim(cost - 1)
	assert.LessOrEqual(t, e.s.cost, cost-2)
	e.Aim(0)
	_, more = e.Run(1000)
	assert.False(t, more)
	assert.Equal(t, cost, e.Best().Cost(pr))

	e = New(pr, Options{LowerBound: cost})
	_, more = e.Run(math.MaxInt32)
	assert.False(t, more)

	pr.Items = append(pr.Items, model.Item{W: 101, H: 1, Demand: 1})
	spent, more := New(pr, Options{}).Run(1000)
	assert.Zero(t, spent)
	assert.False(t, more)
}

// mixed is a bin-packing problem with sides drawn from 1 to 100 on 100 x 100
// sheets, as the sixth class of Berkey & Wang, "Two-dimensional finite
// bin-packing algorithms", Journal of the Operational Research Society 38(5),
// 1987, has them, on smaller sheets.
func mixed(n int, turn bool) *model.Problem {
	rnd := random.Stream(5)
	pr := &model.Problem{Stocks: []model.Stock{{W: 100, H: 100, Cost: 1, Copies: model.Unlimited}}}
	for range n {
		w, h := 1+rnd.Below(100), 1+rnd.Below(100)
		pr.Items = append(pr.Items, model.Item{W: w, H: h, Demand: 1, Turn: turn && w != h})
	}
	return pr
}

// TestTinyProblemsAreSolved compares with an enumeration of all guillotine
// layouts of all sets of pieces.
func TestTinyProblemsAreSolved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pr := tiny(t)
		want := exhaustive(pr)
		got := int64(math.MaxInt64)
		e := New(pr, Options{Seed: 1, LowerBound: want})
		e.Run(20000)
		if sol := e.Best(); sol != nil {
			checkSolution(t, pr, sol)
			got = sol.Cost(pr)
		}
		require.Equal(t, want, got)
	})
}

// tiny draws up to six single pieces and two stocks, the first limited.
func tiny(t *rapid.T) *model.Problem {
	pr := &model.Problem{}
	side := rapid.IntRange(1, 5)
	for range rapid.IntRange(1, 6).Draw(t, "items") {
		it := model.Item{W: side.Draw(t, "w"), H: side.Draw(t, "h"), Demand: 1}
		it.Turn = it.W != it.H && rapid.Bool().Draw(t, "turn")
		pr.Items = append(pr.Items, it)
	}
	pr.Stocks = []model.Stock{
		{W: rapid.IntRange(3, 8).Draw(t, "W"), H: rapid.IntRange(3, 8).Draw(t, "H"), Cost: 2, Copies: rapid.IntRange(1, 2).Draw(t, "copies")},
		{W: rapid.IntRange(3, 8).Draw(t, "W"), H: rapid.IntRange(3, 8).Draw(t, "H"), Cost: int64(rapid.IntRange(1, 4).Draw(t, "cost")), Copies: model.Unlimited},
	}
	return pr
}

// exhaustive is the least cost of cutting all pieces, MaxInt64 if impossible.
func exhaustive(pr *model.Problem) int64 {
	n := 1 << len(pr.Items)
	first, second := layouts(pr, 0), layouts(pr, 1)
	// cost[c][set] is the least cost of a set with c copies of the first stock.
	copies := pr.Stocks[0].Copies
	cost := make([][]int64, copies+1)
	for c := range cost {
		cost[c] = make([]int64, n)
		for set := 1; set < n; set++ {
			best := int64(math.MaxInt64)
			for sub := set; sub > 0; sub = (sub - 1) & set {
				if c > 0 && first[sub] && cost[c-1][set^sub] < math.MaxInt64 {
					best = min(best, pr.Stocks[0].Cost+cost[c-1][set^sub])
				}
				if second[sub] && cost[c][set^sub] < math.MaxInt64 {
					best = min(best, pr.Stocks[1].Cost+cost[c][set^sub])
				}
			}
			cost[c][set] = best
		}
	}
	return cost[copies][n-1]
}

// layouts tells which sets of pieces can be cut from one sheet of a stock: a
// set fits a region if it is one piece that does, or two sets that fit the
// region's parts at some cut.
func layouts(pr *model.Problem, stock int) []bool {
	W, H := pr.Stocks[stock].W, pr.Stocks[stock].H
	n := 1 << len(pr.Items)
	fits := make([][]bool, (W+1)*(H+1))
	for w := 1; w <= W; w++ {
		for h := 1; h <= H; h++ {
			f := make([]bool, n)
			fits[w*(H+1)+h] = f
			f[0] = true
			for i, it := range pr.Items {
				f[1<<i] = it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h
			}
			for set := 1; set < n; set++ {
				for sub := (set - 1) & set; sub > 0 && !f[set]; sub = (sub - 1) & set {
					for x := 1; x < w && !f[set]; x++ {
						f[set] = fits[x*(H+1)+h][sub] && fits[(w-x)*(H+1)+h][set^sub]
					}
					for y := 1; y < h && !f[set]; y++ {
						f[set] = fits[w*(H+1)+y][sub] && fits[w*(H+1)+h-y][set^sub]
					}
				}
			}
		}
	}
	return fits[W*(H+1)+H]
}

// TestPowersAreExact checks the table against its definition in big numbers.
func TestPowersAreExact(t *testing.T) {
	p := powers()
	for i := 0; i <= steps; i++ {
		// r <= (i/steps)^1.2 * 2^valueBits < r+1, to the fifth power.
		n := new(big.Int).Exp(big.NewInt(int64(i)), big.NewInt(6), nil)
		n.Lsh(n, 5*valueBits-6*stepBits)
		fifth := func(r int32) *big.Int {
			return new(big.Int).Exp(big.NewInt(int64(r)), big.NewInt(5), nil)
		}
		require.True(t, fifth(p[i]).Cmp(n) <= 0 && fifth(p[i]+1).Cmp(n) > 0, "step %d", i)
	}
	assert.Equal(t, int32(1<<valueBits), p[steps])
}
