package plan

import (
	"slices"

	"pinfold/pack"
)

// mixWork is the work that the search for the best mix may take, in the engines'
// units.
func mixWork(e pack.Effort) int64 {
	return map[pack.Effort]int64{pack.Quick: 2_000_000, pack.Normal: 15_000_000, pack.Thorough: 300_000_000}[e]
}

// mostPicks bounds the vectors looked at, most of which are ruled out by what is
// known already.
const mostPicks = 3000

// mixer looks for the most ornaments in all. If no vector of one ornament more
// than the best can be cut, no larger one can.
type mixer struct {
	*maker
	pick  *picker
	order []int // the picker's lines
	best  []int // in the plan's order
	total int
	end   int64 // of the work
	picks int
}

// mix finds the mix of the most ornaments, no line more often than listed.
func (m *maker) mix(out *Makes) ([]int, error) {
	x := &mixer{maker: m, best: make([]int, len(m.lines)), end: m.spent + mixWork(m.o.Effort)}
	most := make([]int, len(m.lines))
	for i, l := range m.lines {
		most[i] = min(l.Count, l.Alone.AtMost)
		// The best single line is a first mix.
		if n := min(l.Count, l.Alone.Found); n > x.total {
			one := make([]int, len(m.lines))
			one[i] = n
			if _, err := x.try(one, firstLook); err != nil {
				return nil, err
			}
		}
	}
	x.pick, x.order = newPicker(m.spaces, most)
	if err := x.greedy(); err != nil {
		return nil, err
	}
	if err := x.rise(); err != nil {
		return nil, err
	}
	out.Mix = Most{x.total, x.largest()}
	err := x.next(out)
	return x.best, err
}

// open tells whether there is work left.
func (x *mixer) open() bool {
	return x.ctx.Err() == nil && x.spent < x.end && x.picks < mostPicks
}

// try asks for a vector in the plan's order and keeps it if it is better.
func (x *mixer) try(v []int, look int) (pack.Verdict, error) {
	verdict, err := x.holds(v, look)
	if err != nil || verdict != pack.Enough {
		return verdict, err
	}
	total := 0
	for _, n := range v {
		total += n
	}
	if total > x.total {
		x.best, x.total = slices.Clone(v), total
	}
	return verdict, nil
}

// greedy looks for the largest total whose emptiest vector can be cut.
func (x *mixer) greedy() error {
	low, high := x.total, 0
	for _, n := range x.pick.most {
		high += n
	}
	for high++; high-low > 1 && x.open(); {
		mid := low + (high-low)/2
		v, _ := x.pick.pick(mid, true)
		x.picks++
		verdict := pack.Undecided
		var err error
		if v != nil {
			if verdict, err = x.try(x.planned(v), firstLook); err != nil {
				return err
			}
		}
		if verdict == pack.Enough {
			low = mid
		} else {
			high = mid
		}
	}
	return nil
}

// planned puts a picked vector into the plan's order.
func (x *mixer) planned(v []int) []int {
	out := make([]int, len(v))
	for k, i := range x.order {
		out[i] = v[k]
	}
	return out
}

// rise looks for one ornament more, again and again: among the vectors not ruled
// out, the one that leaves most room first. When none is left, the doubted ones
// are asked for once more with more patience.
func (x *mixer) rise() error {
	for x.open() {
		x.picks++
		look := firstLook
		v, _ := x.pick.pick(x.total+1, false)
		if v == nil {
			if v = x.pick.second(); v == nil {
				return nil
			}
			look = longLook
		}
		verdict, err := x.try(x.planned(v), look)
		if err != nil {
			return err
		}
		if err := x.learn(v, verdict, look); err != nil {
			return err
		}
	}
	return nil
}

// learn rules out what an answer about the picked vector v rules out: of a pile
// that is too little only the lines count that must cut from it.
func (x *mixer) learn(v []int, verdict pack.Verdict, look int) error {
	switch {
	case verdict == pack.Enough:
		x.pick.clear(v)
		return nil
	case verdict == pack.Undecided && look == firstLook:
		x.pick.doubted = append(x.pick.doubted, newBan(v))
		return nil
	case verdict == pack.Undecided:
		return nil
	}
	x.pick.clear(v)
	sure, err := x.sure(x.planned(v))
	if err != nil {
		return err
	}
	for _, i := range x.tightest(sure) {
		a, err := x.ask(x.piles[i], sure.demand[i], firstLook)
		if err != nil {
			return err
		}
		if a.verdict != pack.TooLittle {
			continue
		}
		at := slices.Clone(v)
		for k, line := range x.order {
			if x.spaces[i].weight[line] == 0 {
				at[k] = 0
			}
		}
		x.pick.banned = append(x.pick.banned, newBan(at))
		return nil
	}
	// The areas ruled it out, as they do in the picker.
	return nil
}

// largest is the largest total that is not ruled out.
func (x *mixer) largest() int {
	most := x.total
	for {
		v, all := x.pick.search(most+1, steps, true)
		if v == nil && all {
			return most
		}
		if most++; !all {
			// Too many vectors to go through: the areas alone bound the rest.
			return max(most, x.pick.bound())
		}
	}
}

// next tells what stops each line that is not made as often as listed.
func (x *mixer) next(out *Makes) error {
	for i := range x.lines {
		if x.best[i] == x.lines[i].Count || x.ctx.Err() != nil {
			continue
		}
		v := slices.Clone(x.best)
		v[i]++
		short, err := x.runOut(v)
		if err != nil {
			return err
		}
		if len(short) == 0 {
			// Perhaps it can be cut after all.
			if verdict, err := x.try(v, firstLook); err != nil {
				return err
			} else if verdict == pack.Enough {
				out.Mix = Most{x.total, max(x.total, out.Mix.AtMost)}
				return x.next(out)
			}
		}
		x.lines[i].Next = short
	}
	return nil
}
