package plan

import (
	"context"
	"fmt"
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
	// won are the divisions by which vectors can be cut.
	won   map[string]takes
	spent int64 // work
}

func newMaker(ctx context.Context, p *Plan, o MakesOptions) (*maker, error) {
	m := &maker{ctx: ctx, plan: p, o: o, lines: linesOf(p), won: map[string]takes{}}
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
	if err == nil && verdict == pack.Enough && m.lists == 0 {
		m.won[fmt.Sprint(n)] = sure
	}
	if err != nil || verdict == pack.TooLittle || m.lists == 0 {
		return verdict, err
	}
	all, err := m.sharings(n)
	if err != nil {
		return pack.Undecided, err
	}
	for _, s := range all {
		v, err := m.judge(s, look)
		if err == nil && v == pack.Enough {
			m.won[fmt.Sprint(n)] = s
		}
		if err != nil || v == pack.Enough {
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
