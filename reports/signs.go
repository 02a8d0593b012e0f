package reports

import (
	"slices"
	"strconv"

	"pinfold/plan"
	"pinfold/units"
)

// grain draws the arrow of the selvage, or of the print, beside the cloth.
func (d *diagram) grain() {
	x := d.x(d.view.X+d.view.W) + 40*point
	foot := d.y(d.view.Y)
	tip := d.y(d.view.Y + d.view.H)
	text, both := "selvage", true
	switch d.s.Direction {
	case plan.OneWay:
		text, both = "print: top up", false
	case plan.TwoWay:
		text = "print"
	}
	font := Font{Size: 7 * point, Colour: soft, Align: Middle, Up: true}
	long := font.width(text) + 44*point
	if room := foot - tip; room > long {
		foot -= (room - long) / 2
		tip = foot - long
	}
	s := pen(ink, point)
	if d.s.Direction == plan.OneWay {
		s.Width = 7 * point / 4
	}
	if foot-tip < long-20*point {
		d.arrowUp(x, foot, tip, both, s)
		return
	}
	// The words stand in a gap of the line.
	gap := font.width(text)/2 + 4*point
	mid := (foot + tip) / 2
	d.arrowUp(x, mid-gap, tip, false, s)
	d.line(x, foot, x, mid+gap, s)
	if both {
		d.line(x, foot, x-3*point, foot-5*point, s)
		d.line(x, foot, x+3*point, foot-5*point, s)
	}
	d.text(x+font.Size/3, mid, text, font)
}

// badges numbers the steps that cut the whole cloth, outside it at the end of
// their first cut: on the right or above; those that square at the lower left.
func (d *diagram) badges() {
	last := 0
	right, above := units.Length(1)<<40, -units.Length(1)<<40 // the last badge's place
	for _, l := range d.s.Lines {
		if l.Step == last {
			continue
		}
		last = l.Step
		across := l.Y1 == l.Y2
		switch {
		case slices.Contains(d.s.squaring, l.Step):
			if d.view.X <= 0 && d.view.Y <= 0 {
				d.badge(d.x(d.view.X)-badge-2*point, d.y(d.view.Y)+badge+2*point, badge, l.Step)
			}
		case !slices.Contains(d.s.whole, l.Step):
		case across && l.Y1 >= d.view.Y && l.Y1 <= d.view.Y+d.view.H:
			end := d.x(d.view.X + d.view.W)
			y := min(d.y(l.Y1), right-2*badge-point)
			d.leader(d.x(d.cloth.X+d.cloth.W), d.y(l.Y1), end+2*point, y)
			d.badge(end+2*point+badge, y, badge, l.Step)
			right = y
		case !across && l.X1 >= d.view.X && l.X1 <= d.view.X+d.view.W:
			end := d.y(d.view.Y + d.view.H)
			x := max(d.x(l.X1), above+2*badge+point)
			d.leader(d.x(l.X1), d.y(d.cloth.Y+d.cloth.H), x, end-2*point)
			d.badge(x, end-2*point-badge, badge, l.Step)
			above = x
		}
	}
}

// leader ties a badge to its cut.
func (d *diagram) leader(x1, y1, x2, y2 units.Length) {
	d.line(x1, y1, x2, y2, pen(ink, 3*point/4))
}

// badge is the radius of a number.
const badge = 13 * point / 2

func (d *Drawing) badge(x, y, r units.Length, n int) {
	text := strconv.Itoa(n)
	font := Font{Size: r * 5 / 4, Bold: true, Colour: ink, Align: Middle}
	if len(text) > 2 {
		font.Size = r * 19 / 20
	}
	d.circle(x, y, r, Style{Fill: white, Stroke: ink, Width: 3 * point / 4})
	d.text(x, y+font.Size*7/20, text, font)
}
