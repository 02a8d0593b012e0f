package blocks

import (
	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// FillOptions steer a [FillSearch].
type FillOptions struct {
	// Stock is the index of the stock to fill.
	Stock int
	// Memory bounds the blocks held at once; 0 is 180 MB.
	Memory int
}

// FillSearch looks for the most valuable layout of one sheet.
type FillSearch struct {
	s       *sheet
	unit    int64   // common divisor of the values, which are divided by it here
	value   []int64 // by item
	counted []bool
	pack    *packing
	relax   *relax
	prices  *prices
	out     *outside
	enum    *enumeration
	bounded *dp.Bounded
	around  *around // if there are bad areas
	mender  *mender
	mended  bool // the last step forward was mending

	goal int64 // if positive, only layouts worth this much matter

	best  model.Pattern
	worth int64
	bound int64
	by    string // what gave the bound

	phase  phase
	steps  int64
	unpaid int64   // steps of setting up that no Run has counted yet
	rough  *prices // while prices are found on coarse measures
	// patience is the step at which probes without prices end; negative before
	// them, 0 when there are prices.
	patience int64
	probe    probe
	memory   int
}

type phase uint8

const (
	opening   phase = iota // a first idea of very large sheets
	unlimited              // copies without limit
	pricing                // prices, at first on coarse measures
	relaxing               // the relaxation at the best prices
	reversing
	probing
	finished
)

// How many rectangles a relaxation may tell apart: when the demands cannot bind
// or are not yet known to; when they do; and for a first idea of the prices.
const (
	mostCells   = 14_000_000
	pricedCells = 1_000_000
	roughCells  = 12_000
)

// The first idea of the prices is found by long steps, what is left to find on
// the full measures by short ones.
var (
	roughPace = pace{0.03, 0.0002, 120}
	finePace  = pace{0.002, 0.00003, 40}
	wholePace = pace{0.03, 0.00003, 160}
)

// fineSteps bounds the work for prices on full measures.
const fineSteps = 300_000 * stepsPerUnit

// probe is the present enumeration: for all layouts of a value, or with few
// blocks of each size for a good one.
type probe struct {
	begun  bool
	narrow bool
	step   int64 // how far below the bound the target was put
	room   int   // blocks for the next complete one
	width  int   // blocks of a size for the next narrow one
	lift   int64 // how far above the best value the next narrow target is put, in 1/256 of the gap
	top    int   // blocks of a size for the next narrow one at the bound
	atTop  bool  // the narrow one is at the bound
	tries  int   // at the bound
	spent  bool  // there is no room to try everything
	target int64
}

// stepsPerUnit is how many steps of the inner loops make a unit of work.
const stepsPerUnit = 400

// NewFill prepares the search for the most valuable layout of one stock of pr.
// Every item has a positive value; all copies together are worth less than 1<<57.
// With bad areas only small sheets are searched
// completely.
func NewFill(pr *model.Problem, o FillOptions) *FillSearch {
	f := &FillSearch{}
	for _, it := range pr.Items {
		f.value = append(f.value, it.Value)
	}
	f.init(pr, o, false)
	if bad := pr.Stocks[o.Stock].Bad; len(bad) > 0 && f.phase != finished {
		f.around = newAround(f, bad)
	}
	return f
}

func (f *FillSearch) init(pr *model.Problem, o FillOptions, all bool) {
	f.s = newSheet(pr, o.Stock, mostCells)
	if !f.s.exact() {
		// No filling of a coarse relaxation is a layout: it need not be fine.
		f.s = f.s.coarser(pricedCells)
	}
	f.best.Stock = o.Stock
	f.counted = make([]bool, len(pr.Items))
	for _, v := range f.value {
		f.unit = model.GCD(f.unit, v)
	}
	for i, it := range pr.Items {
		f.value[i] /= f.unit
		f.counted[i] = all || f.s.demand[i] < most(it, pr.Stocks[o.Stock])
		f.bound += int64(f.s.demand[i]) * f.value[i]
	}
	f.by = "every piece"
	if len(f.s.shapes) == 0 {
		f.bound, f.phase = 0, finished
		return
	}
	f.lower(f.s.densest(f.value), "area")
	if f.s.vast {
		f.offerOver(nil)
		f.phase = finished
		return
	}
	f.pack = newPacking(f.s.demand, f.counted)
	f.relax = newRelax(f.s)
	f.prices = newPrices(f.relax, f.s.demand, f.value, f.counted, all, f.bound)
	f.patience = -1
	f.memory = o.Memory
	if f.memory == 0 {
		f.memory = 180 << 20
	}
}

// Best returns the best layout so far and its value.
func (f *FillSearch) Best() (model.Pattern, int64) { return f.best, f.worth * f.unit }

// Bound is an upper bound on the value of any layout.
func (f *FillSearch) Bound() int64 { return f.bound * f.unit }

// BoundBy names what gave the bound.
func (f *FillSearch) BoundBy() string { return f.by }

func (f *FillSearch) lower(bound int64, by string) {
	if bound < f.bound {
		f.bound, f.by = bound, by
	}
}

// Proved tells whether no layout is worth more than the best.
func (f *FillSearch) Proved() bool { return f.bound == f.worth }

// Run works for about budget units of about a microsecond, returns how many were
// spent, and tells whether running on could find or prove anything more.
func (f *FillSearch) Run(budget int64) (spent int64, more bool) {
	start := f.steps
	for end := f.steps + budget*stepsPerUnit; f.steps < end && f.phase != finished; {
		if f.settled() {
			f.phase = finished
			break
		}
		if f.around != nil {
			f.around.work(end - f.steps)
			continue
		}
		f.work(end - f.steps)
	}
	start -= f.unpaid
	f.unpaid = 0
	return (f.steps - start + stepsPerUnit - 1) / stepsPerUnit, f.phase != finished
}

// settled tells whether nothing better can be of interest.
func (f *FillSearch) settled() bool { return f.bound < f.next() }

// next is the least value that would be of interest.
func (f *FillSearch) next() int64 {
	if f.worth < f.goal {
		return f.goal
	}
	return f.worth + 1
}

// offerOver takes a layout that may exceed the demands.
func (f *FillSearch) offerOver(placed []model.Placed) {
	f.offer(f.s.within(placed, f.value))
	f.steps += int64(len(placed)) * int64(len(f.s.shapes)+50)
}

// offer takes a layout within the demands.
func (f *FillSearch) offer(placed []model.Placed) {
	v := int64(0)
	for _, q := range placed {
		v += f.value[q.Item]
	}
	if v > f.worth {
		f.worth = v
		f.best = model.Pattern{Stock: f.s.stock, Placed: placed}
	}
}

// enumerate goes on with the present probe or begins the next.
func (f *FillSearch) enumerate(steps int64) {
	p, e := &f.probe, f.enum
	if !p.begun {
		p.begun = true
		if p.narrow {
			p.target = f.next() + (f.bound-f.next())*p.lift/256
			width := p.width
			if p.atTop {
				p.target, width = f.bound, p.top
			}
			room := p.room
			if p.atTop {
				room = max(room, 400_000)
			}
			e.salt++
			e.start(p.target, min(room, e.ever), width)
		} else {
			p.target = max(f.next(), f.bound-p.step)
			e.start(p.target, min(p.room, e.ever), 0)
		}
	}
	before := e.steps
	end := e.run(steps)
	f.steps += max(e.steps-before, 1)
	if e.found != nil {
		f.offer(e.found.Placed)
		e.found, f.mended = nil, false
	}
	if end == running && e.target <= f.bound {
		return
	}
	p.begun = false
	if !e.cut && end != running {
		// Every block there is was built: nothing is worth the target.
		f.lower(e.target-1, "every block")
		f.mended = false
	}
	switch {
	case p.atTop:
		if end == complete {
			p.top *= 2
		} else {
			p.top = max(2, p.top*2/3)
		}
		// Three at the bound for each one that tries everything.
		if p.tries++; p.tries%3 == 0 || f.goal > 0 {
			p.atTop, p.narrow = false, p.spent
		}
	case p.narrow:
		if end == full {
			p.lift += (256 - p.lift + 1) / 2
		} else {
			p.width *= 2
			p.lift /= 2
		}
		p.narrow, p.atTop = p.spent, p.spent
	case end == complete:
		p.step = max(2*p.step, (f.bound-f.worth)/64, 1)
	case end == full:
		// With no room for more, only narrow ones follow.
		p.spent = p.room >= e.ever && p.step == 0
		p.narrow, p.atTop = true, p.step == 0
		p.step /= 4
		p.room *= 2
	}
}
