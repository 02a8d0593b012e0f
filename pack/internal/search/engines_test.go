package search_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/model"
)

// Nothing that any engine finds is cheaper than the truth, no bound is above it, and
// what is said to be complete is: with turning and without, in any number of stages,
// around bad regions, with several kinds of sheets at several prices.
func TestAllEnginesAgainstTheTruth(t *testing.T) {
	problems := 160
	if testing.Short() {
		problems = 25
	}
	possible := 0
	best, reached := map[string]int{}, map[string]int{}
	for seed := range uint64(problems) {
		pr := tiny(rand.New(rand.NewPCG(seed, 51)))
		c := newTrial(t, fmt.Sprintf("%d: %+v", seed, *pr), pr)
		c.everyEngine(seed, 6_000)
		truth := newTruth(pr)
		want := truth.least(truth.held, price)
		if pr.Stages == 0 {
			c.questions(want, truth.all)
		}
		if want < impossible {
			possible++
		}
		for who, cost := range c.costs {
			require.GreaterOrEqual(t, cost, want, "%s of %s", who, c.said)
			if cost == want {
				best[who]++
			}
		}
		for who, low := range c.lows {
			require.LessOrEqual(t, low, want, "%s of %s", who, c.said)
			if low == want {
				reached[who]++
			}
		}
		if n, _ := bounds.Sheets(pr); want < impossible {
			require.LessOrEqual(t, int64(n), truth.least(truth.held, func(model.Stock) int64 { return 1 }), c.said)
		}
		c.exhausted(seed, truth)
		c.filled(truth)
	}
	for _, who := range slices.Sorted(maps.Keys(best)) {
		t.Logf("%-16s solves %d of %d that have a solution best", who, best[who], possible)
	}
	for _, who := range slices.Sorted(maps.Keys(reached)) {
		t.Logf("%-16s is exact for %d of %d", who, reached[who], problems)
	}
	assert.Greater(t, possible, problems/2)
	assert.Greater(t, reached["colgen"], problems*2/3)
	for _, who := range []string{"insert together", "insert repeated", "ruin", "svc", "beam", "colgen", "reselect", "search", "blocks cover"} {
		assert.Greater(t, best[who], possible/4, who)
	}
	assert.Greater(t, best["search"], possible*95/100)
}

// small draws a problem beyond what the truth can be known of.
func small(r *rand.Rand) *model.Problem {
	pr := &model.Problem{Stages: []int{0, 0, 0, 2, 3}[r.IntN(5)]}
	for range 3 + r.IntN(8) {
		it := model.Item{W: 3 + r.IntN(14), H: 3 + r.IntN(14), Demand: 1 + r.IntN(6), Value: int64(1 + r.IntN(200))}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		pr.Items = append(pr.Items, it)
	}
	for range 1 + r.IntN(3) {
		st := model.Stock{W: 12 + r.IntN(24), H: 12 + r.IntN(24), Cost: int64(1 + r.IntN(12)), Copies: model.Unlimited}
		if r.IntN(3) == 0 {
			st.Copies, st.Cost = 1+r.IntN(3), int64(r.IntN(3))
		}
		if r.IntN(4) == 0 {
			st.Bad = append(st.Bad, model.Rect{X: r.IntN(st.W), Y: r.IntN(st.H), W: 1 + r.IntN(5), H: 1 + r.IntN(5)})
		}
		pr.Stocks = append(pr.Stocks, st)
	}
	return pr
}

// No bound of one engine is above what another one found, and no engine turns a
// problem of ordinary size into a layout that cannot be cut.
func TestAllEnginesAgainstEachOther(t *testing.T) {
	problems := 24
	if testing.Short() {
		problems = 4
	}
	met, found := 0, 0
	for seed := range uint64(problems) {
		pr := small(rand.New(rand.NewPCG(seed, 52)))
		c := newTrial(t, fmt.Sprintf("%d: %+v", seed, *pr), pr)
		c.everyEngine(seed, 10_000)
		least, most := int64(impossible), int64(0)
		for _, cost := range c.costs {
			least = min(least, cost)
		}
		for who, low := range c.lows {
			require.LessOrEqual(t, low, least, "%s of %s", who, c.said)
			most = max(most, low)
		}
		if least < impossible {
			found++
		}
		if least == most {
			met++
		}
		for i := range pr.Stocks {
			got, most := int64(0), int64(impossible)
			for who := range c.fills {
				if f, ok := c.filling(who, i); ok {
					got = max(got, f.got)
					if f.most >= 0 {
						most = min(most, f.most)
					}
				}
			}
			require.LessOrEqual(t, got, most, "stock %d of %s", i, c.said)
		}
	}
	t.Logf("of %d problems %d have a solution, and of %d the cheapest meets the highest bound", problems, found, met)
	assert.Greater(t, found, problems/2)
	assert.Greater(t, met, problems/3)
}
