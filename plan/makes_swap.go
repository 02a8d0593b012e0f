package plan

import (
	"slices"

	"pinfold/pack"
)

// swapWork is what looking a swap over takes, in the engines' units.
const swapWork = 20

// swap adds one ornament to the best mix, or takes one out and puts two in, as
// long as that is found to fit, for at most half of the work that is left. What a
// pile was not found to hold before it is not asked for again.
func (x *mixer) swap(most []int) error {
	half := x.spent + (x.end-x.spent)/2
	for x.open() {
		better, err := x.swapOnce(most, half)
		if err != nil || !better {
			return err
		}
	}
	return nil
}

// swapOnce tries the swaps in turn until one is found to fit.
func (x *mixer) swapOnce(most []int, end int64) (better bool, err error) {
	for out := -1; out < len(most); out++ {
		if out >= 0 && x.best[out] == 0 {
			continue
		}
		for first := range most {
			last := len(most) - 1
			if out < 0 {
				last = first
			}
			for second := first; second <= last; second++ {
				v := slices.Clone(x.best)
				v[first]++
				if out >= 0 {
					v[out]--
					v[second]++
				}
				if first == out || second == out || v[first] > most[first] || v[second] > most[second] {
					continue
				}
				if !x.open() || x.spent >= end {
					return false, nil
				}
				x.spent += swapWork
				if ok, err := x.likely(v); err != nil || !ok {
					if err != nil {
						return false, err
					}
					continue
				}
				if verdict, err := x.try(v, firstLook); err != nil || verdict == pack.Enough {
					return err == nil, err
				}
			}
		}
	}
	return false, nil
}

// likely tells whether nothing rules v out and no part of it was asked for in vain.
func (x *mixer) likely(v []int) (bool, error) {
	if x.overfull(v) {
		return false, nil
	}
	sure, err := x.sure(v)
	if err != nil {
		return false, err
	}
	for i, pl := range x.piles {
		if !pl.likely(sure.demand[i]) {
			return false, nil
		}
	}
	return true, nil
}
