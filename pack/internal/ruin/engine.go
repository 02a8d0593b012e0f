package ruin

import "pinfold/pack/internal/model"

// Options set an [Engine] up; the zero value is right.
type Options struct {
	Seed uint64
	// LowerBound is a cost no complete solution is below; the engine stops there.
	LowerBound int64
	// Sink, if set, is offered the patterns of good solutions.
	Sink model.Sink
	// Warm, if set, is a solution to start from.
	Warm *model.Solution
	P    Params
}

type Params struct {
	Mu     int
	Hist   int
	Accept int
	Order  int
	Weigh  int
	WeighD int64
	Alpha  float64
	Focus  int
	Blink  int
}

// Engine is a goal-driven ruin and recreate search. It implements
// [model.Engine].
type Engine struct {
	pr  *model.Problem
	opt Options
	s   state
	rnd random

	best     *model.Solution
	bestCost int64
	aim      int64 // only cheaper solutions count

	started bool
	hist    []rank
	at      int
	now     rank

	least    rank
	stale    int64
	Steps    int64
	accepted int64
}

// rank orders states: less worth outside first, then more value left over.
type rank struct {
	worth, value int64
}

func (a rank) better(b rank) bool {
	return a.worth < b.worth || a.worth == b.worth && a.value > b.value
}

var _ model.Engine = (*Engine)(nil)

// New returns an engine for the problem, which must not change while it is used.
func New(pr *model.Problem, opt Options) *Engine {
	e := &Engine{pr: pr, opt: opt, aim: 1<<62 - 1, rnd: random(opt.Seed)}
	e.s.init(pr)
	if opt.P.Mu == 0 {
		opt.P.Mu = 4
	}
	if opt.P.Hist == 0 {
		opt.P.Hist = 30
	}
	e.opt = opt
	if opt.P.Alpha > 0 {
		e.s.values.power = powersOf(opt.P.Alpha)
	}
	return e
}

const microsecond = 550

func (e *Engine) Run(budget int64) (spent int64, more bool) {
	s := &e.s
	from := s.work
	if !e.started {
		e.start()
	}
	for !e.done() && s.work-from < budget*microsecond {
		e.step()
	}
	return (s.work - from + microsecond - 1) / microsecond, !e.done()
}

func (e *Engine) done() bool { return e.aim <= e.opt.LowerBound }

func (e *Engine) Best() *model.Solution { return e.best }

func (e *Engine) Aim(cost int64) {
	if cost < e.aim {
		e.aim = cost
		e.setLimit()
	}
}

func (e *Engine) rankNow() rank { return rank{e.s.worth, e.s.value} }

// start builds the first solutions.
func (e *Engine) start() {
	e.started = true
	s := &e.s
	s.limit = 1<<62 - 1
	for i, it := range e.pr.Items {
		s.drop(int32(i), int32(it.Demand))
	}
	if w := e.opt.Warm; w != nil && s.load(e.pr, w) {
		e.complete()
		e.setLimit()
		e.restart()
		return
	}
	s.mark()
	for o := byArea; o < orders; o++ {
		s.recreate(o, s.worth, &e.rnd, 0)
		e.complete()
		if o < orders-1 {
			s.back()
			s.mark()
		}
	}
	e.setLimit()
	e.restart()
}

func (e *Engine) restart() {
	s := &e.s
	s.Focus = e.opt.P.Focus
	s.mark()
	e.now = e.rankNow()
	e.hist = e.hist[:0]
	for range e.opt.P.Hist {
		e.hist = append(e.hist, e.now)
	}
	e.at = 0
	e.least, e.stale = e.now, 0
}

// setLimit lets the search look for solutions cheaper than any known.
func (e *Engine) setLimit() {
	s := &e.s
	s.limit = e.aim - 1
	if !e.started {
		return
	}
	for s.cost > s.limit && s.open > 0 {
		s.empty(e.rnd.below(s.open))
	}
}

// complete takes note of a state with nothing outside.
func (e *Engine) complete() {
	s := &e.s
	if s.worth > 0 || e.best != nil && s.cost >= e.bestCost {
		return
	}
	e.best, e.bestCost = s.solution(), s.cost
	e.aim = min(e.aim, s.cost)
	if e.opt.Sink != nil {
		for _, p := range e.best.Patterns {
			e.opt.Sink.Offer(p)
		}
	}
}

func (e *Engine) step() {
	s := &e.s
	e.Steps++
	if e.stale++; e.opt.P.Weigh > 0 && e.stale > int64(e.opt.P.Weigh) {
		for _, i := range s.list {
			it := &s.items[i]
			d := max(1, it.area/e.opt.P.WeighD)
			it.worth += d
			s.worth += d * int64(s.outs[i])
		}
		e.restart()
	}
	s.ruin(e.opt.P.Mu, &e.rnd)
	o := order(e.opt.P.Order)
	if e.opt.P.Order < 0 {
		o = order(e.rnd.below(int(orders)))
	}
	s.work += 50
	h := &e.hist[e.at]
	bar := max(e.now.worth, h.worth)
	if !s.recreate(o, bar, &e.rnd, uint64(e.opt.P.Blink)) {
		s.back()
		s.mark()
		return
	}
	r := e.rankNow()
	if !r.better(e.now) && h.better(r) {
		s.back()
		if e.opt.P.Accept == 1 {
			e.next(h)
		}
		s.mark()
		return
	}
	if r.better(e.least) {
		e.least, e.stale = r, 0
	}
	e.now = r
	e.next(h)
	s.mark()
	if r.worth == 0 {
		e.complete()
		e.setLimit()
		e.restart()
	}
}

func (e *Engine) next(h *rank) {
	if e.now.better(*h) {
		*h = e.now
	}
	if e.at++; e.at == len(e.hist) {
		e.at = 0
		e.least, e.stale = e.now, 0
	}
}
