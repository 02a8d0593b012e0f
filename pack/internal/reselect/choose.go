package reselect

import (
	"math"
	"slices"

	"pinfold/pack/internal/lp"
	"pinfold/pack/internal/model"
)

// Choose looks for whole copies of the pool's layouts that cover all demands for
// less than aim, and returns the cheapest found, or nil. It works for about
// budget units and stops early at a cost of at most bound. Pieces beyond the
// demands are left out of the result.
//
// It is a branch and bound on the linear relaxation. A layout used a fraction of
// times is rounded up first and, in the other branch, limited to the whole part;
// the branches that round down are allowed few at a time, then more (limited
// discrepancy search: Harvey and Ginsberg, IJCAI 1995). Left to end by itself,
// it leaves no cheaper choice.
func (p *Pool) Choose(aim, bound, budget int64) (best *model.Solution, spent int64) {
	s := &search{pool: p, pr: p.pr, aim: aim, bound: bound, budget: budget}
	for _, st := range p.pr.Stocks {
		s.scale = max(s.scale, float64(st.Cost))
		s.unit = model.GCD(s.unit, st.Cost)
	}
	if s.scale == 0 {
		return nil, 0
	}
	n := node{demand: make([]int, len(p.pr.Items)), copies: make([]int, len(p.pr.Stocks))}
	for k, it := range p.pr.Items {
		n.demand[k] = it.Demand
	}
	for t, st := range p.pr.Stocks {
		n.copies[t] = st.Copies
	}
	all := make([]int, len(p.layouts))
	for k := range all {
		all[k] = k
	}
	for width, cut := 0, true; cut && s.open(); width = 2*width + 1 {
		s.cut = false
		s.descend(n, all, width)
		cut = s.cut
	}
	return s.best, s.spent
}

type search struct {
	pool   *Pool
	pr     *model.Problem
	aim    int64
	bound  int64
	budget int64
	spent  int64
	scale  float64
	unit   int64
	best   *model.Solution
	cut    bool // a branch was left out for its discrepancies
}

// open tells whether there is anything left to win, and time.
func (s *search) open() bool { return s.spent < s.budget && s.bound < s.aim }

// node is a partial choice.
type node struct {
	demand []int
	copies []int // of the stocks
	fixed  []use
	cost   int64
	caps   []use // how often some layouts may still be used at most
}

type use struct{ layout, n int }

// descend searches below a node with the layouts still allowed; width is how
// many layouts may yet be rounded down.
func (s *search) descend(n node, allowed []int, width int) {
	for s.open() {
		if n.covered() {
			if n.cost < s.aim {
				s.aim, s.best = n.cost, s.solution(n)
			}
			return
		}
		r, ok := s.relax(n, allowed)
		if !ok || n.cost+s.ceil(r.cost) >= s.aim {
			return
		}
		allowed = r.near(float64(s.aim-n.cost)/s.scale, s.unitCost())
		pick, most := -1, 1e-6
		for c, x := range r.x {
			if f := x - math.Floor(x+1e-6); f > most {
				pick, most = c, f
			}
		}
		if pick < 0 {
			// Whole already.
			done := n.clone()
			for c, x := range r.x {
				if k := int(x + 1e-6); k > 0 {
					s.fix(&done, r.layout[c], k)
				}
			}
			if done.covered() && done.cost < s.aim {
				s.aim, s.best = done.cost, s.solution(done)
			}
			return
		}
		whole := int(r.x[pick] + 1e-6)
		up := n.clone()
		s.fix(&up, r.layout[pick], whole+1)
		s.descend(up, allowed, width)
		if width == 0 {
			s.cut = true
			return
		}
		width--
		n = n.clone()
		n.cap(r.layout[pick], whole)
	}
}

func (n *node) covered() bool {
	return !slices.ContainsFunc(n.demand, func(d int) bool { return d > 0 })
}

// cap limits a layout to at most times further copies.
func (n *node) cap(k, times int) {
	for c := range n.caps {
		if n.caps[c].layout == k {
			n.caps[c].n = min(n.caps[c].n, times)
			return
		}
	}
	n.caps = append(n.caps, use{k, times})
}

func (s *search) unitCost() float64 { return float64(s.unit) / s.scale }

// ceil rounds a relaxed cost up to what sheets can cost, less what rounding may
// have added.
func (s *search) ceil(relaxed float64) int64 {
	units := math.Ceil(relaxed*s.scale/float64(s.unit) - 1e-6)
	return int64(units) * s.unit
}

func (n node) clone() node {
	n.demand, n.copies = slices.Clone(n.demand), slices.Clone(n.copies)
	n.fixed, n.caps = slices.Clone(n.fixed), slices.Clone(n.caps)
	return n
}

func (s *search) fix(n *node, k, times int) {
	l := &s.pool.layouts[k]
	if c := &n.copies[l.Stock]; *c != model.Unlimited {
		times = min(times, *c)
		*c -= times
	}
	for c := range n.caps {
		if n.caps[c].layout == k {
			n.caps[c].n = max(0, n.caps[c].n-times)
		}
	}
	if times == 0 {
		return
	}
	for i, c := range l.counts {
		n.demand[i] = max(0, n.demand[i]-times*int(c))
	}
	n.fixed = append(n.fixed, use{k, times})
	n.cost += s.pr.Stocks[l.Stock].Cost * int64(times)
}

// relaxed is the linear relaxation of a node, costs divided by the scale.
type relaxed struct {
	cost   float64
	layout []int // of each column
	x      []float64
	over   []float64 // reduced costs
}

// relax solves the linear relaxation of what remains; a layout counts for no
// more copies than remain.
func (s *search) relax(n node, allowed []int) (r relaxed, ok bool) {
	row := make([]int, len(n.demand))
	var sense []lp.Sense
	var rhs []float64
	for i, d := range n.demand {
		if row[i] = -1; d > 0 {
			row[i] = len(rhs)
			sense, rhs = append(sense, lp.AtLeast), append(rhs, float64(d))
		}
	}
	supply := make([]int, len(n.copies))
	for t, c := range n.copies {
		if supply[t] = -1; c != model.Unlimited {
			supply[t] = len(rhs)
			sense, rhs = append(sense, lp.AtMost), append(rhs, float64(c))
		}
	}
	capped := make(map[int]int, len(n.caps))
	for _, c := range n.caps {
		capped[c.layout] = -1
		if c.n > 0 {
			capped[c.layout] = len(rhs)
			sense, rhs = append(sense, lp.AtMost), append(rhs, float64(c.n))
		}
	}
	m := lp.New(sense, rhs)
	var columns [][]lp.Entry
	for _, k := range allowed {
		l := &s.pool.layouts[k]
		if n.copies[l.Stock] == 0 {
			continue
		}
		var col []lp.Entry
		for i, c := range l.counts {
			if c > 0 && n.demand[i] > 0 {
				col = append(col, lp.Entry{Row: row[i], Value: float64(min(int(c), n.demand[i]))})
			}
		}
		if len(col) == 0 {
			continue
		}
		if c, ok := capped[k]; ok && c < 0 {
			continue
		} else if ok {
			col = append(col, lp.Entry{Row: c, Value: 1})
		}
		if t := supply[l.Stock]; t >= 0 {
			col = append(col, lp.Entry{Row: t, Value: 1})
		}
		m.Add(float64(s.pr.Stocks[l.Stock].Cost)/s.scale, col)
		columns, r.layout = append(columns, col), append(r.layout, k)
	}
	err := m.Solve()
	rows := len(rhs)
	s.spent += int64(m.Pivots())*int64(rows*rows+10*len(columns))/700 + int64(len(allowed))/10 + 5
	if err != nil {
		return r, false
	}
	r.cost, r.x = m.Cost(), m.Values()
	prices := m.Prices()
	for c, col := range columns {
		d := float64(s.pr.Stocks[s.pool.layouts[r.layout[c]].Stock].Cost) / s.scale
		for _, e := range col {
			d -= prices[e.Row] * e.Value
		}
		r.over = append(r.over, d)
	}
	return r, true
}

// near lists the layouts that a solution cheaper than aim can use: those whose
// reduced cost does not exceed what is left to lose.
func (r relaxed) near(aim, unit float64) (allowed []int) {
	gap := aim - unit - r.cost + 1e-6
	for c, d := range r.over {
		if d <= gap {
			allowed = append(allowed, r.layout[c])
		}
	}
	return allowed
}

// solution writes the choice down, without the pieces that are not wanted.
func (s *search) solution(n node) *model.Solution {
	out := &model.Solution{}
	for _, u := range n.fixed {
		out.Add(s.pool.layouts[u.layout].Pattern, u.n)
	}
	return trim(s.pr, out)
}
