package dp

import (
	"cmp"
	"math/bits"
	"slices"

	"pinfold/pack/internal/model"
)

// AreaBound returns an upper bound on the value of left[k] copies of item k at
// most that together cover no more than area: the continuous knapsack of
// Dantzig (Discrete-variable extremum problems, Operations Research 5, 1957),
// rounded down.
func AreaBound(items []model.Item, values []int64, left []int, area int64) int64 {
	order := make([]int, 0, len(items))
	for k := range items {
		if left[k] > 0 && values[k] > 0 {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		// values[a]/area(a) against values[b]/area(b), without division
		ah, al := bits.Mul64(uint64(values[a]), uint64(items[b].Area()))
		bh, bl := bits.Mul64(uint64(values[b]), uint64(items[a].Area()))
		if c := cmp.Compare(bh, ah); c != 0 {
			return c
		}
		return cmp.Compare(bl, al)
	})
	var total int64
	for _, k := range order {
		one := items[k].Area()
		n := min(int64(left[k]), area/one)
		total += n * values[k]
		area -= n * one
		if n < int64(left[k]) {
			hi, lo := bits.Mul64(uint64(area), uint64(values[k]))
			q, _ := bits.Div64(hi, lo, uint64(one))
			return total + int64(q)
		}
	}
	return total
}
