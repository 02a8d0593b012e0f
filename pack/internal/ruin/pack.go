package ruin

import "pinfold/pack/internal/model"

// Pack returns the cheapest complete solution found within budget units of
// work, nil if none cheaper than aim is found. It stops as soon as the cost is
// at target or below; aim <= 0 sets no limit.
func Pack(pr *model.Problem, target, aim, budget int64, seed uint64) *model.Solution {
	e := New(pr, Options{Seed: seed, LowerBound: target})
	if aim > 0 {
		e.Aim(aim)
	}
	e.Run(budget)
	return e.Best()
}
