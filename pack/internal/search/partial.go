package search

import (
	"context"
	"slices"

	"pinfold/pack/internal/blocks"
	"pinfold/pack/internal/model"
)

// fillUp makes the most of stock that does not hold everything: sheet after
// sheet takes the most area it can of what is still wanted, the smallest sheets
// first and the largest first. budget is shared by the sheets.
func (r *Search) fillUp(ctx context.Context, budget int64) {
	sheets := 0
	for _, st := range r.pr.Stocks {
		if st.Copies == model.Unlimited {
			return // what is missing fits no sheet
		}
		sheets += st.Copies
	}
	if sheets == 0 {
		return
	}
	order := make([]int, len(r.pr.Stocks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(r.pr.Stocks[a].Area() - r.pr.Stocks[b].Area())
	})
	for range 2 {
		r.offer(r.filled(ctx, order, budget/int64(2*sheets)+1), 0)
		slices.Reverse(order)
	}
}

// filled fills the stocks in order.
func (r *Search) filled(ctx context.Context, order []int, budget int64) *model.Solution {
	rest := *r.pr
	rest.Items = slices.Clone(r.pr.Items)
	for i := range rest.Items {
		rest.Items[i].Value = rest.Items[i].Area()
	}
	out := &model.Solution{}
	for _, st := range order {
		for left := rest.Stocks[st].Copies; left > 0 && ctx.Err() == nil; {
			f := blocks.NewFill(&rest, blocks.FillOptions{Stock: st})
			spent, _ := f.Run(budget)
			r.out.Work += spent
			pat, value := f.Best()
			if value == 0 {
				break
			}
			pat.Stock = st
			used := make([]int, len(rest.Items))
			pat.Count(used)
			times := left
			for i, n := range used {
				if n > 0 {
					times = min(times, rest.Items[i].Demand/n)
				}
			}
			for i, n := range used {
				rest.Items[i].Demand -= times * n
			}
			out.Add(pat, times)
			left -= times
		}
	}
	return out
}
