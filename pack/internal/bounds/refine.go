package bounds

import (
	"math"
	"slices"

	"pinfold/pack/internal/lp"
	"pinfold/pack/internal/model"
)

// Refine looks for better scales than [Cost] tries, for one kind of stock: with
// the function of one axis fixed, the best function of the other is found by a
// linear programme, in turns (Caprara & Monaci, Bidimensional packing by
// bilinear programming, Mathematical Programming 118, 2009). It starts from the
// most promising products and ends as soon as the bound on the cost reaches
// goal. It takes some tenths of a second for 100 sizes. With several kinds of
// stock, or an extent far beyond its grid, the bound is 0.
func Refine(pr *model.Problem, goal int64) (int64, string) {
	if len(pr.Stocks) != 1 {
		return 0, ""
	}
	t := newTask(pr.Items, pr.Stocks)
	rx, ry := t.newRow(&t.x, true, 1), t.newRow(&t.y, false, 1)
	if len(t.pieces) == 0 || rx == nil || ry == nil {
		return 0, ""
	}
	c := &contest{stocks: t.stocks, name: refinedName}
	for _, s := range t.starts() {
		t.climb(c, rx, ry, s, goal)
		if c.best >= goal {
			break
		}
	}
	return c.best, c.name
}

const (
	refinedName = "refined size classes"
	climbs      = 4 // starting points
	rounds      = 8 // of turns from one start
	columns     = 400
	slightest   = 1e-4 // gain worth another round
)

// start is a function of y to begin with, and the product's fractional bound.
type start struct {
	v     []float64
	bound float64
}

// starts picks the functions of y that are part of the most promising products,
// one start each.
func (t *task) starts() []start {
	fx := t.scales(true)
	fy := fx
	if !t.square {
		fy = t.scales(false)
	}
	most := int(math.Sqrt(searchRoom / float64(len(t.pieces)+1)))
	fx, fy = thin(fx, most), thin(fy, most)
	var out []start
	for _, v := range fy {
		best := 0.0
		for _, u := range fx {
			best = max(best, float64(t.weigh(u.value, v.value))/(float64(u.caps[0])*float64(v.caps[0])))
		}
		s := start{make([]float64, len(v.value)), best}
		for i, x := range v.value {
			s.v[i] = float64(x) / float64(v.caps[0])
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b start) int {
		switch {
		case a.bound > b.bound:
			return -1
		case a.bound < b.bound:
			return 1
		}
		return 0
	})
	return out[:min(len(out), climbs)]
}

// climb takes turns between the axes until the bound stands still or reaches
// goal.
func (t *task) climb(c *contest, rx, ry *row, s start, goal int64) {
	v, last := s.v, s.bound
	for range rounds {
		u, _ := t.answer(rx, &t.x, true, v)
		var bound float64
		v, bound = t.answer(ry, &t.y, false, u)
		t.settle(c, rx, ry, u, v)
		if c.best >= goal || bound < last+slightest {
			return
		}
		last = bound
	}
}

// answer returns the function of one axis, of capacity 1, that with the other
// axis's function fixed gives the best bound, and the bound in sheets. It is a
// cutting stock problem of one dimension: the other function says how much of
// each length is wanted, a piece that may be turned asking for either, and the
// prices of the lengths are the function.
func (t *task) answer(r *row, a *axis, x bool, other []float64) ([]float64, float64) {
	m := t.demands(a, x, other)
	for i, l := range a.lengths {
		n := min(a.extent[0]/l, r.copiesOf(i))
		m.Add(1, []lp.Entry{{Row: i, Value: float64(n)}})
	}
	u := make([]float64, len(a.lengths))
	for range columns {
		if m.Solve() != nil {
			break
		}
		for i := range u {
			u[i] = max(m.Prices()[i], 0)
		}
		worth, column := r.dear(u)
		if worth <= 1+1e-7 {
			break
		}
		m.Add(1, column)
	}
	if worth, _ := r.dear(u); worth > 0 {
		for i := range u {
			u[i] /= worth
		}
	}
	var bound float64
	for i := range t.pieces {
		p := &t.pieces[i]
		least := math.Inf(1)
		for _, w := range p.ways {
			least = min(least, u[w.along(x)]*other[w.along(!x)])
		}
		bound += least * float64(p.n)
	}
	return u, bound
}

// demands is the programme without its patterns: a row for each length, then one
// for each piece that may be turned, whose copies are shared out between its
// ways.
func (t *task) demands(a *axis, x bool, other []float64) *lp.Master {
	rhs := make([]float64, len(a.lengths))
	var turning []*piece
	for i := range t.pieces {
		p := &t.pieces[i]
		if len(p.ways) == 1 {
			rhs[p.ways[0].along(x)] += float64(p.n) * other[p.ways[0].along(!x)]
			continue
		}
		turning = append(turning, p)
		rhs = append(rhs, float64(p.n))
	}
	m := lp.New(make([]lp.Sense, len(rhs)), rhs) // the zero sense is AtLeast
	for i, p := range turning {
		for _, w := range p.ways {
			m.Add(0, []lp.Entry{{Row: len(a.lengths) + i, Value: 1}, {Row: w.along(x), Value: -other[w.along(!x)]}})
		}
	}
	return m
}

// settle turns the functions into whole numbers, finds their capacities exactly
// and enters the product.
func (t *task) settle(c *contest, rx, ry *row, u, v []float64) {
	var copies float64
	for _, p := range t.pieces {
		copies += float64(p.n)
	}
	grain := float64(1 << 22)
	for copies*grain*grain >= overflow {
		grain /= 2
	}
	whole := func(f []float64, r *row, a *axis) scale {
		s := scale{value: make([]int64, len(f)), caps: []int64{math.MaxInt64}}
		for i, x := range f {
			s.value[i] = int64(x*grain + 1e-3)
		}
		r.tighten(&s, a.extent)
		return s
	}
	su, sv := whole(u, rx, &t.x), whole(v, ry, &t.y)
	if su.caps[0] > 0 && sv.caps[0] > 0 {
		c.enter(t.weigh(su.value, sv.value), []int64{su.caps[0] * sv.caps[0]}, refinedName)
	}
}
