package blocks

import "pinfold/pack/internal/model"

// prices looks for the best Lagrangian bound on a sheet: each copy taken costs a
// price, each copy demanded returns it, and the demands are forgotten. The
// bound holds for any prices that are not negative, and for any prices at all
// when every piece must be taken. They follow the usual subgradient steps, in
// whole numbers so that every bound is exact.
type prices struct {
	s       *sheet
	relax   *relax
	free    bool   // prices may be negative
	counted []bool // items with a price
	value   []int64
	scale   int64 // what a unit of value counts

	price, bestPrice []int64
	worth            []int64
	bound            int64 // scaled, of bestPrice
	share            int64 // of the full step, in sixteenths
	stalled          int
	rounds           int
	begun, done      bool
	over             []int // by how much the last filling exceeds the demands
}

func newPrices(s *sheet, r *relax, value []int64, counted []bool, free bool, limit int64) *prices {
	n := len(value)
	p := &prices{
		s: s, relax: r, free: free, counted: counted, value: value, scale: 1,
		price: make([]int64, n), bestPrice: make([]int64, n), worth: make([]int64, n),
		over: make([]int, n), share: 16, bound: -1,
	}
	for limit*p.scale < 1<<44 && p.scale < 64 {
		p.scale *= 2
	}
	return p
}

// base is what the prices return for the demands.
func (p *prices) base(price []int64) (b int64) {
	for i, c := range price {
		b += c * int64(p.s.demand[i])
	}
	return b
}

// set makes the relaxation begin anew under the given prices.
func (p *prices) set(price []int64) {
	for i, v := range p.value {
		p.worth[i] = p.scale*v - price[i]
	}
	p.relax.start(p.worth)
}

// run works for about the given number of relaxation steps, and calls seen with
// every filling found. goal is the value known to be reached.
func (p *prices) run(steps, goal int64, seen func([]model.Placed)) {
	for before := p.relax.steps; !p.done; before = 0 {
		if !p.begun {
			p.set(p.price)
			p.begun, before = true, 0
		}
		if !p.relax.run(steps) {
			return
		}
		steps -= p.relax.steps - before
		p.begun = false
		p.step(goal, seen)
		if steps <= 0 {
			return
		}
	}
}

// step judges a completed relaxation and moves the prices.
func (p *prices) step(goal int64, seen func([]model.Placed)) {
	total := p.relax.best[len(p.relax.best)-1] + p.base(p.price)
	p.rounds++
	if p.bound < 0 || total < p.bound {
		if p.bound >= 0 && p.bound-total < (p.bound-p.scale*goal)/200 {
			p.stalled++
		} else {
			p.stalled = 0
		}
		p.bound = total
		copy(p.bestPrice, p.price)
	} else {
		p.stalled++
	}
	if p.stalled >= 4 {
		p.share /= 2
		p.stalled = 0
		copy(p.price, p.bestPrice)
	}
	placed, ok := p.relax.pattern()
	if !ok || p.bound/p.scale <= goal || p.share == 0 {
		p.done = true
		return
	}
	seen(placed)
	for i := range p.over {
		p.over[i] = -p.s.demand[i]
	}
	for _, q := range placed {
		p.over[q.Item]++
	}
	norm := int64(0)
	for i, d := range p.over {
		if !p.counted[i] || d < 0 && p.price[i] == 0 && !p.free {
			p.over[i] = 0
			continue
		}
		norm += int64(d) * int64(d)
	}
	if norm == 0 {
		p.done = true
		return
	}
	gap := total - p.scale*goal
	for i, d := range p.over {
		p.price[i] += gap * int64(d) / norm * p.share / 16
		if !p.free {
			p.price[i] = max(p.price[i], 0)
		}
	}
}
