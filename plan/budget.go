package plan

import (
	"cmp"
	"context"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// Spending is what a budget buys: the fabrics in the plan's order, each whole as
// long as the money lasts, then what the rest of it buys.
type Spending struct {
	Limit, Spent int64
	// Fits tells that the answer stays within the budget. Proved tells, when it
	// does not, that no complete purchase can.
	Fits, Proved bool
	Least        int64     // proved: everything together costs at least this
	Bought       []*Choice // one for each fabric of the result; unpriced ones whole
}

// spend goes shopping with the plan's budget.
func spend(ctx context.Context, p *Plan, s *Shop, o Options) (*Spending, error) {
	out := &Spending{Limit: *p.Budget, Fits: s.Price <= *p.Budget}
	for i := range s.Counters {
		a := &s.Counters[i].Answer
		if a.Cut.Priced && a.Cut.Solution.Status != pack.Short {
			out.Least += a.Cut.Solution.Bound
		}
	}
	out.Proved = out.Least > out.Limit
	for i := range s.Counters {
		a := &s.Counters[i].Answer
		if a.Cut.Priced && a.Cost > out.Limit-out.Spent {
			t := newTrials(p, &s.Result.Fabrics[i], o)
			var err error
			if a, err = t.within(ctx, out.Limit-out.Spent); err != nil {
				return nil, err
			}
		}
		if a.Cut.Priced {
			out.Spent += a.Cost
		}
		out.Bought = append(out.Bought, a)
	}
	return out, nil
}

// within solves the purchases with the most cloth for so much money and returns
// the one that lacks least.
func (t *trials) within(ctx context.Context, money int64) (*Choice, error) {
	var list []basket
	t.each(money, func(_ basket, spent int64) (units.Length, bool) {
		return t.lengthFor(money - spent), true
	}, func(b basket) { list = append(list, b) })
	slices.SortStableFunc(list, func(a, b basket) int {
		return cmp.Or(cmp.Compare(t.cloth(b), t.cloth(a)), cmp.Compare(t.cost(a), t.cost(b)))
	})
	var best *Choice
	for _, b := range list[:min(len(list), mostTried)] {
		c, err := t.try(ctx, b, false, tryShare)
		if err != nil {
			return nil, err
		}
		if best == nil || t.betterThan(c, best) {
			best = c
		}
	}
	return best, nil
}
