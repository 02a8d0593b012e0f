// Package reselect chooses sheets again from all layouts any search has met: a
// set-covering problem in whole copies of layouts, in which pieces cut too often
// are simply left out again. Layouts found for one solution often serve better
// in another; Cui, Yao and Zhang (JORS 69, 2018) end their method with it.
//
// Start with [NewPool], [Pool.Offer] and [Pool.Choose].
package reselect

import (
	"slices"

	"pinfold/pack/internal/model"
)

// Pool keeps the layouts worth choosing from, one for each content, in the order
// they came. Use [NewPool].
type Pool struct {
	pr      *model.Problem
	limit   int
	layouts []layout
	seen    map[string]struct{}
}

type layout struct {
	model.Pattern
	counts []int32
	area   int64
}

// NewPool returns an empty pool that keeps about limit layouts.
func NewPool(pr *model.Problem, limit int) *Pool {
	return &Pool{pr: pr, limit: limit, seen: map[string]struct{}{}}
}

var _ model.Sink = (*Pool)(nil)

// Len is the number of layouts kept.
func (p *Pool) Len() int { return len(p.layouts) }

// Offer takes a layout that has not been met before.
func (p *Pool) Offer(q model.Pattern) {
	if len(q.Placed) == 0 {
		return
	}
	l := layout{Pattern: q, counts: make([]int32, len(p.pr.Items))}
	for _, c := range q.Placed {
		l.counts[c.Item]++
		l.area += p.pr.Items[c.Item].Area()
	}
	key := make([]byte, 0, 64)
	key = append(key, byte(q.Stock), byte(q.Stock>>8))
	for k, n := range l.counts {
		if n > 0 {
			key = append(key, byte(k), byte(k>>8), byte(n), byte(n>>8))
		}
	}
	if _, ok := p.seen[string(key)]; ok {
		return
	}
	p.seen[string(key)] = struct{}{}
	p.layouts = append(p.layouts, l)
	if len(p.layouts) >= 2*p.limit {
		p.prune()
	}
}

// prune keeps the fullest half of the layouts of each stock, and for each item
// the fullest layouts that hold it.
func (p *Pool) prune() {
	order := make([]int, len(p.layouts))
	for k := range order {
		order[k] = k
	}
	fill := func(k int) float64 {
		l := &p.layouts[k]
		return float64(l.area) / float64(p.pr.Stocks[l.Stock].Area())
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch fa, fb := fill(a), fill(b); {
		case fa > fb:
			return -1
		case fa < fb:
			return 1
		}
		return 0
	})
	each := max(1, p.limit/2/max(1, len(p.pr.Items)))
	holds := make([]int, len(p.pr.Items))
	keep := make([]bool, len(p.layouts))
	for n, k := range order {
		keep[k] = n < p.limit/2
		for i, c := range p.layouts[k].counts {
			if c > 0 && holds[i] < each {
				holds[i]++
				keep[k] = true
			}
		}
	}
	kept := p.layouts[:0]
	for k, l := range p.layouts {
		if keep[k] {
			kept = append(kept, l)
		}
	}
	clear(p.layouts[len(kept):])
	p.layouts = kept
}
