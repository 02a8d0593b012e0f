package pack

import (
	"cmp"
	"slices"

	"pinfold/units"
)

// span is a stretch of one coordinate.
type span struct{ from, to units.Length }

// outside lists the stretches of y, ascending and apart, over which the strip of x
// from a to b is not all inside the outline, between 0 and height, widened to
// whole ticks.
func (o Outline) outside(a, b, height units.Length) []span {
	edges := []span{{0, 0}, {height, height}}
	for i := range o {
		p, q := o.edge(i)
		if p.X > q.X {
			p, q = q, p
		}
		if q.X <= a || p.X >= b {
			continue
		}
		// An edge along x parts the strip but takes nothing of it.
		l, h := min(p.Y, q.Y), max(p.Y, q.Y)
		if p.X < q.X {
			l1, h1 := yAt(p, q, max(a, p.X))
			l2, h2 := yAt(p, q, min(b, q.X))
			l, h = min(l1, l2), max(h1, h2)
		}
		edges = append(edges, span{max(l, 0), min(h, height)})
	}
	slices.SortFunc(edges, func(s, t span) int { return cmp.Or(cmp.Compare(s.from, t.from), cmp.Compare(s.to, t.to)) })
	var out []span
	at := units.Length(0)
	for _, e := range edges {
		if e.from > at && !o.around(Rect{a, at, b - a, e.from - at}) {
			out = add(out, span{at, e.from})
		}
		if e.to > e.from {
			out = add(out, e)
		}
		at = max(at, e.to)
	}
	return out
}

// yAt returns the height of the line from p to q, which rises or falls and runs
// to the right, at x, rounded down and up.
func yAt(p, q Point, x units.Length) (low, high units.Length) {
	num, den := (q.Y-p.Y)*(x-p.X), q.X-p.X
	low = num / den
	if num%den < 0 {
		low--
	}
	high = low
	if num%den != 0 {
		high++
	}
	return p.Y + low, p.Y + high
}

// add appends a span that begins no earlier than those before it.
func add(list []span, s span) []span {
	if n := len(list); n > 0 && s.from <= list[n-1].to {
		list[n-1].to = max(list[n-1].to, s.to)
		return list
	}
	return append(list, s)
}

// either is what lies in one of two lists, both in one of both.
func either(a, b []span) []span {
	all := slices.Concat(a, b)
	slices.SortFunc(all, func(s, t span) int { return cmp.Compare(s.from, t.from) })
	var out []span
	for _, s := range all {
		out = add(out, s)
	}
	return out
}

func length(list []span) units.Length {
	var sum units.Length
	for _, s := range list {
		sum += s.to - s.from
	}
	return sum
}

// turned is the outline with its axes exchanged.
func (o Outline) turned() Outline {
	out := make(Outline, len(o))
	for i, p := range o {
		out[i] = Point{p.Y, p.X}
	}
	return out
}

// Forbidden covers all that is not usable of the sheet with rectangles that keep
// off whatever lies on sound cloth in the layout: its bad areas, and outside its
// outline a staircase whose steps are as wide as what is placed beside them. So
// who knows rectangles only can check the layout.
func (s Sheet) Forbidden(l Layout, kerf units.Length) []Rect {
	out := slices.Clone(s.Bad)
	if s.Outline == nil {
		return out
	}
	w, h := s.Usable()
	xs := []units.Length{0, w}
	for _, p := range s.Outline {
		xs = append(xs, p.X)
	}
	l.Walk(kerf, func(n *Node, r Rect) {
		if n.Leaf != WasteLeaf {
			xs = append(xs, r.X, r.X+r.W)
		}
	})
	slices.Sort(xs)
	xs = slices.Compact(xs)
	// Equal stretches of neighbouring strips are one rectangle.
	open := map[span]int{}
	for i := 1; i < len(xs); i++ {
		next := map[span]int{}
		for _, y := range s.Outline.outside(xs[i-1], xs[i], h) {
			if at, ok := open[y]; ok {
				out[at].W = xs[i] - out[at].X
				next[y] = at
				continue
			}
			next[y] = len(out)
			out = append(out, Rect{xs[i-1], y.from, xs[i] - xs[i-1], y.to - y.from})
		}
		open = next
	}
	return out
}
