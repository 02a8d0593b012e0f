package blocks

import "pinfold/pack/internal/model"

// prices looks for the best Lagrangian bound on a sheet: each copy taken costs a
// price, each copy demanded returns it, and the demands are forgotten. The
// bound holds for any prices that are not negative, and for any prices at all
// when every piece must be taken. They move along an average of the latest
// fillings' excess over the demands, from the best prices so far (Barahona &
// Anbil, The volume algorithm, Mathematical Programming 87, 2000), by steps
// that aim a little below the best bound. Prices are rounded to whole numbers,
// so that every bound is exact.
type prices struct {
	relax   relaxation
	demand  []int
	free    bool   // prices may be negative
	counted []bool // items with a price
	value   []int64
	scale   int64 // what a unit of value counts

	price, bestPrice []int64
	worth            []int64
	bound            int64   // scaled, of bestPrice; -1 before the first
	aim              float64 // how far below the bound a step aims, as a part of it
	mean             []float64
	failed, rounds   int
	trials           int // left
	begun, done      bool
	pace             pace
}

// relaxation is a best filling with unlimited copies of the items.
type relaxation interface {
	start(worth []int64)
	run(steps int64) bool
	steps() int64
	total() int64
	pattern() []model.Placed
	exact() bool // the pattern fits
}

// pace is how steps aim: first and at most at that part of the bound below it,
// until they would aim at less than the last, or for so many rounds.
type pace struct {
	first, last float64
	rounds      int
}

func newPrices(r relaxation, demand []int, value []int64, counted []bool, free bool, limit int64) *prices {
	n := len(value)
	p := &prices{
		relax: r, demand: demand, free: free, counted: counted, value: value, scale: 1,
		price: make([]int64, n), bestPrice: make([]int64, n), worth: make([]int64, n),
		mean: make([]float64, n), bound: -1,
	}
	for limit*p.scale < 1<<44 && p.scale < 64 {
		p.scale *= 2
	}
	return p
}

// refine goes on from the best prices, first trying towards others: whole, half
// and a quarter of the way, until they are better.
func (p *prices) refine(towards []int64, with pace) {
	p.pace, p.aim = with, with.first
	p.failed, p.rounds, p.begun, p.done = 0, 0, false, false
	p.trials = 0
	copy(p.price, p.bestPrice)
	if towards != nil {
		p.trials = 3
		copy(p.price, towards)
	}
}

// base is what the prices return for the demands.
func (p *prices) base(price []int64) (b int64) {
	for i, c := range price {
		b += c * int64(p.demand[i])
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

// run works for about the given number of steps, or until one more filling is
// known, and returns the steps taken. goal is the value known to be reached;
// seen is called with the filling.
func (p *prices) run(steps, goal int64, seen func([]model.Placed)) int64 {
	if !p.begun {
		p.set(p.price)
		p.begun = true
	}
	before := p.relax.steps()
	if p.relax.run(steps) {
		p.begun = false
		p.step(goal, seen)
	}
	return p.relax.steps() - before
}

// step judges a completed relaxation and moves the prices.
func (p *prices) step(goal int64, seen func([]model.Placed)) {
	total := p.relax.total() + p.base(p.price)
	p.rounds++
	placed := p.relax.pattern()
	if seen != nil && p.relax.exact() {
		seen(placed)
	}
	p.average(placed)
	switch {
	case p.bound < 0 || total <= p.bound:
		if p.bound >= 0 && float64(p.bound-total) > p.aim*float64(p.bound)/4 {
			p.aim = min(p.aim*1.5, p.pace.first)
			p.failed = 0
		}
		p.bound, p.trials = total, 0
		copy(p.bestPrice, p.price)
	case p.trials > 1:
		p.trials--
		for i := range p.price {
			p.price[i] = (p.price[i] + p.bestPrice[i]) / 2
		}
		return
	default:
		p.trials = 0
		if p.failed++; p.failed >= 3 {
			p.aim /= 2
			p.failed = 0
		}
	}
	if p.bound/p.scale <= goal || p.aim < p.pace.last || p.rounds >= p.pace.rounds || !p.move() {
		p.done = true
	}
}

// average adds the copies of a filling to the mean.
func (p *prices) average(placed []model.Placed) {
	share := 0.15
	if p.rounds == 1 {
		share = 1
	}
	now := make([]int, len(p.mean))
	for _, q := range placed {
		now[q.Item]++
	}
	for i := range p.mean {
		p.mean[i] = float64((1-share)*p.mean[i]) + float64(share*float64(now[i]))
	}
}

// move sets the prices to try next, and tells whether they are new.
func (p *prices) move() bool {
	over := make([]float64, len(p.mean))
	norm := 0.0
	for i, m := range p.mean {
		d := m - float64(p.demand[i])
		if !p.counted[i] || d < 0 && p.bestPrice[i] == 0 && !p.free {
			continue
		}
		over[i] = d
		norm += float64(d * d)
	}
	if norm < 1e-9 {
		return false
	}
	step := float64(p.aim*float64(p.bound)) / norm
	moved := false
	for i, d := range over {
		// A copy that costs what it is worth is left out anyway.
		most := float64(p.scale * p.value[i])
		least := 0.0
		if p.free {
			least = -8 * most
		}
		c := int64(min(max(float64(p.bestPrice[i])+float64(step*d), least), most))
		moved = moved || c != p.price[i]
		p.price[i] = c
	}
	return moved
}
