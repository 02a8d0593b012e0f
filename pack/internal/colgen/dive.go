package colgen

import (
	"math"
	"slices"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/svc"
)

// dive is an attempt at a whole solution that fixes a little and prices again:
// the whole copies of the relaxed solution of what remains, or one copy of the
// pattern nearest to whole. Patterns hold no more copies than remain, so what is
// fixed serves in full.
type dive struct {
	e        *Engine
	fixed    *model.Solution
	spent    int64
	residual *model.Problem

	master *master
	pricer *pricer
	fill   *dp.Bounded
	rounds int
	loose  int // how far down the list of fractions the choice may go
	trail  []choice
	turns  int // how often the dive has gone back

	tail *svc.Engine
	work int64
	over bool
}

// choice is the place where one copy of a pattern was fixed, and the patterns
// that could have been instead.
type choice struct {
	residual *model.Problem
	fixed    *model.Solution
	spent    int64
	master   *master
	others   []int
}

// Limits of a dive.
const (
	diveRounds = 12 // pricing rounds for each residual
	diveTail   = 40_000
	diveTurns  = 4
)

func (e *Engine) newDive(loose int) *dive {
	d := &dive{e: e, fixed: &model.Solution{}, loose: loose}
	d.residual = residualOf(e.pr)
	d.master = e.master
	d.fix()
	return d
}

func residualOf(pr *model.Problem) *model.Problem {
	return &model.Problem{Items: slices.Clone(pr.Items), Stocks: slices.Clone(pr.Stocks), Stages: pr.Stages}
}

// step prices the residual once, or fixes some of it.
func (d *dive) step() (work int64) {
	switch {
	case d.tail != nil:
		return d.finish()
	case d.rounds < diveRounds:
		d.rounds++
		turns := d.turns
		work, more := d.price()
		if !more && turns == d.turns {
			d.rounds = diveRounds
		}
		return work
	}
	return d.fix()
}

// enter makes the master of the present residual from the patterns of the last.
func (d *dive) enter() {
	old := d.master
	d.master, d.rounds = newMaster(d.residual), 0
	d.pricer = newPricer(d.residual, d.e.scraps, mostCells)
	d.fill = dp.NewBounded(d.residual.Items)
	for _, p := range old.patterns {
		if d.residual.Stocks[p.Stock].Copies != 0 {
			d.master.add(capped(p, d.pricer.demand))
		}
	}
}

// capped is the pattern less the copies above left.
func capped(p model.Pattern, left []int) model.Pattern {
	counts := make([]int, len(left))
	out := model.Pattern{Stock: p.Stock, Placed: make([]model.Placed, 0, len(p.Placed))}
	for _, q := range p.Placed {
		if counts[q.Item] < left[q.Item] {
			counts[q.Item]++
			out.Placed = append(out.Placed, q)
		}
	}
	return out
}

// price adds columns for the residual. It gives up the dive when the residual's
// own bound shows that the limit is out of reach.
func (d *dive) price() (work int64, more bool) {
	before := d.master.lp.Pivots()
	err := d.master.lp.Solve()
	work = d.master.work(before)
	if err != nil {
		return work, false
	}
	per := d.pricer.price(d.master.prices(), d.master.scale)
	if d.pricer.quick == nil {
		work += d.pricer.prove()
		b, feasible := lagrangian(d.residual, d.pricer.values, d.pricer.most)
		if !feasible || d.spent+d.e.prices.ceil(b) >= d.e.limit() {
			d.turn()
			return work, false
		}
	}
	work += d.pricer.filling()
	sheets := d.pricer.sheets
	read := sheets.Work()
	laid := dp.Size{} // of the last filling with limited copies
	for t, s := range d.residual.Stocks {
		charge := d.master.charge(t)*per + 1e-7*d.master.scale*per
		if s.Copies == 0 || float64(sheets.Value(t)) <= charge {
			continue
		}
		c := model.Pattern{Stock: t, Placed: sheets.Capped(t, d.pricer.demand)}
		work += int64(len(c.Placed)) * 4
		if d.worth(c) <= charge && d.residual.Stages == 0 {
			if scrap := d.e.scraps.Of(t); scrap != nil {
				c.Placed, laid = d.fill.FillScrap(scrap, d.pricer.values, d.pricer.demand), dp.Size{}
				work += d.fill.Work()
			} else {
				if s.W != laid.W || s.H > laid.H {
					laid = d.tallest(s.W)
					d.fill.Lay(laid.W, laid.H, d.pricer.values, d.pricer.demand)
					work += d.fill.Work()
				}
				c.Placed = dp.Clear(d.fill.Read(s.W, s.H, d.pricer.values, d.pricer.demand), d.residual.Items, s.Bad)
			}
		}
		if d.worth(c) > charge && d.master.add(c) {
			d.e.pass(c)
			more = true
		}
	}
	return work + sheets.Work() - read, more
}

// tallest is the size of the tallest sheet of a width that is left: one table
// fills all of that width.
func (d *dive) tallest(w int) dp.Size {
	out := dp.Size{W: w}
	for t, s := range d.residual.Stocks {
		if s.W == w && s.Copies != 0 && d.e.scraps.Of(t) == nil {
			out.H = max(out.H, s.H)
		}
	}
	return out
}

func (d *dive) worth(p model.Pattern) float64 {
	var v float64
	for _, q := range p.Placed {
		v += float64(d.pricer.values[q.Item])
	}
	return v
}

// fix takes whole copies out of the relaxed solution, or else one copy of a
// pattern with a large fraction.
func (d *dive) fix() (work int64) {
	x, _ := d.master.values()
	var order []int
	any := false
	for k, v := range x {
		n := int(v + 1e-6)
		if n > 0 {
			any = d.take(k, n) || any
		}
		if v > 1e-6 {
			order = append(order, k)
		}
	}
	if !any && len(order) > 0 {
		slices.SortStableFunc(order, func(a, b int) int {
			return int(math.Round((x[b] - x[a]) * 1e6))
		})
		pick := 0
		if d.loose > 0 {
			pick = min(d.e.rng.IntN(1+d.loose), d.e.rng.IntN(len(order)))
		}
		k := order[pick]
		d.trail = append(d.trail, choice{residualOf(d.residual), join(d.fixed, &model.Solution{}), d.spent, d.master, slices.Delete(order, pick, pick+1)})
		any = d.take(k, 1)
	}
	return d.down(any)
}

// down goes on below what was fixed, with the tail once little remains.
func (d *dive) down(any bool) (work int64) {
	var wanted int64
	for _, it := range d.residual.Items {
		wanted += it.Area() * int64(it.Demand)
	}
	var sheet int64
	for _, s := range d.residual.Stocks {
		sheet = max(sheet, s.Area())
	}
	if !any || wanted <= 2*sheet {
		d.tail = svc.New(d.residual, d.e.scraps, sinkFunc(d.e.pass), d.e.opt.Seed+uint64(d.e.tries))
		return 20
	}
	d.enter()
	return 50 + int64(len(d.master.patterns))
}

// turn goes back to the last choice that has others left, and takes the next
// one; after some turns the dive is over.
func (d *dive) turn() {
	d.tail, d.work = nil, 0
	for d.turns++; d.turns <= diveTurns && len(d.trail) > 0; {
		c := &d.trail[len(d.trail)-1]
		if len(c.others) == 0 {
			d.trail = d.trail[:len(d.trail)-1]
			continue
		}
		k := c.others[0]
		c.others = c.others[1:]
		d.residual, d.fixed, d.spent, d.master = residualOf(c.residual), join(c.fixed, &model.Solution{}), c.spent, c.master
		if d.take(k, 1) {
			d.down(true)
			return
		}
	}
	d.over = true
}

// take fixes up to n copies of a pattern, as long as it is wanted in full.
func (d *dive) take(k, n int) bool {
	p, counts := d.master.patterns[k], d.master.counts[k]
	for i, c := range counts {
		if c > 0 {
			n = min(n, d.residual.Items[i].Demand/c)
		}
	}
	s := &d.residual.Stocks[p.Stock]
	if s.Copies != model.Unlimited {
		n = min(n, s.Copies)
	}
	if n <= 0 {
		return false
	}
	if s.Copies != model.Unlimited {
		s.Copies -= n
	}
	for i, c := range counts {
		d.residual.Items[i].Demand -= c * n
	}
	d.fixed.Add(p, n)
	d.spent += s.Cost * int64(n)
	return true
}

// finish completes the dive with a search of the last few sheets.
func (d *dive) finish() (work int64) {
	d.tail.Aim(d.e.limit() - d.spent)
	work, more := d.tail.Run(5000)
	d.work += work
	if s := d.tail.Best(); s != nil {
		d.e.take(join(d.fixed, s))
	}
	if !more || d.work >= diveTail && d.tail.Passes() >= 3 {
		if d.e.opt.Tail != nil && d.e.bound < d.e.limit() {
			if s := d.e.opt.Tail(d.residual, d.e.limit()-d.e.unit()-d.spent); s != nil {
				d.e.take(join(d.fixed, s))
			}
		}
		d.turn()
	}
	return work
}
