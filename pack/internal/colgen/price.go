package colgen

import (
	"math"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// pricer fills sheets for given prices of the items.
type pricer struct {
	pr     *model.Problem
	table  *dp.Table
	values []int64
	most   []int64 // value of each stock's best filling
	demand []int
}

func newPricer(pr *model.Problem) *pricer {
	p := &pricer{pr: pr, values: make([]int64, len(pr.Items)), most: make([]int64, len(pr.Stocks))}
	var sizes []dp.Size
	for _, s := range pr.Stocks {
		sizes = append(sizes, dp.Size{W: s.W, H: s.H})
	}
	p.table = dp.New(pr.Items, sizes, pr.Stages)
	for _, it := range pr.Items {
		p.demand = append(p.demand, it.Demand)
	}
	return p
}

// unit is how many integer values make the cost of the dearest sheet: enough
// for the bound to lose nothing that matters, few enough for int64 sums.
const unit = 1 << 40

// solve rounds the prices down to integers and fills all sheets. scale is the
// cost of the dearest sheet. It returns the number of values that make one unit
// of cost.
func (p *pricer) solve(prices []float64, scale float64) (per float64) {
	per = unit / scale
	for k, v := range prices {
		p.values[k] = int64(math.Floor(min(max(v, 0), 64*scale) * per))
	}
	p.table.Solve(p.values)
	for t, s := range p.pr.Stocks {
		p.most[t] = min(p.table.Value(s.W, s.H), dp.AreaBound(p.pr.Items, p.values, p.demand, s.Area()))
	}
	return per
}

// mostRounds ends pricing whose gains have become too small to matter.
const mostRounds = 2000

// round prices the items, fills every kind of sheet and adds what pays.
func (e *Engine) round() (work int64) {
	e.rounds++
	before := e.master.lp.Pivots()
	if err := e.master.lp.Solve(); err != nil {
		// The columns stand; only better prices are out of reach.
		e.converged = true
		return e.master.work(before)
	}
	per := e.pricer.solve(e.master.prices(), e.master.scale)
	work = e.pricer.table.Work() + e.master.work(before)
	e.raise(e.pricer.values, e.pricer.most)
	added := false
	for t, s := range e.pr.Stocks {
		v := float64(e.pricer.table.Value(s.W, s.H)) / per
		if s.Copies == 0 || v <= e.master.charge(t)+1e-7*e.master.scale {
			continue
		}
		placed := dp.Clear(e.pricer.table.Pattern(s.W, s.H), e.pr.Items, s.Bad)
		added = e.master.add(model.Pattern{Stock: t, Placed: placed}) || added
		capped := dp.Clear(e.pricer.table.Capped(s.W, s.H, e.pricer.demand), e.pr.Items, s.Bad)
		e.learn(model.Pattern{Stock: t, Placed: capped})
		work += int64(len(placed)) * 4
	}
	e.converged = !added || e.rounds >= mostRounds
	e.settled = e.settled || e.final()
	return work
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
