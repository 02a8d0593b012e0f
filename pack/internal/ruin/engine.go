package ruin

import (
	"math"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/random"
)

// Options set an [Engine] up; the zero value is right.
type Options struct {
	Seed uint64
	// LowerBound is a cost no complete solution is below; the engine stops there.
	LowerBound int64
	// Warm, if set, is a solution to start from instead of insertion.
	Warm *model.Solution
	// Sink, if set, is offered the patterns of complete solutions, and now and
	// then those of states with little outside.
	Sink model.Sink
}

// mostCopies is how many pieces the engine takes on. It keeps every sheet apart
// and a step looks at all of them.
const mostCopies = 20_000

// Engine implements [model.Engine].
type Engine struct {
	pr    *model.Problem
	opt   Options
	s     state
	climb climb
	rnd   random.Stream

	first   first
	started bool // the first solution is made
	idle    bool // nothing can be found
	rises   int  // how often pieces outside gained weight
	best    *model.Solution
	cost    int64 // of best
	aim     int64 // only solutions below it count
}

var _ model.Engine = (*Engine)(nil)

// New returns an engine for the problem, which must not change while it is
// used. Stocks with bad regions are left alone. A problem of more than 20,000
// pieces, or with a piece that fits no stock, is not worked on.
func New(pr *model.Problem, opt Options) *Engine {
	e := &Engine{pr: pr, opt: opt, rnd: random.Stream(opt.Seed), aim: math.MaxInt64 / 2}
	e.s.init(pr)
	copies := 0
	for i, it := range pr.Items {
		copies += it.Demand
		e.idle = e.idle || it.Demand > 0 && !e.s.fitsSome(&e.s.items[i])
	}
	e.idle = e.idle || copies > mostCopies
	return e
}

// unit is the work counted in a microsecond, stepWork what a step costs beside
// the loops that count their own; both were measured.
const (
	unit     = 520
	stepWork = 50
)

// Run implements [model.Engine].
func (e *Engine) Run(budget int64) (spent int64, more bool) {
	s := &e.s
	from := s.work
	if !e.started && !e.done() {
		e.start(from + budget*unit)
	}
	for e.started && !e.done() && s.work-from < budget*unit {
		e.step()
	}
	return (s.work - from + unit - 1) / unit, !e.done()
}

// Best implements [model.Engine].
func (e *Engine) Best() *model.Solution { return e.best }

// Aim implements [model.Engine].
func (e *Engine) Aim(cost int64) {
	if cost < e.aim {
		e.aim = cost
		e.tighten()
	}
}

func (e *Engine) done() bool { return e.idle || e.aim <= max(0, e.opt.LowerBound) }

// tighten keeps the search below the aim.
func (e *Engine) tighten() {
	if !e.started || e.done() {
		return
	}
	s := &e.s
	s.limit = e.aim - 1
	s.mark()
	s.shrink(&e.rnd)
	s.mark()
	e.climb.from(s.rank())
}

// complete keeps the state as a solution if nothing is outside and it is the
// cheapest so far.
func (e *Engine) complete() {
	s := &e.s
	if len(s.list) > 0 || e.best != nil && s.cost >= e.cost {
		return
	}
	e.best, e.cost = s.solution(), s.cost
	e.aim = min(e.aim, s.cost)
	e.offer()
}

// offer shows the sheets as they are to the sink.
func (e *Engine) offer() {
	if e.opt.Sink == nil {
		return
	}
	s := &e.s
	for _, i := range s.slots[:s.open] {
		if t := &s.sheets[i]; len(t.nodes) > 0 {
			e.opt.Sink.Offer(s.pattern(t))
		}
	}
}
