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
// The search goes down the linear relaxation: it fixes whole copies, then the
// layout with the largest fraction, over and over; then it goes back and forbids
// layouts it fixed, few at a time (limited discrepancy search, as in the diving
// of Sadykov, Vanderbeck, Pessoa, Tahiri and Uchoa, INFORMS Journal on Computing
// 31, 2019).
func (p *Pool) Choose(aim, bound, budget int64) (best *model.Solution, spent int64) {
	s := &search{pool: p, pr: p.pr, aim: aim, bound: bound, budget: budget}
	for _, st := range p.pr.Stocks {
		s.scale = max(s.scale, float64(st.Cost))
		s.unit = gcd(s.unit, st.Cost)
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
	for width := 0; width <= 4 && s.open(); width++ {
		s.descend(n, all, width, 0)
	}
	return s.best, s.spent
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
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
}

// open tells whether there is anything left to win, and time.
func (s *search) open() bool { return s.spent < s.budget && s.bound < s.aim }

// node is a partial choice.
type node struct {
	demand []int
	copies []int // of the stocks
	fixed  []use
	cost   int64
}

type use struct{ layout, n int }

// descend searches below a node with the layouts still allowed; width is how
// many choices may yet be forbidden.
func (s *search) descend(n node, allowed []int, width, depth int) {
	for s.open() {
		if !slices.ContainsFunc(n.demand, func(d int) bool { return d > 0 }) {
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
		before := n.cost
		pick, most := -1, 0.0
		n = n.clone()
		for c, x := range r.x {
			if whole := int(x + 1e-6); whole > 0 {
				s.fix(&n, r.layout[c], whole)
			}
			if x > most {
				pick, most = r.layout[c], x
			}
		}
		if n.cost > before || pick < 0 {
			if pick < 0 {
				return
			}
			continue
		}
		if width > 0 && depth < 6 {
			without := slices.DeleteFunc(slices.Clone(allowed), func(k int) bool { return k == pick })
			s.descend(n, without, width-1, depth+1)
		}
		s.fix(&n, pick, 1)
		depth++
	}
}

func (s *search) unitCost() float64 { return float64(s.unit) / s.scale }

// ceil rounds a relaxed cost up to what sheets can cost, less what rounding may
// have added.
func (s *search) ceil(relaxed float64) int64 {
	units := math.Ceil(relaxed*s.scale/float64(s.unit) - 1e-6)
	return int64(units) * s.unit
}

func (n node) clone() node {
	n.demand, n.copies, n.fixed = slices.Clone(n.demand), slices.Clone(n.copies), slices.Clone(n.fixed)
	return n
}

func (s *search) fix(n *node, k, times int) {
	l := &s.pool.layouts[k]
	if c := &n.copies[l.Stock]; *c != model.Unlimited {
		times = min(times, *c)
		*c -= times
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
	return Trim(s.pr, out)
}
