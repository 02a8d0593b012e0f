package bounds

import (
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// contest keeps the best bound that any scale gives. With one kind of stock a
// bound is a division; with several it is a covering knapsack, which only the
// most promising scales are worth.
type contest struct {
	stocks []model.Stock
	best   int64
	name   string
	top    []entry // by falling fractional bound
	order  []int   // scratch
}

type entry struct {
	need int64
	caps []int64
	name string
	frac float64
}

const finalists = 16

// enter says that pieces of weight need in all must be cut from sheets that hold
// at most caps each. caps is kept.
func (c *contest) enter(need int64, caps []int64, name string) {
	if len(c.stocks) == 1 {
		if caps[0] > 0 {
			c.offer(c.stocks[0].Cost*((need+caps[0]-1)/caps[0]), name)
		}
		return
	}
	// The fractional bound lets sheets be cut up before they are bought.
	c.order = byThrift(c.order[:0], c.stocks, caps)
	e := entry{need, caps, name, fill(c.stocks, caps, c.order, need)}
	if len(c.top) == finalists && e.frac <= c.top[finalists-1].frac {
		return
	}
	at, _ := slices.BinarySearchFunc(c.top, e, func(a, b entry) int {
		if a.frac >= b.frac {
			return -1
		}
		return 1
	})
	c.top = slices.Insert(c.top, at, e)
	if len(c.top) > finalists {
		c.top = c.top[:finalists]
	}
}

// finish solves the covering knapsacks of the finalists.
func (c *contest) finish() {
	for _, e := range c.top {
		c.offer(cover(c.stocks, e.caps, e.need), e.name)
	}
}

func (c *contest) offer(bound int64, name string) {
	if bound > c.best {
		c.best, c.name = bound, name
	}
}

// byThrift appends to order the stocks that hold anything, by cost for what
// they hold.
func byThrift(order []int, stocks []model.Stock, caps []int64) []int {
	for i := range stocks {
		if caps[i] <= 0 || stocks[i].Copies == 0 {
			continue
		}
		order = append(order, i)
		for k := len(order) - 1; k > 0; k-- {
			a, b := order[k-1], order[k]
			if float64(stocks[a].Cost)*float64(caps[b]) <= float64(stocks[b].Cost)*float64(caps[a]) {
				break
			}
			order[k-1], order[k] = b, a
		}
	}
	return order
}

// fill covers need from the stocks in order, the last one in part.
func fill(stocks []model.Stock, caps []int64, order []int, need int64) float64 {
	cost, left := 0.0, float64(need)
	for _, i := range order {
		if left <= 0 {
			break
		}
		n := left / float64(caps[i])
		if stocks[i].Copies != model.Unlimited {
			n = min(n, float64(stocks[i].Copies))
		}
		cost += n * float64(stocks[i].Cost)
		left -= n * float64(caps[i])
	}
	return cost
}

// cover returns a lower bound on the least cost of whole sheets that hold need,
// the least cost itself unless the search grows too large. When all sheets
// together hold less, it is the cost of them all.
func cover(stocks []model.Stock, caps []int64, need int64) int64 {
	order := byThrift(nil, stocks, caps)
	var all, held float64
	unit := int64(0)
	for _, s := range stocks {
		unit = model.GCD(unit, s.Cost)
	}
	for _, i := range order {
		if stocks[i].Copies == model.Unlimited {
			held = math.Inf(1)
			continue
		}
		all += float64(stocks[i].Cost) * float64(stocks[i].Copies)
		held += float64(caps[i]) * float64(stocks[i].Copies)
	}
	if held < float64(need) {
		return int64(all * (1 - 1e-9))
	}
	s := search{stocks: stocks, caps: caps, order: order, unit: unit, best: math.MaxInt64, nodes: 4000}
	root := s.whole(fill(stocks, caps, order, need))
	s.dive(0, need, 0)
	if s.nodes <= 0 {
		return root
	}
	return s.best
}

// search is a branch and bound over how many sheets of each kind are taken, the
// thriftiest kind first and in falling numbers.
type search struct {
	stocks []model.Stock
	caps   []int64
	order  []int
	unit   int64 // all costs are multiples of it
	best   int64
	nodes  int
}

// whole rounds a fractional cost up to what whole sheets can cost.
func (s *search) whole(cost float64) int64 {
	if s.unit == 0 {
		return 0
	}
	return int64(math.Ceil(cost*(1-1e-12)/float64(s.unit)-1e-9)) * s.unit
}

func (s *search) dive(at int, need, cost int64) {
	if need <= 0 {
		s.best = min(s.best, cost)
		return
	}
	s.nodes--
	if at == len(s.order) || s.nodes <= 0 {
		return
	}
	if cost+s.whole(fill(s.stocks, s.caps, s.order[at:], need)) >= s.best {
		return
	}
	i := s.order[at]
	n := (need + s.caps[i] - 1) / s.caps[i]
	if c := s.stocks[i].Copies; c != model.Unlimited {
		n = min(n, int64(c))
	}
	for ; n >= 0 && s.nodes > 0; n-- {
		s.dive(at+1, need-n*s.caps[i], cost+n*s.stocks[i].Cost)
		if s.stocks[i].Cost == 0 {
			return // leaving free sheets is never cheaper
		}
	}
}
