package colgen

import (
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/svc"
)

// rounding is one attempt at a whole solution: some whole copies of patterns,
// and a search for the rest.
type rounding struct {
	fixed    *model.Solution
	spent    int64
	residual *model.Problem
	tail     *svc.Engine
	work     int64
	asked    bool
}

// How long one residual is searched, and how long the pool is added to and
// searched after each dive.
const (
	tailWork   = 150_000 // at most
	leastTail  = 10_000
	enrichWork = 50_000
	chooseWork = 200_000
)

// integer goes on with the present attempt, or begins another.
func (e *Engine) integer() (work int64) {
	if e.dive != nil {
		work = e.dive.step()
		if e.dive.over {
			e.dive = nil
			work += e.choose()
		}
		return work
	}
	if e.rounding == nil {
		if e.tries++; e.tries%2 == 0 {
			e.dive = e.newDive(min(e.tries/2-1, 8))
		} else {
			e.rounding = e.floor(e.tries / 2)
		}
		return 50
	}
	r := e.rounding
	r.tail.Aim(e.limit() - r.spent)
	w, more := r.tail.Run(5000)
	r.work += w
	if s := r.tail.Best(); s != nil {
		e.take(join(r.fixed, s))
	}
	if e.bound >= e.limit() {
		return w
	}
	if !more || r.work >= e.tailWork() && r.tail.Passes() >= 3 {
		if e.opt.Tail != nil && !r.asked {
			r.asked = true
			if s := e.opt.Tail(r.residual, e.limit()-e.unit()-r.spent); s != nil {
				e.take(join(r.fixed, s))
			}
		}
		e.rounding = nil
	}
	return w
}

// tailWork is how long one residual is searched: several attempts are better than one
// long one.
func (e *Engine) tailWork() int64 {
	if e.opt.Effort == 0 {
		return tailWork
	}
	return min(max(e.opt.Effort/25, leastTail), tailWork)
}

// choose selects again from everything met so far, and from fillings for prices
// a little beside the relaxed ones.
func (e *Engine) choose() (work int64) {
	prices, beside := e.master.prices(), make([]float64, len(e.pr.Items))
	for work < enrichWork {
		for k, v := range prices {
			beside[k] = v * (0.85 + 0.3*e.rng.Float64())
		}
		e.pricer.price(beside, e.master.scale)
		if e.pricer.quick == nil {
			work += e.pricer.prove()
		}
		work += e.pricer.filling() + 50
		read := e.pricer.sheets.Work()
		for t, s := range e.pr.Stocks {
			if s.Copies != 0 {
				e.pass(model.Pattern{Stock: t, Placed: e.pricer.sheets.Capped(t, e.pricer.demand)})
			}
		}
		work += e.pricer.sheets.Work() - read
	}
	s, w := e.pool.Choose(e.limit(), e.bound, chooseWork)
	e.take(s)
	return work + w
}

func join(a, b *model.Solution) *model.Solution {
	return &model.Solution{
		Patterns: slices.Concat(a.Patterns, b.Patterns),
		Copies:   slices.Concat(a.Copies, b.Copies),
	}
}

// floor fixes the whole copies of the relaxed solution, less some of the most
// wasteful sheets in later tries.
func (e *Engine) floor(try int) *rounding {
	x, _ := e.master.values()
	copies := make([]int, len(x))
	var used []int
	for k, v := range x {
		if copies[k] = int(v + 1e-6); copies[k] > 0 {
			used = append(used, k)
		}
	}
	slices.SortStableFunc(used, func(a, b int) int {
		return int(e.waste(b)*1e6) - int(e.waste(a)*1e6)
	})
	for n, at := (try+1)/2, 0; n > 0 && len(used) > 0; n-- {
		k := used[at%len(used)]
		if copies[k] > 0 {
			copies[k]--
		}
		at++
		if try > 2 {
			at = e.rng.IntN(len(used))
		}
	}
	return e.begin(copies)
}

// waste is the part of a pattern's sheet that its pieces leave.
func (e *Engine) waste(k int) float64 {
	p := e.master.patterns[k]
	area := e.pr.Stocks[p.Stock].Area()
	return 1 - float64(p.Area(e.pr))/float64(area)
}

// begin fixes copies of the master's patterns, as far as demands and stocks go.
func (e *Engine) begin(copies []int) *rounding {
	r := &rounding{fixed: &model.Solution{}}
	res := residualOf(e.pr)
	for k, n := range copies {
		if n == 0 {
			continue
		}
		p := e.master.patterns[k]
		r.fixed.Add(p, n)
		r.spent += int64(n) * e.pr.Stocks[p.Stock].Cost
		for i, c := range e.master.counts[k] {
			res.Items[i].Demand = max(0, res.Items[i].Demand-c*n)
		}
		if s := &res.Stocks[p.Stock]; s.Copies != model.Unlimited {
			s.Copies -= n
		}
	}
	r.residual = res
	r.tail = svc.New(res, e.scraps, sinkFunc(e.pass), e.opt.Seed+uint64(e.tries))
	return r
}
