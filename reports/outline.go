package reports

import (
	"fmt"
	"math"
	"slices"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// outline draws the edge of cloth that is no rectangle, its corners numbered as the
// stash has them, within the dashed rectangle that all measures are taken in.
func (d *diagram) outline() {
	box := Style{Fill: NoColour, Stroke: faint, Width: point / 2, Dash: 2 * point}
	for _, side := range []Side{Left, Right, Bottom, Top} {
		d.along(side, pack.Rect{W: d.s.W, H: d.s.H}, box, 0)
	}
	o := d.s.Outline
	view := [4]Spot{{d.x(d.view.X), d.y(d.view.Y)}, {d.x(d.view.X + d.view.W), d.y(d.view.Y)},
		{d.x(d.view.X + d.view.W), d.y(d.view.Y + d.view.H)}, {d.x(d.view.X), d.y(d.view.Y + d.view.H)}}
	for i, a := range o {
		b := o[(i+1)%len(o)]
		for _, l := range clipped(view[:], Spot{d.x(a.X), d.y(a.Y)}, Spot{d.x(b.X), d.y(b.Y)}) {
			d.line(l[0].X, l[0].Y, l[1].X, l[1].Y, pen(ink, 9*point/4))
		}
	}
	f := Font{Size: 7 * point, Bold: true, Colour: harbor, Align: Middle}
	for i, p := range o {
		if p.X < d.view.X || p.X > d.view.X+d.view.W || p.Y < d.view.Y || p.Y > d.view.Y+d.view.H {
			continue
		}
		// Beside the corner, away from the middle of the cloth.
		dx, dy := 5*point, -4*point
		if 2*p.X < d.s.W {
			dx = -dx
		}
		if 2*p.Y < d.s.H {
			dy = 9 * point
		}
		d.text(d.x(p.X)+dx, d.y(p.Y)+dy, fmt.Sprint(i+1), f)
	}
}

// onCloth draws, and leaves of lines what lies on the cloth: of cloth that is no
// rectangle nothing is drawn outside its edge. Rectangles become their sides.
func (d *diagram) onCloth(draw func()) {
	if d.s.Outline == nil {
		draw()
		return
	}
	edge := make([]Spot, len(d.s.Outline))
	for i, p := range d.s.Outline {
		edge[i] = Spot{d.x(p.X), d.y(p.Y)}
	}
	before := len(d.Marks)
	draw()
	drawn := slices.Clone(d.Marks[before:])
	d.Marks = d.Marks[:before]
	for _, m := range drawn {
		ends := [][2]Spot{{{m.X, m.Y}, {m.X2, m.Y2}}}
		if m.Shape == RectShape {
			a, b, c, e := Spot{m.X, m.Y}, Spot{m.X2, m.Y}, Spot{m.X2, m.Y2}, Spot{m.X, m.Y2}
			ends = [][2]Spot{{a, b}, {b, c}, {c, e}, {e, a}}
			m.Style.Fill = NoColour
		}
		for _, l := range ends {
			for _, in := range clipped(edge, l[0], l[1]) {
				d.line(in[0].X, in[0].Y, in[1].X, in[1].Y, m.Style)
			}
		}
	}
}

// clipped returns the parts of a line on paper that lie inside a polygon.
func clipped(edge []Spot, a, b Spot) [][2]Spot {
	ax, ay, dx, dy := float64(a.X), float64(a.Y), float64(b.X-a.X), float64(b.Y-a.Y)
	at := []float64{0, 1}
	for i, p := range edge {
		q := edge[(i+1)%len(edge)]
		ex, ey := float64(q.X-p.X), float64(q.Y-p.Y)
		cross := dx*ey - dy*ex
		if cross == 0 {
			continue
		}
		px, py := float64(p.X)-ax, float64(p.Y)-ay
		t, u := (px*ey-py*ex)/cross, (px*dy-py*dx)/cross
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			at = append(at, t)
		}
	}
	slices.Sort(at)
	var out [][2]Spot
	for i := 1; i < len(at); i++ {
		m := (at[i-1] + at[i]) / 2
		if !covers(edge, ax+m*dx, ay+m*dy) {
			continue
		}
		place := func(t float64) Spot {
			return Spot{units.Length(math.Round(ax + t*dx)), units.Length(math.Round(ay + t*dy))}
		}
		if n := len(out); n > 0 && out[n-1][1] == place(at[i-1]) {
			out[n-1][1] = place(at[i])
		} else {
			out = append(out, [2]Spot{place(at[i-1]), place(at[i])})
		}
	}
	return out
}

// covers tells whether a place on paper lies inside a polygon or on its edge.
func covers(edge []Spot, x, y float64) bool {
	in := false
	for i, p := range edge {
		q := edge[(i+1)%len(edge)]
		px, py, qx, qy := float64(p.X), float64(p.Y), float64(q.X), float64(q.Y)
		cross := (qx-px)*(y-py) - (qy-py)*(x-px)
		if math.Abs(cross) <= math.Hypot(qx-px, qy-py) &&
			min(px, qx)-1 <= x && x <= max(px, qx)+1 && min(py, qy)-1 <= y && y <= max(py, qy)+1 {
			return true
		}
		if (py > y) != (qy > y) && x < px+(y-py)/(qy-py)*(qx-px) {
			in = !in
		}
	}
	return in
}

// ends says where a cut of a lot ends on the edge of crooked cloth, measured along
// that edge from a corner of it: there is no straight edge yet to measure from.
func (sh *Sheet) ends(r pack.Rect, axis pack.Axis, at units.Length) []string {
	var out []string
	o := sh.Outline
	for i, a := range o {
		b := o[(i+1)%len(o)]
		from, to, low, high := a.X, b.X, r.Y, r.Y+r.H
		if axis == pack.Y {
			from, to, low, high = a.Y, b.Y, r.X, r.X+r.W
		}
		if from == to || at < min(from, to) || at > max(from, to) {
			continue
		}
		t := float64(at-from) / float64(to-from)
		across := float64(a.Y) + t*float64(b.Y-a.Y)
		if axis == pack.Y {
			across = float64(a.X) + t*float64(b.X-a.X)
		}
		if across < float64(low) || across > float64(high) {
			continue
		}
		side := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
		corner, along := i+1, t*side
		if t > 0.5 {
			corner, along = (i+1)%len(o)+1, (1-t)*side
		}
		g := sh.unit.Grid() / 2
		far := (units.Length(math.Round(along)) + g/2).RoundDown(g)
		if far == 0 {
			if name := fmt.Sprintf("corner %d", corner); !slices.Contains(out, name) {
				out = append(out, name)
			}
			continue
		}
		out = append(out, fmt.Sprintf("%s from corner %d on edge %d-%d", said(far, sh.unit), corner, i+1, (i+1)%len(o)+1))
	}
	return out
}

// ends adds where the first cut of a lot of crooked cloth ends.
func (st *Step) ends(sh *Sheet, l pack.Lot) {
	at := sh.ends(l.Rect, l.Node.Axis, l.Node.At[l.From])
	if len(at) == 0 {
		return
	}
	words := fmt.Sprintf("The first cut of sheet %d meets the edge at %s.", sh.Number, list(at))
	if !slices.Contains(st.Ends, words) {
		st.Ends = append(st.Ends, words)
	}
}

// forbidden are the rectangles that nothing may lie on.
func (s *Sheet) forbidden(f *plan.FabricResult) []pack.Rect {
	if s.layout.Stock.Sheet == pack.FromRoll {
		return s.Bad
	}
	return f.Problem.Sheets[s.layout.Stock.Sheet].Forbidden(s.layout, s.kerf)
}
