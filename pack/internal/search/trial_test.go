package search_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/beam"
	"pinfold/pack/internal/blocks"
	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/colgen"
	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/reselect"
	"pinfold/pack/internal/ruin"
	"pinfold/pack/internal/search"
	"pinfold/pack/internal/svc"
)

// trial is one problem that every engine works on, with what each of them came to.
type trial struct {
	t     *testing.T
	said  string // which problem
	pr    *model.Problem
	costs map[string]int64  // of complete solutions
	lows  map[string]int64  // lower bounds
	pool  *reselect.Pool    // of all layouts that any engine offered
	fills map[string][]fill // of one sheet of each stock
}

// fill is what an engine says of the value of one sheet: a layout worth got, and
// none worth more than most, -1 where it does not say.
type fill struct{ got, most int64 }

func newTrial(t *testing.T, said string, pr *model.Problem) *trial {
	return &trial{t: t, said: said, pr: pr, costs: map[string]int64{}, lows: map[string]int64{}, pool: reselect.NewPool(pr, 4000), fills: map[string][]fill{}}
}

// Offer implements [model.Sink].
func (c *trial) Offer(p model.Pattern) {
	c.pattern("offered", p)
	c.pool.Offer(p)
}

// pattern derives everything a layout promises from the places of its pieces.
func (c *trial) pattern(who string, p model.Pattern) {
	st := c.pr.Stocks[p.Stock]
	_, err := model.Build(c.pr, st.W, st.H, c.pr.Stages, p.Placed)
	require.NoError(c.t, err, "%s of %s", who, c.said)
	for _, q := range p.Placed {
		it := c.pr.Items[q.Item]
		require.True(c.t, it.Turn || !q.Turned, "%s turns, of %s", who, c.said)
		w, h := it.Sides(q.Turned)
		require.True(c.t, clear(st.Bad, model.Rect{X: int(q.X), Y: int(q.Y), W: w, H: h}), "%s is on a bad region, of %s", who, c.said)
	}
}

// solution checks a solution and keeps its cost if it lacks nothing.
func (c *trial) solution(who string, s *model.Solution) {
	if s == nil {
		return
	}
	used := make([]int, len(c.pr.Stocks))
	for i, p := range s.Patterns {
		c.pattern(who, p)
		require.Positive(c.t, s.Copies[i], "%s of %s", who, c.said)
		used[p.Stock] += s.Copies[i]
	}
	for i, st := range c.pr.Stocks {
		require.True(c.t, st.Copies == model.Unlimited || used[i] <= st.Copies, "%s uses stock %d too often, of %s", who, i, c.said)
	}
	if slices.Max(s.Missing(c.pr)) > 0 {
		return
	}
	cost := s.Cost(c.pr)
	if was, ok := c.costs[who]; !ok || cost < was {
		c.costs[who] = cost
	}
}

func (c *trial) run(who string, e model.Engine, budget int64) {
	for more := true; more && budget > 0; {
		var spent int64
		spent, more = e.Run(budget)
		budget -= spent + 1
	}
	c.solution(who, e.Best())
}

// value is what the pieces of a layout are worth.
func (c *trial) value(placed []model.Placed) (sum int64) {
	for _, q := range placed {
		sum += c.pr.Items[q.Item].Value
	}
	return sum
}

// everyEngine lets all of them work for about budget units each.
func (c *trial) everyEngine(seed uint64, budget int64) {
	pr := c.pr
	copies := 0
	values, left := []int64{}, []int{}
	for _, it := range pr.Items {
		copies += it.Demand
		values, left = append(values, it.Value), append(left, it.Demand)
	}
	for _, rule := range insert.Rules(copies) {
		s, _ := insert.Together(context.Background(), pr, rule, math.MaxInt64)
		c.solution("insert together", s)
		s, _ = insert.Repeated(context.Background(), pr, rule, math.MaxInt64)
		c.solution("insert repeated", s)
	}
	c.run("ruin", ruin.New(pr, ruin.Options{Seed: seed, Sink: c}), budget)
	c.run("svc", svc.New(pr, dp.NewScraps(pr), c, seed), budget)
	tree := beam.New(pr, beam.Options{Seed: seed, Sink: c})
	c.run("beam", tree, budget)
	columns := colgen.New(pr, colgen.Options{Seed: seed, Sink: c, Scraps: dp.NewScraps(pr)})
	c.run("colgen", columns, budget)
	c.lows["colgen"] = columns.Bound()
	if columns.Infeasible() {
		c.lows["colgen"] = impossible
	}
	s, _ := c.pool.Choose(impossible, 0, budget)
	c.solution("reselect", s)
	c.lows["bounds"], _ = bounds.Cost(pr)
	c.lows["refined bounds"], _ = bounds.Refine(pr, impossible)
	whole := search.New(pr, search.Options{Effort: 4 * budget, Seed: seed, Workers: 1})
	whole.Run(context.Background(), 4*budget)
	c.solution("search", whole.Outcome().Best)
	c.solution("search", whole.Outcome().Partial)
	c.lows["search"] = whole.Outcome().Bound
	if whole.Impossible() {
		c.lows["search"] = impossible
	}
	for i, st := range pr.Stocks {
		c.fill(i, st, values, left, budget)
	}
}

// fill has one sheet of a stock filled by all who can.
func (c *trial) fill(i int, st model.Stock, values []int64, left []int, budget int64) {
	add := func(who string, placed []model.Placed, most int64) {
		c.pattern(who, model.Pattern{Stock: i, Placed: placed})
		n := make([]int, len(left))
		model.Pattern{Stock: i, Placed: placed}.Count(n)
		for k := range n {
			require.LessOrEqual(c.t, n[k], left[k], "%s cuts too many, of %s", who, c.said)
		}
		c.fills[who] = append(c.fills[who], fill{c.value(placed), most})
	}
	exact := blocks.NewFill(c.pr, blocks.FillOptions{Stock: i})
	for more, spent := true, int64(0); more && spent < 4*budget; {
		var n int64
		n, more = exact.Run(4*budget - spent)
		spent += n + 1
	}
	best, value := exact.Best()
	require.Equal(c.t, value, c.value(best.Placed), c.said)
	require.Equal(c.t, exact.Proved(), value == exact.Bound(), c.said)
	add("blocks", best.Placed, exact.Bound())
	table := dp.New(c.pr.Items, []dp.Size{{W: st.W, H: st.H}}, c.pr.Stages)
	table.Solve(values)
	if len(st.Bad) > 0 {
		sheets := dp.NewSheets(c.pr, dp.NewScraps(c.pr))
		all := make([]dp.Size, len(c.pr.Stocks))
		for k, s := range c.pr.Stocks {
			all[k] = dp.Size{W: s.W, H: s.H}
		}
		table = dp.New(c.pr.Items, all, c.pr.Stages)
		table.Solve(values)
		sheets.Read(table)
		add("dp with bad regions", sheets.Capped(i, left), sheets.Most(i))
		if scrap := dp.NewScraps(c.pr).Of(i); scrap != nil {
			add("dp bounded with bad regions", dp.NewBounded(c.pr.Items).FillScrap(scrap, values, slices.Clone(left)), -1)
		}
		return
	}
	add("dp", table.Capped(st.W, st.H, left), table.Value(st.W, st.H))
	if c.pr.Stages == 0 {
		add("dp bounded", dp.NewBounded(c.pr.Items).Fill(st.W, st.H, values, slices.Clone(left)), -1)
	}
}

// questions asks those who answer yes or no whether everything can be cut at a
// cost, or from one sheet. There is no stage limit.
func (c *trial) questions(want int64, fits func(stock int) bool) {
	for _, cost := range []int64{want - 1, want, want + 1} {
		if want == impossible {
			cost = 1000
		}
		q := blocks.NewCover(c.pr, blocks.CoverOptions{Cost: cost})
		q.Run(500_000)
		switch q.Verdict() {
		case blocks.Yes:
			require.GreaterOrEqual(c.t, cost, want, "cover of %s", c.said)
			c.solution("blocks cover", q.Solution())
			require.Contains(c.t, c.costs, "blocks cover", c.said)
			require.LessOrEqual(c.t, q.Solution().Cost(c.pr), cost, c.said)
		case blocks.No:
			require.Less(c.t, cost, want, "cover of %s", c.said)
		}
	}
	for i, st := range c.pr.Stocks {
		if len(st.Bad) > 0 {
			continue
		}
		q := blocks.NewFit(c.pr, blocks.FillOptions{Stock: i})
		q.Run(500_000)
		require.NotEqual(c.t, blocks.Unknown, q.Verdict(), c.said)
		require.Equal(c.t, fits(i), q.Verdict() == blocks.Yes, "stock %d of %s", i, c.said)
		if q.Verdict() == blocks.Yes {
			c.pattern("blocks fit", q.Layout())
			n := make([]int, len(c.pr.Items))
			q.Layout().Count(n)
			for k, it := range c.pr.Items {
				require.Equal(c.t, it.Demand, n[k], c.said)
			}
		}
	}
}

// filling is what an engine says of one stock.
func (c *trial) filling(who string, stock int) (fill, bool) {
	k := 0
	for i, st := range c.pr.Stocks {
		if who != "blocks" && (len(st.Bad) > 0) != strings.HasSuffix(who, "bad regions") {
			continue
		}
		if i == stock && k < len(c.fills[who]) {
			return c.fills[who][k], true
		}
		k++
	}
	return fill{}, false
}

// filled holds the values of single sheets against the truth.
func (c *trial) filled(truth *truth) {
	for who := range c.fills {
		for i := range c.pr.Stocks {
			f, ok := c.filling(who, i)
			if !ok {
				continue
			}
			want := truth.most(i)
			require.LessOrEqual(c.t, f.got, want, "%s: stock %d of %s", who, i, c.said)
			if f.most >= 0 {
				require.GreaterOrEqual(c.t, f.most, want, "%s: stock %d of %s", who, i, c.said)
			}
		}
	}
}

// exhausted holds a tree search that says it has tried everything against
// everything there is in its stages.
func (c *trial) exhausted(seed uint64, truth *truth) {
	e := beam.New(c.pr, beam.Options{Seed: seed})
	e.Run(20_000)
	if !e.Exhausted() || c.pr.Stages == 1 {
		return
	}
	stages := 3
	if c.pr.Stages == 2 {
		stages = 2
	}
	held := make([]uint64, len(c.pr.Stocks))
	for i, st := range c.pr.Stocks {
		if held[i] = 1; len(st.Bad) == 0 {
			held[i] = truth.holds(i, stages)
		}
	}
	want := truth.least(held, price)
	if e.Best() == nil {
		require.Equal(c.t, int64(impossible), want, "beam of %s", c.said)
		return
	}
	require.Equal(c.t, want, e.Best().Cost(c.pr), "beam of %s", c.said)
}
