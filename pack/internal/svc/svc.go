// Package svc builds whole solutions sheet by sheet and learns from each what
// its pieces are really worth: sequential value correction (Mukhacheva and
// Zalgaller, Linear programming cutting problems, International Journal of
// Software Engineering and Knowledge Engineering 3, 1993; for sheets of cloth
// and glass Cui, Cui and Tang, EJOR 240, 2015).
//
// A pass fills one sheet after another, each time the kind that holds most
// value for its cost, and uses each layout as often as it can. A piece that
// ended on wasteful sheets is worth more in the next pass. Layouts used as often
// as possible make the work of a pass independent of the number of copies.
//
// Start with [New] and [Engine.Run].
package svc

import (
	"math"
	"math/rand/v2"
	"slices"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// Engine is the search; use [New].
type Engine struct {
	pr     *model.Problem
	sink   model.Sink
	rng    *rand.Rand
	fill   *dp.Bounded
	scraps *dp.Scraps
	table  []*dp.Table // of each stock, only with a stage limit
	alike  [][]int     // stocks filled from one table, the tallest first

	values []float64
	whole  []int64 // values as integers
	aim    int64
	best   *model.Solution
	cost   int64

	pass   int
	now    *model.Solution
	spent  int64 // cost of now
	left   []int // copies still wanted
	stock  []int // sheets still to be had
	worth  []float64
	wanted int64 // area of left
}

// New returns a search of the problem; layouts go to sink, which may be nil.
// scraps are the problem's sheets with bad areas, which others may use as well.
func New(pr *model.Problem, scraps *dp.Scraps, sink model.Sink, seed uint64) *Engine {
	e := &Engine{
		scraps: scraps,
		pr:     pr, sink: sink, rng: rand.New(rand.NewPCG(seed, 0x5c)),
		fill: dp.NewBounded(pr.Items), aim: math.MaxInt64,
		values: make([]float64, len(pr.Items)), whole: make([]int64, len(pr.Items)),
	}
	for k, it := range pr.Items {
		e.values[k] = math.Pow(float64(it.Area()), 1.1)
	}
	if pr.Stages > 0 {
		for _, s := range pr.Stocks {
			e.table = append(e.table, dp.NewThinned(pr.Items, []dp.Size{{W: s.W, H: s.H}}, pr.Stages))
		}
	}
	e.group()
	e.begin()
	return e
}

var _ model.Engine = (*Engine)(nil)

// Best returns the cheapest complete solution so far, or nil.
func (e *Engine) Best() *model.Solution { return e.best }

// Aim limits the search to solutions cheaper than cost.
func (e *Engine) Aim(cost int64) { e.aim = min(e.aim, cost) }

// Passes is the number of passes finished.
func (e *Engine) Passes() int { return e.pass }

// Run fills sheets until the budget is spent. There is always another pass,
// unless the area to cut shows that it cannot reach the aim.
func (e *Engine) Run(budget int64) (spent int64, more bool) {
	for spent < budget {
		if len(e.now.Patterns) == 0 && e.hopeless() {
			return spent, false
		}
		spent += e.step()
	}
	return spent, true
}

func (e *Engine) begin() {
	e.now, e.spent, e.wanted = &model.Solution{}, 0, 0
	e.left = make([]int, len(e.pr.Items))
	e.worth = make([]float64, len(e.pr.Items))
	for k, it := range e.pr.Items {
		e.left[k] = it.Demand
		e.wanted += it.Area() * int64(it.Demand)
		e.whole[k] = 1 + int64(e.values[k]*64)
	}
	e.stock = make([]int, len(e.pr.Stocks))
	for t, s := range e.pr.Stocks {
		e.stock[t] = s.Copies
	}
}

// step fills the next sheet of the present pass, or ends the pass.
func (e *Engine) step() (work int64) {
	if e.wanted == 0 || e.hopeless() {
		e.finish()
		return 1
	}
	full := make([]model.Pattern, len(e.pr.Stocks))
	for _, stocks := range e.alike {
		work += e.sheets(stocks, full)
	}
	var best model.Pattern
	var worth int64
	for t, s := range e.pr.Stocks {
		v := e.valueOf(full[t])
		// v/s.Cost against worth/cost, free sheets first
		if v > 0 && (worth == 0 || float64(v)*float64(e.pr.Stocks[best.Stock].Cost) > float64(worth)*float64(s.Cost)) {
			best, worth = full[t], v
		}
	}
	if worth == 0 {
		e.finish()
		return work + 1
	}
	e.use(best)
	return work
}

// sheets fills one sheet of each of the stocks that are alike, in later passes
// with several slightly different values, keeping in full the fillings that are
// worth most by the true ones.
func (e *Engine) sheets(stocks []int, full []model.Pattern) (work int64) {
	var left []int
	for _, t := range stocks {
		if e.stock[t] != 0 {
			left = append(left, t)
		}
	}
	if len(left) == 0 {
		return 0
	}
	values := make([]int64, len(e.whole))
	for try := range 1 + min(e.pass/4, 3) {
		copy(values, e.whole)
		if try > 0 || e.pass > 0 {
			for k := range values {
				values[k] += int64(float64(values[k]) * 0.1 * (e.rng.Float64() - 0.5))
			}
		}
		for n, t := range left {
			placed, w := e.content(t, values, n > 0)
			work += w
			p := model.Pattern{Stock: t, Placed: placed}
			if try == 0 || e.valueOf(p) > e.valueOf(full[t]) {
				full[t] = p
			}
		}
	}
	return work
}

// readWork is about what it takes to read one more sheet from a table.
const readWork = 5

// content fills one sheet by dynamic programming; laid tells that a sheet as
// wide, and no lower, was the last to be filled for the same values.
func (e *Engine) content(t int, values []int64, laid bool) (placed []model.Placed, work int64) {
	s := e.pr.Stocks[t]
	if scrap := e.scraps.Of(t); scrap != nil {
		placed = e.fill.FillScrap(scrap, values, e.left)
		return placed, e.fill.Work()
	}
	if e.table == nil {
		if laid {
			work = readWork
		} else {
			e.fill.Lay(s.W, s.H, values, e.left)
			work = e.fill.Work()
		}
		placed = e.fill.Read(s.W, s.H, values, e.left)
	} else {
		for k, n := range e.left {
			if n == 0 {
				values[k] = 0
			}
		}
		e.table[t].Solve(values)
		placed = e.table[t].Capped(s.W, s.H, e.left)
		work = e.table[t].Work() + 10
	}
	return dp.Clear(placed, e.pr.Items, s.Bad), work
}

// group gathers the stocks that are filled from one table: as wide as one
// another, the tallest first.
func (e *Engine) group() {
	at := map[int]int{}
	for t, s := range e.pr.Stocks {
		g, ok := at[s.W]
		if !ok || e.scraps.Of(t) != nil || e.table != nil {
			g = len(e.alike)
			e.alike = append(e.alike, nil)
			if e.scraps.Of(t) == nil {
				at[s.W] = g
			}
		}
		e.alike[g] = append(e.alike[g], t)
	}
	for _, stocks := range e.alike {
		slices.SortStableFunc(stocks, func(a, b int) int { return e.pr.Stocks[b].H - e.pr.Stocks[a].H })
	}
}

func (e *Engine) valueOf(p model.Pattern) (v int64) {
	for _, q := range p.Placed {
		v += e.whole[q.Item]
	}
	return v
}

// use cuts a layout as often as it serves.
func (e *Engine) use(p model.Pattern) {
	counts := make([]int, len(e.left))
	p.Count(counts)
	n := math.MaxInt
	if s := e.stock[p.Stock]; s != model.Unlimited {
		n = s
	}
	area := float64(p.Area(e.pr))
	for k, c := range counts {
		if c > 0 {
			n = min(n, e.left[k]/c)
		}
	}
	if e.stock[p.Stock] != model.Unlimited {
		e.stock[p.Stock] -= n
	}
	st := e.pr.Stocks[p.Stock]
	waste := float64(st.Area()) - area
	for k, c := range counts {
		if c == 0 {
			continue
		}
		e.left[k] -= n * c
		own := float64(c) * float64(e.pr.Items[k].Area())
		e.worth[k] += float64(n) * (own + own/area*waste)
		e.wanted -= int64(n*c) * e.pr.Items[k].Area()
	}
	e.now.Add(p, n)
	e.spent += st.Cost * int64(n)
	if e.sink != nil {
		e.sink.Offer(p)
	}
}

// hopeless tells whether the pass can no longer end below the aim: what is
// still wanted costs at least its area at the best price.
func (e *Engine) hopeless() bool {
	limit := e.aim
	if e.best != nil {
		limit = min(limit, e.cost)
	}
	if limit == math.MaxInt64 {
		return false
	}
	least := math.Inf(1)
	for t, s := range e.pr.Stocks {
		if e.stock[t] != 0 {
			least = min(least, float64(s.Cost)/float64(s.Area()))
		}
	}
	return float64(e.spent)+least*float64(e.wanted)*0.999999 > float64(limit)-0.5
}

// finish judges the pass and corrects the values.
func (e *Engine) finish() {
	if e.wanted == 0 && e.spent < e.aim && (e.best == nil || e.spent < e.cost) {
		e.best, e.cost = e.now, e.spent
	}
	var sheet float64
	for _, s := range e.pr.Stocks {
		sheet = max(sheet, float64(s.Area()))
	}
	for k, it := range e.pr.Items {
		if it.Demand == 0 {
			continue
		}
		// Pieces the pass did not reach count as having each wasted a sheet in
		// proportion to their area.
		e.worth[k] += float64(e.left[k]) * (float64(it.Area()) + sheet*0.25)
		corrected := math.Pow(e.worth[k]/float64(it.Demand), 1.1)
		e.values[k] = 0.5*e.values[k] + 0.5*corrected
	}
	e.pass++
	e.begin()
}
