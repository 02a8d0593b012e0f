package blocks

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// Whether everything fits equals what trying everything says.
func TestFitAgainstExhaustive(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	rounds, yes := 4000, 0
	if testing.Short() {
		rounds = 1000
	}
	for round := range rounds {
		pr := tiny(r, 8, 4, 2, []int{0, 0, 2, 3}[round%4])
		e := newExhaustive(pr)
		want := e.sheet(0)[e.sizes-1]
		f := NewFit(pr, FillOptions{})
		for more := true; more; {
			_, more = f.Run(1 + int64(round%5)*100)
		}
		if want {
			yes++
			require.Equal(t, Yes, f.Verdict(), "round %d: %+v", round, pr)
			counts := make([]int, len(pr.Items))
			f.Layout().Count(counts)
			for i, it := range pr.Items {
				require.Equal(t, it.Demand, counts[i])
			}
			st := pr.Stocks[0]
			_, err := model.Build(pr, st.W, st.H, pr.Stages, f.Layout().Placed)
			require.NoError(t, err)
		} else {
			require.Equal(t, No, f.Verdict(), "round %d: %+v", round, pr)
		}
	}
	assert.Greater(t, yes, rounds/10)
	assert.Less(t, yes, rounds*9/10)
}

// leastCost is the least cost of sheets that hold every piece, or -1.
func (e *exhaustive) leastCost() int64 {
	const never = int64(1) << 40
	best := make([]int64, e.sizes) // best[v]: least cost at which exactly v is cut
	for v := range best {
		best[v] = never
	}
	best[0] = 0
	for i, st := range e.pr.Stocks {
		sheet := e.sheet(i)
		for range min(st.Copies, 6) {
			next := append([]int64(nil), best...)
			for v, c := range best {
				for w, ok := range sheet {
					if ok && c < never {
						if s := e.plus(v, w); s >= 0 {
							next[s] = min(next[s], c+st.Cost)
						}
					}
				}
			}
			best = next
		}
	}
	if best[e.sizes-1] == never {
		return -1
	}
	return best[e.sizes-1]
}

// A cover is found at the least cost, and proved impossible below it, with
// several stocks, costs and limited copies.
func TestCoverAgainstExhaustive(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	rounds := 250
	if testing.Short() {
		rounds = 100
	}
	possible := 0
	for round := range rounds {
		pr := tiny(r, 7, 4, 2, []int{0, 0, 2}[round%3])
		pr.Stocks = nil
		for range 1 + r.IntN(3) {
			pr.Stocks = append(pr.Stocks, model.Stock{W: 2 + r.IntN(6), H: 2 + r.IntN(6), Copies: 1 + r.IntN(4), Cost: int64(r.IntN(8))})
		}
		want := newExhaustive(pr).leastCost()
		ask := func(cost int64) *CoverSearch {
			o := CoverOptions{Cost: cost}
			if round%2 == 1 {
				for range pr.Items {
					o.Worth = append(o.Worth, int64(r.IntN(9)))
				}
			}
			c := NewCover(pr, o)
			for more := true; more; {
				_, more = c.Run(1 + int64(round%5)*100)
			}
			return c
		}
		if want < 0 {
			require.Equal(t, No, ask(1000).Verdict(), "round %d: %+v", round, pr)
			continue
		}
		possible++
		c := ask(want)
		require.Equal(t, Yes, c.Verdict(), "round %d: cost %d, %+v", round, want, pr)
		require.LessOrEqual(t, c.Solution().Cost(pr), want)
		for _, n := range c.Solution().Missing(pr) {
			require.Zero(t, n)
		}
		used := make([]int, len(pr.Stocks))
		for k, p := range c.Solution().Patterns {
			used[p.Stock] += c.Solution().Copies[k]
			st := pr.Stocks[p.Stock]
			_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
			require.NoError(t, err)
		}
		for i, n := range used {
			require.LessOrEqual(t, n, pr.Stocks[i].Copies)
		}
		require.Equal(t, No, ask(want-1).Verdict(), "round %d: cost %d, %+v", round, want-1, pr)
	}
	assert.Greater(t, possible, rounds/3)
}
