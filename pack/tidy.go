package pack

import (
	"context"
	"math"
	"slices"
	"sync"

	"pinfold/units"
)

// mostTidied is how many copies of pieces of a cloth are laid out again at most.
const mostTidied = 20_000

// Tidy looks for other layouts of the same pieces from the same cloth that are
// better by the preference, in the passes of all cloths together, and returns
// what is best, in order as by [Arrange]: it is never worse than the layouts
// given. Nothing more is bought. Under [Thrift] so does the cloth at hand,
// else other pieces of it may be cut. The same call gives the same layouts,
// whatever the number of workers.
//
// Each cloth's pieces are glued into blocks and these packed, over and over with
// other blocks; what is best by itself is then held against what was there in the
// session of all cloths, and the blocks of all are cut in other orders. What is
// found under Thrift and Balanced counts for the preferences that allow it too, so
// that FewerPasses never takes more passes than Balanced, nor that more toil than
// Thrift; each takes the whole effort of the options.
func Tidy(ctx context.Context, cloths []Cloth, prefer Prefer, o Options) []Cloth {
	given := slices.Clone(cloths)
	Arrange(given)
	if len(given) == 0 || !alike(given) {
		return given
	}
	thrifty := tidy(ctx, given, Thrift, handLimits(given, Thrift), o)
	best := thrifty
	for _, p := range map[Prefer][]Prefer{Balanced: {Balanced}, FewerPasses: {Balanced, FewerPasses}}[prefer] {
		limits := handLimits(thrifty, p)
		next := tidy(ctx, given, p, limits, o)
		if within(next, limits) && prefer.compare(standingOf(next), standingOf(best)) < 0 {
			best = next
		}
	}
	return best
}

// within tells whether no more cloth at hand is cut than the limits let.
func within(cloths []Cloth, limits []units.Area) bool {
	for i, c := range cloths {
		if c.Problem.hand(c.Layouts) > limits[i] {
			return false
		}
	}
	return true
}

// tidy lays cloths out by one preference; limits are how much cloth at hand may be
// cut of each.
func tidy(ctx context.Context, given []Cloth, prefer Prefer, limits []units.Area, o Options) []Cloth {
	work := o.budget()
	better := make([][]Layout, len(given))
	var pieces int64
	benches := make([]*bench, len(given))
	for i, c := range given {
		benches[i] = newBench(c, prefer, limits[i], o.Seed)
		if b := benches[i]; b != nil {
			if b.pr.Copies() > mostTidied {
				benches[i] = nil
				continue
			}
			pieces += int64(b.pr.Copies())
		}
	}
	var wg sync.WaitGroup
	gate := make(chan struct{}, o.workers())
	for i, b := range benches {
		if b == nil || pieces == 0 || ctx.Err() != nil {
			continue
		}
		wg.Add(1)
		gate <- struct{}{}
		go func() {
			defer wg.Done()
			b.climb(ctx, work*3/4*int64(b.pr.Copies())/pieces)
			better[i] = b.found
			<-gate
		}()
	}
	wg.Wait()
	best := recut(ctx, given, prefer, work/16)
	for i := range given {
		if better[i] == nil {
			continue
		}
		next := slices.Clone(best)
		next[i].Layouts = better[i]
		next = recut(ctx, next, prefer, work/16)
		if prefer.compare(standingOf(next), standingOf(best)) < 0 {
			best = next
		}
	}
	if prefer.compare(standingOf(best), standingOf(given)) < 0 {
		return best
	}
	return given
}

// recut improves the cuts of all cloths and puts them in order.
func recut(ctx context.Context, cloths []Cloth, prefer Prefer, budget int64) []Cloth {
	r := newRecutter(cloths, prefer)
	r.over = func() bool { return ctx.Err() != nil }
	r.improve(budget)
	out := slices.Clone(cloths)
	for i, ls := range r.layouts() {
		out[i].Layouts = ls
	}
	Arrange(out)
	return out
}

// alike tells whether the rules of all cloths are the same, folding left out.
func alike(cloths []Cloth) bool {
	first := cloths[0].Problem.Rules
	for _, c := range cloths {
		rules := c.Problem.Rules
		rules.Flat = first.Flat
		if rules != first {
			return false
		}
	}
	return true
}

// handLimits is how much cloth at hand may be cut of each cloth.
func handLimits(cloths []Cloth, prefer Prefer) []units.Area {
	out := make([]units.Area, len(cloths))
	for i, c := range cloths {
		p := c.Problem
		hand := p.hand(c.Layouts)
		switch prefer {
		case Thrift:
			out[i] = hand
		case FewerPasses:
			out[i] = math.MaxInt64
		case Balanced:
			_, bought := p.paid(c.Layouts)
			out[i] = hand + (hand+bought)*BalancedCloth/100
		}
	}
	return out
}
