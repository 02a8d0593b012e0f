// Package colgen is column generation for sheets cut in quantity, after Gilmore
// and Gomory (A linear programming approach to the cutting-stock problem I and
// II, Operations Research 9, 1961, and 11, 1963; Multistage cutting stock
// problems of two and more dimensions, Operations Research 13, 1965) and Cintra,
// Miyazawa, Wakabayashi and Xavier (EJOR 191, 2008).
//
// A linear programme over the patterns known so far prices the items; a dynamic
// programme fills every kind of sheet for those prices; fillings worth more than
// their sheet become columns. Each round also gives a lower bound on the cost of
// any solution, computed in whole numbers so that no rounding can make it wrong.
// Whole solutions come from the whole copies of the relaxed solution and a
// search for the pieces that remain, of which there are never many: the work
// does not depend on the number of copies.
//
// Start with [New] and [Engine.Run]; read step in this file for the order of the
// work, then price.go, bound.go, and integer.go and dive.go for whole solutions.
package colgen

import (
	"math"
	"math/rand/v2"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/reselect"
	"pinfold/pack/internal/svc"
)

// Tail looks for a complete solution of a residual problem that costs at most
// target. It returns nil, or the best it has, if it finds none.
type Tail func(residual *model.Problem, target int64) *model.Solution

// Options are the parts an [Engine] is given; all may be left out.
type Options struct {
	Sink model.Sink
	Tail Tail
	Seed uint64
	// Effort is the work that the search around the engine is likely to be given.
	Effort int64
	// Scraps are the sheets with bad areas, if others use them as well.
	Scraps *dp.Scraps
}

// Engine is the search; use [New].
type Engine struct {
	pr  *model.Problem
	opt Options
	rng *rand.Rand

	first  *svc.Engine
	master *master
	pricer *pricer
	pool   *reselect.Pool
	scraps *dp.Scraps

	prices     prices
	bound      int64
	infeasible bool
	settled    bool // the bound can rise no further
	converged  bool // no filling is worth more than its sheet
	rounds     int

	best *model.Solution
	cost int64
	aim  int64

	rounding *rounding
	dive     *dive
	tries    int
}

// New returns a search of the problem.
func New(pr *model.Problem, opt Options) *Engine {
	e := &Engine{
		pr: pr, opt: opt, rng: rand.New(rand.NewPCG(opt.Seed, 0xc6)),
		prices: newPrices(pr), aim: math.MaxInt64,
	}
	if e.scraps = opt.Scraps; e.scraps == nil {
		e.scraps = dp.NewScraps(pr)
	}
	e.pool = reselect.NewPool(pr, poolSize)
	e.master = newMaster(pr)
	e.pricer = newPricer(pr, e.scraps, mostCells)
	e.first = svc.New(pr, e.scraps, sinkFunc(e.learn), opt.Seed)
	e.raise(areas(pr))
	e.homogeneous()
	return e
}

var _ model.Engine = (*Engine)(nil)

type sinkFunc func(model.Pattern)

func (f sinkFunc) Offer(p model.Pattern) { f(p) }

// poolSize is how many layouts are kept for choosing again.
const poolSize = 3000

// pass notes a pattern of whole pieces and passes it on.
func (e *Engine) pass(p model.Pattern) {
	e.pool.Offer(p)
	if e.opt.Sink != nil {
		e.opt.Sink.Offer(p)
	}
}

// learn notes a pattern and makes it a column.
func (e *Engine) learn(p model.Pattern) {
	e.pass(p)
	e.master.add(p)
}

// homogeneous gives the master a grid of each item on each stock; in one stage, the
// longer of a row and a column.
func (e *Engine) homogeneous() {
	for t, s := range e.pr.Stocks {
		for k, it := range e.pr.Items {
			for _, turned := range []bool{false, true} {
				w, h := it.Sides(turned)
				if it.Demand == 0 || turned && !it.Turn || w > s.W || h > s.H {
					continue
				}
				p := model.Pattern{Stock: t}
				right, top := s.W, s.H
				if e.pr.Stages == 1 {
					if s.W/w > s.H/h {
						top = h
					} else {
						right = w
					}
				}
				for y := 0; y+h <= top; y += h {
					for x := 0; x+w <= right && len(p.Placed) < it.Demand; x += w {
						p.Placed = append(p.Placed, model.Placed{Item: int32(k), X: int32(x), Y: int32(y), Turned: turned})
					}
				}
				p.Placed = dp.Clear(p.Placed, e.pr.Items, s.Bad)
				e.learn(p)
			}
		}
	}
}

// Best returns the cheapest complete solution so far, or nil.
func (e *Engine) Best() *model.Solution { return e.best }

// Bound is a lower bound on the cost of every complete solution.
func (e *Engine) Bound() int64 { return e.bound }

// Infeasible tells whether the stocks are proved not to hold all pieces.
func (e *Engine) Infeasible() bool { return e.infeasible }

// Aim limits the search to solutions cheaper than cost.
func (e *Engine) Aim(cost int64) { e.aim = min(e.aim, cost) }

// Run works for about budget units. It has nothing more to find when the bound
// is met, or when the stocks are proved too small; otherwise it goes on.
func (e *Engine) Run(budget int64) (spent int64, more bool) {
	for spent < budget {
		if e.finished() {
			return spent, false
		}
		spent += e.step()
	}
	return spent, !e.finished()
}

// limit is the cost that is to be beaten.
func (e *Engine) limit() int64 {
	if e.best == nil {
		return e.aim
	}
	return min(e.aim, e.cost)
}

// unit is the least by which a cost can be beaten.
func (e *Engine) unit() int64 { return max(1, e.prices.unit) }

// finished tells whether nothing is left to find.
func (e *Engine) finished() bool {
	return e.infeasible || e.bound >= e.limit()
}

// passes of the first solution at most; one is enough unless stock is short.
const firstPasses = 4

func (e *Engine) step() (work int64) {
	switch {
	case e.best == nil && e.first.Passes() < firstPasses:
		work, _ = e.first.Run(1)
		e.take(e.first.Best())
	case !e.converged && (!e.settled || e.tries > 0 && e.rounding == nil):
		// Once the bound is final, one attempt comes before better prices.
		work = e.round()
	default:
		work = e.integer()
	}
	return work
}

// areas are values of the items, and of full sheets, that bound the cost without
// any filling.
func areas(pr *model.Problem) (values, most []int64) {
	for _, it := range pr.Items {
		values = append(values, it.Area())
	}
	for _, s := range pr.Stocks {
		most = append(most, s.Room())
	}
	return values, most
}

// take keeps a complete solution if it is the cheapest.
func (e *Engine) take(s *model.Solution) {
	if s == nil {
		return
	}
	if c := s.Cost(e.pr); e.best == nil || c < e.cost {
		e.best, e.cost = s, c
	}
}
