package pack

import (
	"cmp"

	"pinfold/units"
)

// Effort says how long [Solve] looks for something better. Each is an amount of
// counted work, not of seconds; the times are those of two ordinary cores.
type Effort uint8

// The efforts: for a whole problem Quick takes about 0.3 s, Normal 3 s and Thorough
// 60 s.
const (
	Normal Effort = iota
	Quick
	Thorough
)

// String returns the word used on the command line.
func (e Effort) String() string { return [...]string{"normal", "quick", "thorough"}[e] }

// Options steer [Solve]; the zero value is a normal effort with seed 0 on all
// cores.
type Options struct {
	Effort Effort
	// Seed chooses the random streams. The same problem, options and build give
	// the same solution, whatever the number of workers.
	Seed uint64
	// Workers is how many cores are used; 0 for all.
	Workers int
	// Share is the part of the effort this problem may use, in percent; 0 is all.
	Share int
	// Progress, if set, is called from one goroutine with each better solution
	// or bound of the search at work, of which there may be several in turn.
	Progress func(Progress)
}

// Progress is what [Solve] reports on the way.
type Progress struct {
	// Sheets is how many the best solution of the search at work takes. With scraps
	// first, or a roll, that search is of a part of the problem, or of one length.
	Sheets int
}

// Prefer says what is made best among solutions of equal cost, which always
// comes first.
type Prefer uint8

// The preferences.
const (
	// Thrift cuts the least of the cloth at hand, then leaves the most useful
	// offcuts, then is the least toil: passes, and settings of the ruler.
	Thrift Prefer = iota
	// FewerPasses takes the fewest passes, then the fewest settings, then cuts the
	// least of the cloth at hand, then leaves the most useful offcuts.
	FewerPasses
	// Balanced is the least toil with at most [BalancedCloth] percent more cloth
	// cut, bought or at hand, than Thrift.
	Balanced
)

// BalancedCloth is how much more cloth [Balanced] may cut, in percent.
const BalancedCloth = 3

// standing is what solutions are told apart by.
type standing struct {
	scraps units.Area // of the pieces from scraps, where these go first
	cost   int64      // in the goal
	hand   units.Area // of the cloth at hand that is cut
	useful int64      // see [Problem.Useful]
	// passes of the cutter, and how often the ruler is set
	passes, settings int
}

// toil weighs what keeps the hands busy: passes, and settings of the ruler, for
// each of which cloth is turned, stacked and a new measure found.
func (s standing) toil() int { return s.passes + settingToil*s.settings }

// settingToil is how many passes a setting of the ruler counts as. Common practice,
// no source.
const settingToil = 2

// compare is negative if a is better than b.
func (p Prefer) compare(a, b standing) int {
	cost := cmp.Or(cmp.Compare(b.scraps, a.scraps), cmp.Compare(a.cost, b.cost))
	hand, useful, toil := cmp.Compare(a.hand, b.hand), cmp.Compare(b.useful, a.useful), cmp.Compare(a.toil(), b.toil())
	switch p {
	case Thrift:
		return cmp.Or(cost, hand, useful, toil)
	case Balanced:
		return cmp.Or(cost, toil, hand, useful)
	}
	return cmp.Or(cost, cmp.Compare(a.passes, b.passes), cmp.Compare(a.settings, b.settings), hand, useful)
}

// Useful measures what layouts leave: each offcut worth keeping counts the square
// of how many times the smallest size worth keeping goes into its area, so that
// one large offcut is worth more than the same cloth in two. Where everything is
// kept, the smallest size is a square inch.
func (p Problem) Useful(layouts []Layout) int64 {
	var sum int64
	for _, l := range layouts {
		for _, r := range l.Offcuts(p.Rules.Kerf) {
			sum += int64(l.Copies) * p.Rules.useful(r.W, r.H)
		}
	}
	return sum
}

// useful is what one offcut counts.
func (t Rules) useful(w, h units.Length) int64 {
	unit := max(t.Keep.Area(), 0)
	if unit == 0 {
		unit = units.AreaOf(units.Inch, units.Inch)
	}
	n := int64(units.AreaOf(w, h) / unit)
	return n * n
}

// hand is the area of the cloth at hand that is cut.
func (p Problem) hand(layouts []Layout) units.Area {
	var sum units.Area
	for _, l := range layouts {
		if l.Stock.Sheet != FromRoll && p.Sheets[l.Stock.Sheet].Free && l.Cuts.Leaf == NoLeaf {
			sh := p.Sheets[l.Stock.Sheet]
			sum += units.Area(l.Copies) * sh.Area()
		}
	}
	return sum
}

// standing of the layouts of several cloths.
func standingOf(cloths []Cloth) standing {
	session := NewSession(cloths)
	s := standing{passes: session.Passes, settings: session.Settings}
	for _, c := range cloths {
		if c.Problem.UseUp {
			s.scraps += c.Problem.fromScraps(c.Layouts)
		}
		s.cost += c.Problem.costOf(c.Layouts)
		s.hand += c.Problem.hand(c.Layouts)
		s.useful += c.Problem.Useful(c.Layouts)
	}
	return s
}

// costOf is what layouts cost in the goal.
func (p Problem) costOf(layouts []Layout) int64 { return p.cost(p.paid(layouts)) }

// Laid returns the solution with other layouts of the same pieces: what they cost
// and whether that is proved is worked out again.
func (s Solution) Laid(p Problem, layouts []Layout) Solution {
	s.Layouts = layouts
	s.Price, s.Area = p.paid(layouts)
	s.Cost = p.cost(s.Price, s.Area)
	s.AreaBound = min(s.AreaBound, s.Area)
	switch {
	case s.Status == Short:
		s.Bound = min(s.Bound, s.Cost)
	case s.Status == Proved && s.Cost != s.Bound:
		s.Status, s.ProvedBy = Found, ""
	}
	return s
}
