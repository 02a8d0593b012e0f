package reports

import (
	"pinfold/pack"
	"pinfold/units"
)

// Room around the cloth in a diagram, for measures and the grain arrow.
const (
	roomLeft   = 62 * point
	roomRight  = 48 * point
	roomTop    = 34 * point
	roomBottom = 38 * point
)

// diagram draws the part of a sheet that lies in view, to scale.
type diagram struct {
	Drawing
	s     *Sheet
	at    scale
	view  pack.Rect
	cloth pack.Rect // the part of the usable area in view
}

func newDiagram(s *Sheet, at scale, view pack.Rect) *diagram {
	d := &diagram{s: s, at: at, view: view}
	d.W = roomLeft + at.paper(view.W) + roomRight
	d.H = roomTop + at.paper(view.H) + roomBottom
	if root := s.layout.Cuts; root.Leaf != pack.NoLeaf || root.Axis == pack.Y {
		d.H -= 22 * point // no chain of measures below
	}
	d.cloth = meet(view, pack.Rect{W: s.W, H: s.H})
	d.margins()
	for _, r := range s.Waste {
		d.waste(r)
	}
	for _, p := range s.Pieces {
		d.box(p.Rect, wash(cream))
	}
	for _, o := range s.Offcuts {
		d.offcut(o)
	}
	for _, r := range s.Bad {
		d.bad(r)
	}
	d.cutLines(region{s.layout.Cuts, pack.Rect{W: s.W, H: s.H}}, 0)
	d.compact()
	d.edges()
	for _, p := range s.Pieces {
		d.label(p.Rect, p.Letter, false)
	}
	for _, o := range s.Offcuts {
		d.label(o.Rect, o.Label, true)
	}
	d.measures()
	d.grain()
	d.badges()
	return d
}

// x and y convert the sheet's measures to places on paper.
func (d *diagram) x(l units.Length) units.Length { return roomLeft + d.at.paper(l-d.view.X) }

func (d *diagram) y(l units.Length) units.Length {
	return roomTop + d.at.paper(d.view.Y+d.view.H-l)
}

// meet is the part two rectangles share; its sides are 0 or less if none.
func meet(a, b pack.Rect) pack.Rect {
	x, y := max(a.X, b.X), max(a.Y, b.Y)
	return pack.Rect{X: x, Y: y, W: min(a.X+a.W, b.X+b.W) - x, H: min(a.Y+a.H, b.Y+b.H) - y}
}

// onPaper is where the visible part of a rectangle of cloth lies on paper.
func (d *diagram) onPaper(r pack.Rect) (x, y, w, h units.Length, ok bool) {
	r = meet(r, d.view)
	if r.W <= 0 || r.H <= 0 {
		return 0, 0, 0, 0, false
	}
	x, y = d.x(r.X), d.y(r.Y+r.H)
	return x, y, d.x(r.X+r.W) - x, d.y(r.Y) - y, true
}

func (d *diagram) box(r pack.Rect, s Style) {
	if x, y, w, h, ok := d.onPaper(r); ok {
		d.rect(x, y, w, h, s)
	}
}

var (
	hatchPen = pen(faint, point/2)
	badPen   = pen(soft, point/2)
)

const hatchGap = 5 * point

func (d *diagram) waste(r pack.Rect) {
	if x, y, w, h, ok := d.onPaper(r); ok {
		d.onCloth(func() { d.hatch(x, y, w, h, hatchGap, true, hatchPen) })
	}
}

// margins shows what squaring takes off: hatched, the raw edge dashed.
func (d *diagram) margins() {
	raw := d.s.raw()
	e := d.s.Edges
	d.waste(pack.Rect{X: raw.X, Y: raw.Y, W: raw.W, H: e[Bottom].Trim})
	d.waste(pack.Rect{X: raw.X, Y: d.s.H, W: raw.W, H: e[Top].Trim})
	d.waste(pack.Rect{X: raw.X, W: e[Left].Trim, H: d.s.H})
	d.waste(pack.Rect{X: d.s.W, W: e[Right].Trim, H: d.s.H})
	dashed := Style{Fill: NoColour, Stroke: soft, Width: point / 2, Dash: 3 * point}
	for side, trim := range e {
		if trim.Trim > 0 {
			d.along(Side(side), raw, dashed, 0)
		}
		if trim.Selvage {
			// Two close lines just beyond the cloth stand for the woven edge.
			d.along(Side(side), pack.Rect{W: d.s.W, H: d.s.H}, pen(soft, point/2), 3*point)
			d.along(Side(side), pack.Rect{W: d.s.W, H: d.s.H}, pen(soft, point/2), 5*point)
		}
	}
}

// along draws the visible part of one side of a rectangle of cloth, moved out by
// a distance on paper.
func (d *diagram) along(side Side, r pack.Rect, s Style, out units.Length) {
	x, y, w, h, ok := d.onPaper(r)
	if !ok {
		return
	}
	seen := func(at, from, size units.Length) bool { return at >= from && at <= from+size }
	switch side {
	case Left:
		if seen(r.X, d.view.X, d.view.W) {
			d.line(x-out, y, x-out, y+h, s)
		}
	case Right:
		if seen(r.X+r.W, d.view.X, d.view.W) {
			d.line(x+w+out, y, x+w+out, y+h, s)
		}
	case Bottom:
		if seen(r.Y, d.view.Y, d.view.H) {
			d.line(x, y+h+out, x+w, y+h+out, s)
		}
	case Top:
		if seen(r.Y+r.H, d.view.Y, d.view.H) {
			d.line(x, y-out, x+w, y-out, s)
		}
	}
}

// edges outlines the usable area; sides that are squared are drawn heavy, and
// where the picture goes on on another page it stays open.
func (d *diagram) edges() {
	if d.s.Outline != nil {
		d.outline()
		return
	}
	all := pack.Rect{W: d.s.W, H: d.s.H}
	for side, e := range d.s.Edges {
		width := point
		if e.Trim > 0 || e.Selvage {
			width = 9 * point / 4
		}
		d.along(Side(side), all, pen(ink, width), 0)
	}
}

func (d *diagram) offcut(o Offcut) {
	x, y, w, h, ok := d.onPaper(o.Rect)
	if !ok {
		return
	}
	d.rect(x, y, w, h, wash(keep))
	in := 3 * point
	if w > 3*in && h > 3*in {
		d.rect(x+in, y+in, w-2*in, h-2*in, Style{Fill: NoColour, Stroke: harbor, Width: point / 2, Dash: 2 * point})
	}
}

// bad crosses out cloth that cannot be used.
func (d *diagram) bad(r pack.Rect) {
	x, y, w, h, ok := d.onPaper(meet(r, pack.Rect{W: d.s.W, H: d.s.H}))
	if !ok {
		return
	}
	d.onCloth(func() {
		d.rect(x, y, w, h, Style{Fill: white, Stroke: soft, Width: point / 2})
		d.hatch(x, y, w, h, hatchGap/2, true, badPen)
		d.hatch(x, y, w, h, hatchGap/2, false, badPen)
	})
}

// cutLines draws every cut, the first level heaviest, so that the strips show.
func (d *diagram) cutLines(r region, depth int) {
	if r.node.Leaf != pack.NoLeaf {
		return
	}
	parts := r.parts(d.s.kerf)
	for _, p := range parts {
		d.cutLines(p, depth+1)
	}
	width := []units.Length{3 * point / 2, point, 3 * point / 4}[min(depth, 2)]
	for i := range r.node.At {
		side := Right
		if r.node.Axis == pack.Y {
			side = Top
		}
		// Lines keep their distance: of many narrow parts the cloth must stay light.
		each := d.at.paper(parts[i].width(r.node.Axis))
		if each < point && parts[i].width(r.node.Axis) == parts[i+1].width(r.node.Axis) {
			continue // the measure beside them says how many
		}
		fine := min(width, max(each/9, point/5))
		d.onCloth(func() { d.along(side, parts[i].Rect, pen(ink, fine), 0) })
	}
}
