package pack

import (
	"context"
	"fmt"
	"runtime"
	"slices"

	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
	"pinfold/units"
)

// budget is the work an effort may spend, in units of about a microsecond of
// one core.
func (o Options) budget() int64 {
	return o.shareOf(map[Effort]int64{Quick: 500_000, Normal: 5_000_000, Thorough: 100_000_000}[o.Effort])
}

// shareOf is the part of a whole effort's work that this problem may use.
func (o Options) shareOf(work int64) int64 { return work * int64(o.share()) / 100 }

// share is the part of the effort that this problem may use, in percent.
func (o Options) share() int {
	if o.Share > 0 {
		return o.Share
	}
	return 100
}

func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// Solve finds layouts that cut every piece for the least the effort can find,
// and a bound on what any plan must cost. When the stock does not hold every
// piece, the solution says which are missing. A context that ends stops the
// search at the next barrier with the best so far. The error is for a problem
// that does not pass [Problem.Validate] and [Problem.Countable], or for a bug of ours: a solution that
// does not pass [Check] is never returned.
func Solve(ctx context.Context, p Problem, o Options) (Solution, error) {
	if err := p.Validate(); err != nil {
		return Solution{}, err
	}
	if err := p.Countable(); err != nil {
		return Solution{}, err
	}
	if p.Roll != nil && !slices.ContainsFunc(p.Roll.Bolts(), Roll.sold) {
		p.Roll = nil
	}
	var out Solution
	var err error
	if p.UseUp {
		out, err = useUp(ctx, p, o)
	} else {
		out, err = solve(ctx, p, o)
	}
	if err != nil {
		return Solution{}, err
	}
	if err := Check(p, out); err != nil {
		return Solution{}, fmt.Errorf("pack: the solver made a solution that fails its check: %w", err)
	}
	return out, nil
}

// solve leaves UseUp out of account.
func solve(ctx context.Context, p Problem, o Options) (Solution, error) {
	if p.Roll != nil && len(p.Roll.Also) > 0 {
		return choose(ctx, p, o)
	}
	s := solver{p: p, o: o}
	return s.solve(ctx)
}

type solver struct {
	p     Problem
	o     Options
	small bool // small sheets at hand are cut into before large ones
	best  *candidate
	nodes int64
	name  string  // of the bound
	base  *scaled // the problem without a roll
}

// candidate is a solution by an engine with what it is a solution of.
type candidate struct {
	s       *scaled
	m       *model.Solution
	cost    int64
	missing int64
}

func (s *solver) solve(ctx context.Context) (Solution, error) {
	base, err := newScaled(s.p, nil)
	if err != nil {
		return Solution{}, err
	}
	s.base = base
	bound, name := int64(0), ""
	if s.p.Roll == nil {
		one := search.New(&base.model, s.searchOptions())
		one.Run(ctx, s.o.budget())
		out := one.Outcome()
		s.nodes = out.Work
		s.consider(base, out, 0)
		bound, name = out.Bound, out.ProvedBy
		if base.loose != nil {
			bound, name = bounds.Cost(base.loose)
		}
	} else if bound, name, err = s.roll(ctx); err != nil {
		return Solution{}, err
	}
	s.thrift(ctx)
	return s.finish(base, bound, name, ctx.Err() != nil)
}

func (s *solver) searchOptions() search.Options {
	return search.Options{Effort: s.o.budget(), Seed: s.o.Seed, Workers: s.o.workers(), Progress: s.progress}
}

func (s *solver) progress(best *model.Solution, _, _ int64) {
	if s.o.Progress != nil {
		s.o.Progress(Progress{Sheets: best.Sheets()})
	}
}

// consider keeps what a search found if it is better than what there is; sunk is
// added to its cost.
func (s *solver) consider(sc *scaled, out search.Outcome, sunk int64) {
	m := out.Best
	if m == nil {
		m = out.Partial
	}
	if m == nil {
		m = &model.Solution{}
	}
	c := &candidate{s: sc, m: m, cost: sunk + m.Cost(&sc.model), missing: m.Lacks(&sc.model)}
	if s.best == nil || c.missing < s.best.missing || c.missing == s.best.missing && c.cost < s.best.cost {
		s.best = c
	}
}

// finish converts the best candidate and adds the figures that do not depend on
// how it was found.
func (s *solver) finish(base *scaled, bound int64, name string, stopped bool) (Solution, error) {
	out, err := s.best.s.solution(s.best.m)
	if err != nil {
		return Solution{}, err
	}
	out.Price, out.Area = s.p.paid(out.Layouts)
	out.Cost = s.p.cost(out.Price, out.Area)
	out.Nodes, out.Stopped = s.nodes, stopped
	out.Bound, s.name = bound, name
	out.AreaBound = max(s.areaBound(), 0)
	out.SheetBound, _ = bounds.Sheets(base.limits())
	if s.p.Roll != nil {
		out.SheetBound = min(out.SheetBound, 1)
	}
	for _, n := range out.Missing {
		if n > 0 {
			// The bounds speak of plans that cut everything.
			out.Status = Short
			out.Bound, out.AreaBound = min(out.Bound, out.Cost), min(out.AreaBound, out.Area)
			return out, nil
		}
	}
	if out.Bound == out.Cost {
		out.Status, out.ProvedBy = Proved, name
	}
	return out, nil
}

// paid is the price and the area of what layouts buy.
func (p Problem) paid(layouts []Layout) (price int64, area units.Area) {
	for _, l := range layouts {
		n := int64(l.Copies)
		if l.Stock.Sheet == FromRoll {
			price += n * p.Roll.Cost(l.Stock.Length)
			area += units.Area(n) * units.AreaOf(p.Roll.W, l.Stock.Length)
		} else if sh := p.Sheets[l.Stock.Sheet]; !sh.Free {
			price += n * sh.Price
			area += units.Area(n) * sh.Area()
		}
	}
	return price, area
}

// cost is what the goal makes least.
func (p Problem) cost(price int64, area units.Area) int64 {
	if p.Goal == LeastArea {
		return int64(area)
	}
	return price
}

// lengthCost is what a length off the roll costs in the goal.
func (p Problem) lengthCost(bought units.Length) int64 {
	return p.cost(p.Roll.Cost(bought), units.AreaOf(p.Roll.W, bought))
}

// demanded is the area of all pieces.
func (p Problem) demanded() units.Area {
	var sum units.Area
	for _, q := range p.Pieces {
		sum += units.Area(q.Demand) * units.AreaOf(q.W, q.H)
	}
	return sum
}

// areaBound is the area of the pieces that the cloth at hand cannot hold.
func (s *solver) areaBound() units.Area {
	need := s.p.demanded()
	for _, sh := range s.p.Sheets {
		if !sh.Free {
			continue
		}
		if sh.Copies == Unlimited {
			return 0
		}
		need -= units.Area(sh.Copies) * sh.UsableArea()
	}
	return max(need, 0)
}
