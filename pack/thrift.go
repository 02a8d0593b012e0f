package pack

import (
	"context"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
	"pinfold/units"
)

// thrift looks, at the same cost or less, for a solution that cuts into less of
// the cloth at hand, for a twentieth of the effort. Cloth at hand is given the cost
// of its area less what is bad of it, so that whole sheets are kept, and everything
// bought its cost many times over, so that no saving of cloth outweighs the smallest
// coin. Where small sheets go first, it is the square of the area, so that two small
// ones cost less than a large one as large as both.
func (s *solver) thrift(ctx context.Context) {
	c := s.best
	if c.missing > 0 || ctx.Err() != nil {
		return
	}
	pr := c.s.model
	pr.Stocks = slices.Clone(pr.Stocks)
	var largest units.Area
	for i, st := range pr.Stocks {
		if s.atHand(c.s.stocks[i]) {
			if st.Copies == model.Unlimited {
				return
			}
			largest = max(largest, s.p.Sheets[c.s.stocks[i].Sheet].room())
		}
	}
	charge := func(i int) int64 {
		share := float64(s.p.Sheets[c.s.stocks[i].Sheet].room()) / float64(max(largest, 1))
		if s.small {
			return 1 + int64(shareUnit*share*share)
		}
		return 1 + int64(shareUnit*share)
	}
	var all int64
	for i, st := range pr.Stocks {
		if s.atHand(c.s.stocks[i]) {
			all += charge(i) * int64(st.Copies)
		}
	}
	if all == 0 || c.cost > (1<<60)/(all+1) {
		return
	}
	for i := range pr.Stocks {
		st := &pr.Stocks[i]
		if s.atHand(c.s.stocks[i]) {
			st.Cost = charge(i)
		} else {
			st.Cost *= all + 1
		}
	}
	cut := c.m.Cost(&pr)
	if cut%(all+1) == 0 {
		return // nothing at hand is cut
	}
	budget := s.o.budget() / 20
	if s.small {
		budget = s.o.budget() / 4
	}
	o := s.searchOptions()
	o.Effort, o.Progress = budget, nil
	one := search.New(&pr, o)
	one.Aim(cut)
	one.Run(ctx, budget)
	out := one.Outcome()
	s.nodes += out.Work
	if out.Best != nil {
		s.best = &candidate{s: c.s, m: out.Best, cost: c.cost - c.m.Cost(&c.s.model) + out.Best.Cost(&c.s.model)}
	}
}

// shareUnit is what the largest sheet at hand costs.
const shareUnit = 16384

// atHand tells whether a stock is a sheet that costs nothing.
func (s *solver) atHand(st Stock) bool {
	return st.Sheet != FromRoll && s.p.Sheets[st.Sheet].Free
}
