package ruin

import "pinfold/pack/internal/model"

// Pack returns the cheapest complete solution found within budget units of
// work, or nil. It stops as soon as the cost is at target or below.
func Pack(pr *model.Problem, target, budget int64, seed uint64) *model.Solution {
	e := New(pr, Options{Seed: seed, LowerBound: target})
	e.Run(budget)
	return e.Best()
}

// filling keeps the most valuable content of the one sheet there is.
type filling struct {
	least int64 // value outside
	sheet sheet
}

func (f *filling) note(s *state) {
	var out int64
	for _, i := range s.list {
		out += int64(s.outs[i]) * s.items[i].value
	}
	if out < f.least && s.open > 0 {
		f.least = out
		f.sheet.copyFrom(&s.sheets[s.slots[0]])
	}
}

// Fill returns the most valuable content of one sheet of the stock found within
// budget units of work, and its value. Item.Value is what a copy is worth;
// demands limit the copies. It stops as soon as the value is target or above.
func Fill(pr *model.Problem, stock int, target, budget int64, seed uint64) (model.Pattern, int64) {
	one := &model.Problem{Stages: pr.Stages, Stocks: []model.Stock{pr.Stocks[stock]}}
	one.Stocks[0].Copies = 1
	area := one.Stocks[0].Area()
	var all int64
	for _, it := range pr.Items {
		it.Demand = int(min(int64(it.Demand), area/it.Area()))
		all += int64(it.Demand) * it.Value
		one.Items = append(one.Items, it)
	}
	e := New(one, Options{Seed: seed})
	if len(e.s.kinds) == 0 {
		return model.Pattern{Stock: stock}, 0
	}
	e.idle = false
	for i, it := range one.Items {
		e.s.items[i].value, e.s.items[i].worth = it.Value, it.Value
	}
	e.fill = &filling{least: all}
	e.start()
	e.fill.note(&e.s)
	for e.s.work < budget*unit && e.fill.least > max(0, all-target) {
		e.step()
	}
	p := e.s.pattern(&e.fill.sheet)
	p.Stock = stock
	return p, all - e.fill.least
}
