package colgen

import (
	"math"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// pricer fills sheets for given prices of the items.
type pricer struct {
	pr *model.Problem
	// proof bounds the value of every sheet; its fillings are layouts unless it
	// is coarse.
	proof *dp.Table
	grain int // lengths are divided by it in proof, rounded down
	// quick, if set, fills sheets of very fine measures without bounding them.
	quick  *dp.Table
	scraps *dp.Scraps
	sheets *dp.Sheets // what the stocks hold by a table
	values []int64
	most   []int64 // bound on the value of each stock's sheets
	demand []int
}

// mostCells is the largest exact table: about a second.
const mostCells = 1_200_000

// newPricer prepares for filling the stocks. Tables above most rectangles are
// only bounded.
func newPricer(pr *model.Problem, scraps *dp.Scraps, most int) *pricer {
	p := &pricer{
		pr: pr, grain: 1, scraps: scraps, sheets: dp.NewSheets(pr, scraps),
		values: make([]int64, len(pr.Items)), most: make([]int64, len(pr.Stocks)),
	}
	for _, it := range pr.Items {
		p.demand = append(p.demand, it.Demand)
	}
	p.proof = dp.New(pr.Items, p.sizes(), pr.Stages)
	if p.proof.Cells() > dp.Dense {
		p.quick = dp.NewThinned(pr.Items, p.sizes(), pr.Stages)
	}
	for p.proof.Cells() > most {
		p.grain++
		p.proof = dp.New(p.coarse(), p.sizes(), pr.Stages)
	}
	return p
}

// sizes are the stocks' sizes in grains.
func (p *pricer) sizes() (sizes []dp.Size) {
	for _, s := range p.pr.Stocks {
		sizes = append(sizes, dp.Size{W: s.W / p.grain, H: s.H / p.grain})
	}
	return sizes
}

// coarse are the items in grains. Every side and every sheet rounded down, what
// fitted a sheet still does: the values only grow.
func (p *pricer) coarse() []model.Item {
	items := make([]model.Item, len(p.pr.Items))
	for k, it := range p.pr.Items {
		it.W, it.H = it.W/p.grain, it.H/p.grain
		if it.W == 0 || it.H == 0 {
			// Too thin to be told apart from nothing: it is left to the bound by
			// area alone, at no value.
			it.Demand = 0
		}
		items[k] = it
	}
	return items
}

// unit is how many integer values make the cost of the dearest sheet: enough
// for the bound to lose nothing that matters, few enough for int64 sums.
const unit = 1 << 40

// price rounds the prices down to integers. scale is the cost of the dearest
// sheet. It returns the number of values that make one unit of cost.
func (p *pricer) price(prices []float64, scale float64) (per float64) {
	per = unit / scale
	for k, v := range prices {
		p.values[k] = int64(math.Floor(min(max(v, 0), 64*scale) * per))
	}
	return per
}

// prove bounds the value of every sheet at the present prices.
func (p *pricer) prove() (work int64) {
	if p.grain > 1 {
		for k, it := range p.pr.Items {
			if min(it.W, it.H) < p.grain {
				p.values[k] = 0
			}
		}
	}
	p.proof.Solve(p.values)
	if p.grain == 1 {
		p.sheets.Read(p.proof)
	}
	for t, s := range p.pr.Stocks {
		if p.grain == 1 {
			p.most[t] = p.sheets.Most(t)
		} else {
			p.most[t] = p.proof.Value(s.W/p.grain, s.H/p.grain)
		}
		p.most[t] = min(p.most[t], dp.AreaBound(p.pr.Items, p.values, p.demand, p.scraps.Room(t)))
	}
	work = p.proof.Work()
	if p.grain == 1 {
		work += p.sheets.Work()
	}
	return work
}

// filling prepares for reading layouts. It follows a call of prove, unless there
// is a quick table.
func (p *pricer) filling() (work int64) {
	if p.quick == nil {
		return 0
	}
	p.quick.Solve(p.values)
	p.sheets.Read(p.quick)
	return p.quick.Work()
}

// mostRounds ends pricing whose gains have become too small to matter.
const mostRounds = 2000

// round prices the items, fills every kind of sheet and adds what pays. Sheets
// of very fine measures are filled quickly until that brings nothing, and only
// then exactly.
func (e *Engine) round() (work int64) {
	e.rounds++
	before := e.master.lp.Pivots()
	if err := e.master.lp.Solve(); err != nil {
		// The columns stand; only better prices are out of reach.
		e.converged = true
		return e.master.work(before)
	}
	per := e.pricer.price(e.master.prices(), e.master.scale)
	work = e.master.work(before)
	if e.pricer.quick != nil {
		work += e.pricer.filling()
		added := e.columns(per)
		work += e.pricer.sheets.Work()
		if added {
			return work
		}
	}
	work += e.pricer.prove()
	e.raise(e.pricer.values, e.pricer.most)
	added := e.pricer.grain == 1 && e.columns(per)
	e.converged = !added || e.rounds >= mostRounds
	e.settled = e.settled || e.final()
	return work
}

// columns adds the fillings worth more than their sheets.
func (e *Engine) columns(per float64) (added bool) {
	sheets := e.pricer.sheets
	for t, s := range e.pr.Stocks {
		v := float64(sheets.Value(t)) / per
		if s.Copies == 0 || v <= e.master.charge(t)+1e-7*e.master.scale {
			continue
		}
		added = e.master.add(model.Pattern{Stock: t, Placed: sheets.Pattern(t)}) || added
		e.learn(model.Pattern{Stock: t, Placed: sheets.Capped(t, e.pricer.demand)})
	}
	return added
}

// raise updates the bound by values of the items and of the fullest sheets.
func (e *Engine) raise(values, most []int64) {
	b, feasible := lagrangian(e.pr, values, most)
	if !feasible {
		e.infeasible = true
	}
	e.bound = max(e.bound, e.prices.up(b))
}

// final tells whether the bound, rounded up, has reached the relaxed cost,
// rounded up: it will then rise no further.
func (e *Engine) final() bool {
	if _, short := e.master.values(); short || e.prices.unit == 0 {
		return false
	}
	relaxed := e.master.lp.Cost() * e.master.scale
	return float64(e.bound) >= relaxed-1e-6*e.master.scale
}
