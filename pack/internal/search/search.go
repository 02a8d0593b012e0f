// Package search runs the engines on one problem of fixed stocks until a
// solution is proved best or the work allowed is used up.
//
// Work goes round by round: in each round every engine that still has something
// to do gets a quantum of work, several at a time if there are cores, then, at
// the barrier, what they found is exchanged in a fixed order. So the outcome
// depends on the problem, the seed and the budget alone. The context is looked
// at only at barriers.
package search

import (
	"context"

	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
)

// Options steer [Run].
type Options struct {
	Budget  int64 // work units in all
	Seed    uint64
	Workers int
	// Aim, if positive, is a cost to be beaten: only cheaper complete solutions
	// are of interest, and the search ends at once when none can exist.
	Aim int64
	// Progress, if set, is called with each better solution or bound.
	Progress func(best *model.Solution, bound, work int64)
}

// Outcome is what [Run] found.
type Outcome struct {
	// Best is the cheapest complete solution, nil if none was found.
	Best *model.Solution
	// Partial is the solution that leaves least area missing, when none is
	// complete.
	Partial *model.Solution
	// Bound is a proved lower bound on the cost of complete solutions, by the
	// bound named ProvedBy.
	Bound    int64
	ProvedBy string
	Work     int64
	Stopped  bool // the context ended the search
}

// smallJob is up to how many copies all sheets are kept open at once.
const smallJob = 600

// Run searches for the cheapest complete solution.
func Run(ctx context.Context, pr *model.Problem, o Options) Outcome {
	r := &run{pr: pr, o: o}
	for _, it := range pr.Items {
		r.copies += it.Demand
	}
	r.out.Bound, r.out.ProvedBy = bounds.Cost(pr)
	if o.Aim > 0 && r.out.Bound >= o.Aim {
		return r.out
	}
	r.first(ctx)
	if !r.done() && !r.out.Stopped {
		r.engines(ctx)
	}
	return r.out
}

type run struct {
	pr     *model.Problem
	o      Options
	copies int
	out    Outcome
	// missing is the area that Partial leaves out.
	missing int64
}

// done tells whether nothing better can be found.
func (r *run) done() bool {
	if r.out.Best == nil {
		return r.o.Aim > 0 && r.out.Bound >= r.o.Aim
	}
	return r.out.Best.Cost(r.pr) <= r.out.Bound
}

// first makes the first solutions by insertion.
func (r *run) first(ctx context.Context) {
	for _, rule := range insert.Rules() {
		if r.copies <= smallJob {
			s, work := insert.Together(r.pr, rule)
			r.offer(s, work)
		}
		s, work := insert.Repeated(r.pr, rule)
		r.offer(s, work)
		if r.done() || r.out.Work > r.o.Budget {
			return
		}
		if ctx.Err() != nil {
			r.out.Stopped = true
			return
		}
	}
}

// offer takes a solution into account.
func (r *run) offer(s *model.Solution, work int64) {
	r.out.Work += work
	var lacks int64
	for i, n := range s.Missing(r.pr) {
		lacks += int64(max(n, 0)) * r.pr.Items[i].Area()
	}
	if lacks > 0 {
		if r.out.Best == nil && (r.out.Partial == nil || lacks < r.missing) {
			r.out.Partial, r.missing = s, lacks
		}
		return
	}
	cost := s.Cost(r.pr)
	if r.o.Aim > 0 && cost >= r.o.Aim {
		return
	}
	if b := r.out.Best; b != nil {
		old := b.Cost(r.pr)
		if cost > old || cost == old && touched(r.pr, s) >= touched(r.pr, b) {
			return
		}
	}
	r.out.Best, r.out.Partial = s, nil
	r.progress()
}

func (r *run) progress() {
	if r.o.Progress != nil && r.out.Best != nil {
		r.o.Progress(r.out.Best, r.out.Bound, r.out.Work)
	}
}

// touched is the area of the sheets a solution cuts into.
func touched(pr *model.Problem, s *model.Solution) int64 {
	var a int64
	for i, p := range s.Patterns {
		a += pr.Stocks[p.Stock].Area() * int64(s.Copies[i])
	}
	return a
}
