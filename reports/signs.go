package reports

import (
	"strconv"

	"pinfold/plan"
	"pinfold/units"
)

// grain draws the arrow of the selvage, or of the print, beside the cloth.
func (d *diagram) grain() {
	x := d.x(d.view.X+d.view.W) + 34*point
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

// badges numbers the first cut of every step that cuts the whole cloth, on the
// cut's line near its left or upper end, or outside the edge that is squared.
func (d *diagram) badges() {
	r := min(badge, max(4*point, d.at.paper(d.s.smallest())/4))
	last := 0
	for _, l := range d.s.Lines {
		if l.Step == last {
			continue
		}
		last = l.Step
		x, y := l.X1, max(l.Y1, l.Y2)
		if x < d.view.X || x > d.view.X+d.view.W || y < d.view.Y || y > d.view.Y+d.view.H {
			continue
		}
		px, py := d.x(x), d.y(y)
		if l.Y1 == l.Y2 {
			px += r + 2*point
		} else {
			py += r + 2*point
		}
		d.badge(px, py, r, l.Step)
	}
}

// badge is the radius of a number; where pieces are small it shrinks.
const badge = 11 * point / 2

func (d *Drawing) badge(x, y, r units.Length, n int) {
	text := strconv.Itoa(n)
	font := Font{Size: r * 5 / 4, Bold: true, Colour: ink, Align: Middle}
	if len(text) > 2 {
		font.Size = r * 7 / 8
	}
	d.circle(x, y, r, Style{Fill: white, Stroke: ink, Width: 3 * point / 4})
	d.text(x, y+font.Size*7/20, text, font)
}
