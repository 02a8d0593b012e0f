package reports

import (
	"fmt"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// The most room a part's picture takes, without its measures.
const (
	stripRoomW = 330 * point
	stripRoomH = 54 * point
)

// stripPicture draws a part as it lies after its turn: the edge that measures are
// taken from at the left, heavy.
type stripPicture struct {
	Drawing
	top        units.Length // of the part
	w, h       units.Length // of the part on paper
	long, wide units.Length // of the part: along the measures, across them
	done       units.Length // how much is cut off
}

// stripDiagram draws what a chain of steps makes of one part.
func (r *Report) stripDiagram(chain []int) *Drawing {
	st := &r.Steps[chain[0]-1]
	p := stripPicture{long: st.Size.Across, wide: st.Size.Along}
	if st.Axis == pack.Y {
		p.long, p.wide = st.Size.Along, st.Size.Across
	}
	p.top = 14 * point
	// At most a third of the real size, and as large as the room allows.
	p.w = min(stripRoomW, p.long/3)
	p.h = p.wide * p.w / p.long
	if p.h > stripRoomH {
		p.w, p.h = p.w*stripRoomH/p.h, stripRoomH
	}
	p.h = max(p.h, 13*point)
	p.W, p.H = p.w+16*point, p.top+p.h+13*point
	last := st
	for _, n := range chain {
		last = &r.Steps[n-1]
		p.cuts(last)
	}
	p.rest(last)
	p.rect(p.x(0), p.top, p.w, p.h, pen(ink, point))
	p.line(p.x(0), p.top-2*point, p.x(0), p.top+p.h+2*point, pen(ink, 3*point))
	return &p.Drawing
}

func (p *stripPicture) x(l units.Length) units.Length { return 8*point + l*p.w/p.long }

// cuts draws what a step takes off.
func (p *stripPicture) cuts(st *Step) {
	from := p.done
	label := labelOf(st.Off)
	waste := label == "" && !slices.ContainsFunc(st.Off, func(o Output) bool { return o.Kind != WasteOut })
	kerf := units.Length(0)
	if st.Cuts > 0 {
		kerf = (p.long - p.done - st.Left - units.Length(st.Cuts)*st.Measure) / units.Length(st.Cuts)
	}
	for i := range st.Cuts {
		a, b := p.x(p.done), p.x(p.done+st.Measure)
		p.part(a, b, label, waste, labelOf(st.Off) != "" && st.Off[0].Kind == OffcutOut)
		p.line(b, p.top, b, p.top+p.h, pen(ink, 3*point/4))
		if i == 0 {
			p.badge(b, p.top-8*point, badge, st.Number)
		}
		p.done += st.Measure + max(kerf, 0)
	}
	text, _ := measureWords(st.Measure, st.unit)
	if st.Cuts > 1 {
		text = fmt.Sprintf("%d × %s", st.Cuts, text)
	}
	p.chain(p.x(from), p.x(p.done), text)
}

// rest draws what the last step leaves.
func (p *stripPicture) rest(st *Step) {
	if st.Left == 0 {
		return
	}
	label := labelOf(st.Rest)
	waste := label == "" && !slices.ContainsFunc(st.Rest, func(o Output) bool { return o.Kind != WasteOut })
	p.part(p.x(p.done), p.x(p.long), label, waste, len(st.Rest) > 0 && st.Rest[0].Kind == OffcutOut)
	p.chain(p.x(p.done), p.x(p.long), rough(st.Left, st.unit))
}

func (p *stripPicture) part(a, b units.Length, label string, waste, kept bool) {
	switch {
	case waste:
		p.rect(a, p.top, b-a, p.h, wash(white))
		p.hatch(a, p.top, b-a, p.h, hatchGap, true, hatchPen)
	case kept:
		p.rect(a, p.top, b-a, p.h, wash(keep))
	default:
		p.rect(a, p.top, b-a, p.h, wash(cream))
	}
	f := Font{Size: min(11*point, max(7*point, p.h/2)), Bold: true, Colour: ink, Align: Middle}
	for f.Size > 6*point && f.width(label)+2*point > b-a {
		f.Size -= point / 2
	}
	if label != "" && f.width(label) <= b-a {
		p.text((a+b)/2, p.top+p.h/2+f.Size/3, label, f)
	}
}

// chain writes a measure below the part, if there is room for it.
func (p *stripPicture) chain(a, b units.Length, text string) {
	y := p.top + p.h + 4*point
	f := Font{Size: 15 * point / 2, Colour: ink, Align: Middle}
	if f.width(text) > b-a+6*point {
		return
	}
	line := pen(soft, point/2)
	p.line(a, y, b, y, line)
	p.line(a, y-2*point, a, y+2*point, line)
	p.line(b, y-2*point, b, y+2*point, line)
	p.text((a+b)/2, y+8*point, text, f)
}
