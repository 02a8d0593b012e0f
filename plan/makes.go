package plan

import (
	"context"
	"math"

	"pinfold/pack"
	"pinfold/units"
)

// Makes tells what the stash alone can make of a plan. Spares are cut as the plan
// says; cloth that would have to be bought does not exist.
type Makes struct {
	Plan *Plan
	// Lines are the plan's ornaments in their colourways, in the order of its list;
	// equal ones are one line.
	Lines []MakesLine
	// Mix counts the ornaments of the best mix, in which no line is made more often
	// than the plan lists it: the most in all or, InProportion, the most of which
	// each line has its share as nearly as whole ornaments come.
	Mix          Most
	InProportion bool
	// Out lists what runs out at one ornament more in the plan's proportions; nil
	// otherwise, where each line has its own.
	Out []RunOut
	// Result is the mix with its layouts; nil when nothing can be made.
	Result  *Result
	Seed    uint64
	Effort  pack.Effort
	Stopped bool // by the clock or the user
}

// MakesLine is one ornament in one colourway.
type MakesLine struct {
	Order // Count is what the plan lists
	// Alone is the most when the whole stash goes into this line, Out what runs out
	// at one more.
	Alone Most
	Out   []RunOut
	// Mixed is how many are in the best mix; Next what one more of them, the others
	// staying, is short of. Next is nil when all that the plan lists are made, and
	// in a mix by proportions.
	Mixed int
	Next  []RunOut
}

// Most is the largest number found with a layout, and the largest that is not
// proved impossible.
type Most struct{ Found, AtMost int }

// Proved tells that no more is possible.
func (m Most) Proved() bool { return m.Found == m.AtMost }

// RunOut is a fabric of which the stash has too little.
type RunOut struct {
	Fabric string
	// None tells that the stash has nothing of it to cut from.
	None bool
	// ProvedBy names the bound that proves it too little; "" when no layout was
	// found and none is ruled out.
	ProvedBy string
	// Missing is what the fullest layouts found leave out, largest size first.
	Missing []MissingPiece
}

// MissingPiece is Count missing of Of pieces of one size.
type MissingPiece struct {
	ID        string // the size's letter in the whole plan
	Size      units.Size
	Count, Of int
}

// MakesOptions steer [SolveMakes].
type MakesOptions struct {
	Options
	// InProportion asks for the mix in the plan's proportions.
	InProportion bool
}

// SolveMakes works out what the stash alone can make. Whether a number of
// ornaments can be cut is asked fabric by fabric ([pack.Holds]); who can make more
// can make less, so the most of one kind is found by halving between the most that
// has a layout and the least that is proved too many. A context that ends stops the
// search with the best so far. Errors come from quantities too large to hold.
func SolveMakes(ctx context.Context, p *Plan, o MakesOptions) (*Makes, error) {
	m, err := newMaker(ctx, p, o)
	if err != nil {
		return nil, err
	}
	out := &Makes{Plan: p, InProportion: o.InProportion, Seed: o.Seed, Effort: o.Effort}
	for i := range m.lines {
		if err := m.alone(i); err != nil {
			return nil, err
		}
	}
	var mixed []int
	if o.InProportion {
		mixed, err = m.proportion(out)
	} else {
		mixed, err = m.mix(out)
	}
	if err != nil {
		return nil, err
	}
	for i, n := range mixed {
		m.lines[i].Mixed = n
	}
	out.Lines = m.lines
	out.Stopped = ctx.Err() != nil
	if out.Mix.Found > 0 {
		out.Result, err = m.result(mixed)
	}
	return out, err
}

// alone finds the most of the i-th line when everything goes into it.
func (m *maker) alone(i int) error {
	at := func(n int) []int {
		v := make([]int, len(m.lines))
		v[i] = n
		return v
	}
	most, err := m.halve(at, m.ceiling(i))
	if err != nil {
		return err
	}
	line := &m.lines[i]
	line.Alone, line.Out, err = m.ends(at, most, math.MaxInt)
	return err
}

// ends tells what runs out at one more than the most, unless that is all that is
// wanted. Looking for what is missing may find that one more can be cut after all.
func (m *maker) ends(at func(int) []int, most Most, wanted int) (Most, []RunOut, error) {
	for most.Found < wanted && m.ctx.Err() == nil {
		out, err := m.runOut(at(most.Found + 1))
		if err != nil || len(out) > 0 {
			return most, out, err
		}
		if v, err := m.holds(at(most.Found+1), firstLook); err != nil || v != pack.Enough {
			return most, nil, err
		}
		most.Found++
	}
	return most, nil, nil
}

// halve finds the largest n from 0 to ceiling for which at(n) can be cut; at(n+1)
// needs all that at(n) needs. More than ceiling is known to be impossible.
func (m *maker) halve(at func(int) []int, ceiling int) (Most, error) {
	low, high := 0, ceiling+1 // can be cut, and proved impossible
	// A number that stays undecided counts as too many at first.
	for open := high; open-low > 1; {
		mid := low + (open-low)/2
		v, err := m.holds(at(mid), firstLook)
		switch {
		case err != nil:
			return Most{}, err
		case v == pack.Enough:
			low = mid
		case v == pack.TooLittle:
			open, high = mid, mid
		default:
			open = mid
		}
	}
	// The least number proved impossible lies above.
	for from := low; high-from > 1; {
		mid := from + (high-from)/2
		v, err := m.holds(at(mid), firstLook)
		switch {
		case err != nil:
			return Most{}, err
		case v == pack.Enough:
			low, from = mid, mid
		case v == pack.TooLittle:
			high = mid
		default:
			from = mid
		}
	}
	// Between them everything turns on one more.
	for high-low > 1 && m.ctx.Err() == nil {
		v, err := m.holds(at(low+1), longLook)
		switch {
		case err != nil:
			return Most{}, err
		case v == pack.Enough:
			low++
			continue
		case v == pack.TooLittle:
			high = low + 1
		}
		break
	}
	return Most{low, high - 1}, nil
}

// proportion finds the largest mix in the plan's proportions.
func (m *maker) proportion(out *Makes) ([]int, error) {
	var ordered []int
	total := 0
	for _, l := range m.lines {
		ordered = append(ordered, l.Count)
		total += l.Count
	}
	order := turns(ordered)
	at := func(n int) []int {
		v := make([]int, len(m.lines))
		for _, i := range order[:n] {
			v[i]++
		}
		return v
	}
	most, err := m.halve(at, total)
	if err == nil {
		out.Mix, out.Out, err = m.ends(at, most, total)
	}
	return at(out.Mix.Found), err
}

// turns says whose turn it is, ornament by ornament, so that every line has its
// share of the ordered counts at every time as nearly as whole numbers allow: the
// divisor method with odd divisors (Webster 1832; M. Balinski and H. P. Young,
// Fair Representation, Yale University Press 1982), under which nobody loses a
// place when there is one more to give away.
func turns(ordered []int) []int {
	total := 0
	for _, n := range ordered {
		total += n
	}
	given := make([]int, len(ordered))
	var out []int
	for len(out) < total {
		next := 0
		for i := range ordered {
			// ordered / (2 given + 1) is largest, the first of equals.
			if int64(ordered[i])*int64(2*given[next]+1) > int64(ordered[next])*int64(2*given[i]+1) {
				next = i
			}
		}
		given[next]++
		out = append(out, next)
	}
	return out
}
