package reports

import (
	"fmt"

	"pinfold/units"
)

// The box a picture file fits its diagram into, on paper.
const (
	pictureW = 8 * units.Inch
	pictureH = 10 * units.Inch
)

// picture is the whole drawing of a layout for a file of its own: a head, the
// diagram and what it gives. Unlike paper, a picture may be as large as its
// pieces need to be read.
func (s *Sheet) picture() *Drawing {
	at := s.tile(pictureW, pictureH).scale
	d := newDiagram(s, at, s.raw())
	head := Font{Size: 14 * point, Bold: true, Colour: ink}
	text := Font{Size: 9 * point, Colour: soft}
	out := &Drawing{W: max(d.W, 300*point), H: d.H + 60*point}
	lines := wrap(s.Gives(), text, out.W-24*point, 0)
	if len(s.Offcuts) > 0 {
		lines = append(lines, wrap(keeps(s), text, out.W-24*point, 0)...)
	}
	lines = append(lines, wrap(fmt.Sprintf("Scale %s. Measures in %s, along the selvage × across.", at, unitName(s.unit)), text, out.W-24*point, 0)...)
	out.text(12*point, 24*point, fit(s.Name(), head, out.W-24*point), head)
	out.text(12*point, 40*point, fit(typeset(s.Cloth)+"; "+s.Like(), text, out.W-24*point), text)
	out.place((out.W-d.W)/2, 46*point, &d.Drawing)
	y := 46*point + d.H
	for _, l := range lines {
		y += lead(text)
		out.text(12*point, y, l, text)
	}
	out.H = y + 12*point
	return out
}
