package ruin

import "math"

// first is how far the making of the first solution has come. A sheet that holds
// hundreds of pieces takes long to fill, so it is made a little at a time.
type first struct {
	begun bool
	order order // being tried; orders when the best is taken again
	pick  order // the best
	least rank  // of the best
}

// start goes on making the first solution until the work is end: from the warm
// one or by insertion in the best of several orders.
func (e *Engine) start(end int64) {
	s := &e.s
	if !e.first.begun {
		e.begin()
	}
	for !e.started {
		for s.turn < len(s.list) {
			if s.work >= end {
				return
			}
			s.putNext(&e.rnd, 0)
		}
		s.trim()
		e.tried()
	}
}

// begin puts everything outside but what the warm solution holds.
func (e *Engine) begin() {
	s := &e.s
	s.limit = math.MaxInt64 / 2
	for i, it := range e.pr.Items {
		s.drop(int32(i), int32(it.Demand))
	}
	s.trim()
	if w := e.opt.Warm; w != nil {
		s.load(e.pr, w)
	}
	s.mark()
	e.first = first{begun: true, least: rank{math.MaxInt64, 0}}
	e.try(byWorth)
}

// try inserts in an order next.
func (e *Engine) try(o order) {
	e.s.arrange(o)
	e.s.lineUp()
}

// tried judges the order that was tried and goes on to the next; the search
// starts from the best.
func (e *Engine) tried() {
	s, f := &e.s, &e.first
	if f.order == orders {
		e.started = true
		s.arrange(byWorth)
		s.mark()
		e.climb.from(s.rank())
		e.tighten()
		return
	}
	if r := (rank{s.worth, -s.cost}); r.better(f.least) {
		f.pick, f.least = f.order, r
	}
	e.complete()
	s.back()
	s.mark()
	if f.order++; len(s.list) == 0 {
		f.order = orders
	}
	if f.order < orders {
		e.try(f.order)
	} else {
		e.try(f.pick)
	}
}
