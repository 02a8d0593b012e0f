package plan

import (
	"context"
	"slices"

	"pinfold/pack"
)

// The parts of the effort, in percent, that one question may take: at first, and
// when everything turns on it.
const (
	firstLook = 2
	longLook  = 20
)

// maker asks what can be cut from the stash alone. Numbers of ornaments are
// vectors with an entry a line.
type maker struct {
	ctx   context.Context
	plan  *Plan
	o     MakesOptions
	lines []MakesLine
	piles []*pile
	// lists tells that a colourway lets several fabrics fill a role, how many at
	// most.
	lists  int
	spaces []space
	spent  int64 // work
}

func newMaker(ctx context.Context, p *Plan, o MakesOptions) (*maker, error) {
	m := &maker{ctx: ctx, plan: p, o: o, lines: linesOf(p)}
	for _, l := range m.lines {
		for _, f := range l.Colourway {
			if n := len(f.Any()); n > 1 {
				m.lists = max(m.lists, n)
			}
		}
	}
	if err := m.pileUp(); err != nil {
		return nil, err
	}
	for _, pl := range m.piles {
		if err := pl.weigh(ctx, o); err != nil {
			return nil, err
		}
	}
	m.measure()
	return m, nil
}

// linesOf lists the plan's orders, equal ones together.
func linesOf(p *Plan) []MakesLine {
	var out []MakesLine
	for _, order := range p.Make {
		at := slices.IndexFunc(out, func(l MakesLine) bool {
			return l.Ornament == order.Ornament && sameColourway(l.Colourway, order.Colourway)
		})
		if at >= 0 {
			out[at].Count += order.Count
			continue
		}
		out = append(out, MakesLine{Order: order})
	}
	return out
}

func sameColourway(a, b []Filling) bool {
	same := func(f, g Filling) bool {
		return f.Role == g.Role && slices.EqualFunc(f.Any(), g.Any(), func(x, y Named) bool { return x.Name == y.Name })
	}
	return len(a) == len(b) && !slices.ContainsFunc(a, func(f Filling) bool {
		return !slices.ContainsFunc(b, func(g Filling) bool { return same(f, g) })
	})
}

// only is the plan with other counts.
func (m *maker) only(n []int) *Plan {
	p := *m.plan
	p.Make = nil
	for i, l := range m.lines {
		if n[i] > 0 {
			order := l.Order
			order.Count = n[i]
			p.Make = append(p.Make, order)
		}
	}
	return &p
}

// takes is what n ornaments of each line take of every pile, one way to divide
// what several fabrics may fill.
type takes struct {
	splits []Split
	demand [][]int // by pile and size
}

func (m *maker) shared(p *Plan, splits []Split) (takes, error) {
	g, err := gather(p, splits)
	if err != nil {
		return takes{}, err
	}
	s := takes{splits: splits}
	for _, pl := range m.piles {
		s.demand = append(s.demand, pl.demand(g))
	}
	return s, nil
}

// sure is what n ornaments take whatever the division: everything, if there is
// nothing to divide.
func (m *maker) sure(n []int) (takes, error) {
	p := m.only(n)
	if m.lists == 0 {
		return m.shared(p, nil)
	}
	d, err := newDivision(p)
	if err != nil {
		return takes{}, err
	}
	return m.shared(p, d.divide(func(*bundle, []Share) {}))
}

// sharings lists the divisions that are tried: by the areas at hand, from boldly
// to carefully, and all to the first, second ... fabric of each list.
func (m *maker) sharings(n []int) ([]takes, error) {
	p := m.only(n)
	if m.lists == 0 {
		s, err := m.shared(p, nil)
		return []takes{s}, err
	}
	d, err := newDivision(p)
	if err != nil {
		return nil, err
	}
	var out []takes
	add := func(splits []Split) error {
		s, err := m.shared(p, splits)
		if err == nil && !slices.ContainsFunc(out, func(t takes) bool { return slices.EqualFunc(t.demand, s.demand, slices.Equal) }) {
			out = append(out, s)
		}
		return err
	}
	for _, percent := range []int{85, 95, 75, 90, 100, 80, 70} {
		if err := add(d.byArea(percent)); err != nil {
			return nil, err
		}
	}
	for k := range m.lists {
		if err := add(d.allTo(k)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// holds tells whether the stash makes n ornaments of each line: enough if there
// is a layout for every fabric, too little if one fabric is proved to be.
func (m *maker) holds(n []int, look int) (pack.Verdict, error) {
	if m.overfull(n) {
		return pack.TooLittle, nil
	}
	sure, err := m.sure(n)
	if err != nil {
		return pack.Undecided, err
	}
	verdict, err := m.judge(sure, look)
	if err != nil || verdict == pack.TooLittle || m.lists == 0 {
		return verdict, err
	}
	all, err := m.sharings(n)
	if err != nil {
		return pack.Undecided, err
	}
	for _, s := range all {
		if v, err := m.judge(s, look); err != nil || v == pack.Enough {
			return v, err
		}
	}
	return pack.Undecided, nil
}

// judge asks pile after pile whether it is enough for its part, the fullest first:
// what is short shows soonest.
func (m *maker) judge(s takes, look int) (pack.Verdict, error) {
	verdict := pack.Enough
	for _, i := range m.tightest(s) {
		a, err := m.ask(m.piles[i], s.demand[i], look)
		switch {
		case err != nil:
			return pack.Undecided, err
		case a.verdict == pack.TooLittle:
			return pack.TooLittle, nil
		case a.verdict == pack.Undecided:
			verdict = pack.Undecided
		}
	}
	return verdict, nil
}
