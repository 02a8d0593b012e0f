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
	x.pick, x.order = newPicker(append(slices.Clone(m.spaces), surrogate(m.spaces, most)), most)
	for _, percent := range []int64{4, 2, 1} {
		if err := x.narrow(most, percent); err != nil {
			return nil, err
		}
	}
	if err := x.swap(most); err != nil {
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
	return x.ctx.Err() == nil && x.spent+x.pick.work() < x.end && x.picks < mostPicks
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

// narrow looks for a first mix: the largest that the areas allow, then the largest
// when the piles that are not found to hold their part have so many percent less,
// and so on.
func (x *mixer) narrow(most []int, percent int64) error {
	spaces := slices.Clone(x.spaces)
	for x.open() {
		v := widest(append(slices.Clone(spaces), surrogate(spaces, most)), most, x.total)
		x.picks++
		if v == nil {
			return nil
		}
		verdict, err := x.try(v, firstLook)
		if err != nil || verdict == pack.Enough {
			return err
		}
		sure, err := x.sure(v)
		if err != nil {
			return err
		}
		for i, pl := range x.piles {
			a, err := x.ask(pl, sure.demand[i], firstLook)
			switch {
			case err != nil:
				return err
			case a.verdict != pack.Enough || x.lists > 0:
				var used int64
				for line, n := range v {
					used += int64(n) * spaces[i].weight[line]
				}
				spaces[i].room = min(spaces[i].room, used)
				spaces[i].room -= (spaces[i].room + 99) / 100 * percent
			}
		}
		for i := len(x.piles); i < len(spaces); i++ {
			spaces[i].room -= (spaces[i].room + 99) / 100 * percent
		}
	}
	return nil
}

// widest returns a vector, in the order of the spaces' lines, of the most ornaments
// found above a number; nil if there are none.
func widest(spaces []space, most []int, above int) []int {
	p, order := newPicker(spaces, most)
	var best []int
	for low, high := above, p.bound()+1; high-low > 1; {
		mid := low + (high-low)/2
		if v, _ := p.search(mid, steps, true, probeNodes); v != nil {
			best, low = v, mid
		} else {
			high = mid
		}
	}
	if best == nil {
		return nil
	}
	out := make([]int, len(best))
	for k, i := range order {
		out[i] = best[k]
	}
	return out
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
		v, all := x.pick.search(most+1, steps, true, pickNodes)
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
