// Package search runs the engines on one problem of fixed stocks until a
// solution is proved best or the work allowed is used up.
//
// Work goes round by round: in each round every engine that still has something
// to do gets a quantum of work, several at a time if there are cores, then, at
// the barrier, what they found is exchanged in a fixed order. So the outcome
// depends on the problem, the seed and the budget alone. The context is looked
// at at barriers, and by long insertions.
//
// Start with [New] and [Search.Run]; players.go says which engines a problem gets,
// and rounds.go is a round.
package search

import (
	"context"

	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
)

// Options steer a [Search].
type Options struct {
	// Effort is the work the search is likely to be given in all; parts of the
	// engines are sized by it.
	Effort  int64
	Seed    uint64
	Workers int
	// Progress, if set, is called with each better solution or bound.
	Progress func(best *model.Solution, bound, work int64)
}

// Outcome is what a [Search] found.
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
}

// Search looks for the cheapest complete solution of one problem.
type Search struct {
	pr      *model.Problem
	o       Options
	copies  int
	aim     int64 // only cheaper solutions are of interest, if positive
	out     Outcome
	all     int64 // what all sheets cost together, -1 if one is unlimited
	missing int64 // the area that Partial leaves out
	players []*player
	quantum int64
	idle    bool // the last round had nothing to do
}

// New starts a search by proving the cheap bounds.
func New(pr *model.Problem, o Options) *Search {
	r := &Search{pr: pr, o: o, copies: pr.Copies()}
	for _, st := range pr.Stocks {
		if st.Copies == model.Unlimited {
			r.all = -1
			break
		}
		r.all += st.Cost * int64(st.Copies)
	}
	r.out.Bound, r.out.ProvedBy = bounds.Cost(pr)
	return r
}

// Aim tells the search that only solutions cheaper than cost are of interest.
func (r *Search) Aim(cost int64) {
	if r.aim == 0 || cost < r.aim {
		r.aim = max(cost, 1)
		for _, p := range r.players {
			p.Aim(cost)
		}
	}
}

// Outcome returns what was found so far.
func (r *Search) Outcome() Outcome { return r.out }

// Done tells whether nothing better can be found: the bound is met, or lies above
// what all sheets cost together.
func (r *Search) Done() bool {
	if r.out.Best != nil && r.out.Best.Cost(r.pr) <= r.out.Bound {
		return true
	}
	return r.aim > 0 && r.out.Bound >= r.aim || r.Impossible()
}

// Impossible tells whether the sheets are proved not to hold everything.
func (r *Search) Impossible() bool { return r.all >= 0 && r.out.Bound > r.all }

// Over tells whether running on can find anything more.
func (r *Search) Over() bool {
	return r.Done() || r.idle
}

// Run works on for about budget units, or until nothing better can be found or
// the context ends.
func (r *Search) Run(ctx context.Context, budget int64) {
	end := r.out.Work + budget
	if r.out.Work == 0 {
		r.first(ctx, end)
	}
	r.rounds(ctx, end)
	if r.out.Best == nil && r.aim == 0 {
		r.fillUp(ctx, budget)
	}
}

// first makes the first solutions by insertion.
func (r *Search) first(ctx context.Context, end int64) {
	limit := func() int64 { return insert.Work(r.pr, end/8) - r.out.Work }
	for _, rule := range insert.Rules(r.copies) {
		if r.copies <= insert.Many {
			s, work := insert.Together(ctx, r.pr, rule, limit())
			r.offer(s, work)
		}
		s, work := insert.Repeated(ctx, r.pr, rule, limit())
		r.offer(s, work)
		if r.Done() || r.out.Work > end/8+1 || ctx.Err() != nil {
			return
		}
	}
}

// offer takes a solution into account.
func (r *Search) offer(s *model.Solution, work int64) {
	r.out.Work += work
	if lacks := s.Lacks(r.pr); lacks > 0 {
		if r.out.Best == nil && (r.out.Partial == nil || lacks < r.missing) {
			r.out.Partial, r.missing = s, lacks
		}
		return
	}
	cost := s.Cost(r.pr)
	if r.aim > 0 && cost >= r.aim {
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

func (r *Search) progress() {
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
