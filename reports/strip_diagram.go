package reports

import (
	"fmt"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// The most room a part's picture takes, without its measures.
const (
	stripRoomW = 278 * point
	stripRoomH = 36 * point
)

// stripPicture draws a part as it lies after its turn: the edge that measures are
// taken from at the left, heavy.
type stripPicture struct {
	Drawing
	top        units.Length // of the part
	w, h       units.Length // of the part on paper
	long, wide units.Length // of the part: along the measures, across them
	done       units.Length // how much is cut off
	badged     units.Length // where the next badge may stand
	told       units.Length // where the next measure may begin
	lines      []units.Length
	names      []sharedName
}

// sharedName is written over several parts that are too narrow for one each, or
// that become different things.
type sharedName struct {
	a, b units.Length
	text string
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
	p.w, p.h = max(p.w, 26*point), max(p.h, 13*point)
	p.W, p.H = p.w+16*point, p.top+p.h+13*point
	last := st
	for _, n := range chain {
		last = &r.Steps[n-1]
		p.cuts(last)
	}
	p.rest(last)
	for _, x := range p.lines {
		p.line(x, p.top, x, p.top+p.h, pen(ink, 3*point/4))
	}
	for _, n := range p.names {
		p.shared(n)
	}
	p.rect(p.x(0), p.top, p.w, p.h, pen(ink, point))
	edge := p.x(0)
	if st.Far {
		edge = p.x(p.long)
	}
	p.line(edge, p.top-2*point, edge, p.top+p.h+2*point, pen(ink, 3*point))
	return &p.Drawing
}

func (p *stripPicture) x(l units.Length) units.Length { return 8*point + l*p.w/p.long }

// cuts draws what a step takes off.
func (p *stripPicture) cuts(st *Step) {
	from := p.done
	label, several := labelOf(st.Off)
	waste := label == "" && !slices.ContainsFunc(st.Off, func(o Output) bool { return o.Kind != WasteOut })
	kerf := units.Length(0)
	if st.Cuts > 0 {
		kerf = (p.long - p.done - st.Left - units.Length(st.Cuts)*st.Measure) / units.Length(st.Cuts)
	}
	kept := len(st.Off) > 0 && st.Off[0].Kind == OffcutOut
	each := p.x(st.Measure) - p.x(0)
	fits := Font{}
	if !several {
		fits = labelFont(p.h, label, each)
	}
	for i := range st.Cuts {
		a, b := p.x(p.done), p.x(p.done+st.Measure)
		p.part(a, b, waste, kept)
		if fits.Size > 0 {
			p.label(a, b, label, fits)
		}
		p.lines = append(p.lines, b)
		if i == 0 {
			x := max(b, p.badged)
			p.badge(x, p.top-8*point, badge, st.Number)
			p.badged = x + 2*badge + point
			p.W = max(p.W, x+badge+2*point)
		}
		p.done += st.Measure + max(kerf, 0)
	}
	switch {
	case fits.Size > 0 || label == "":
	case several:
		p.names = append(p.names, sharedName{p.x(from), p.x(p.done), label})
	case st.Cuts > 1:
		p.names = append(p.names, sharedName{p.x(from), p.x(p.done), fmt.Sprintf("%d %s", st.Cuts, label)})
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
	label, _ := labelOf(st.Rest)
	waste := label == "" && !slices.ContainsFunc(st.Rest, func(o Output) bool { return o.Kind != WasteOut })
	a, b := p.x(p.done), p.x(p.long)
	p.part(a, b, waste, len(st.Rest) > 0 && st.Rest[0].Kind == OffcutOut)
	if f := labelFont(p.h, label, b-a); f.Size > 0 {
		p.label(a, b, label, f)
	}
	p.chain(a, b, rough(st.Left, st.unit))
}

func (p *stripPicture) part(a, b units.Length, waste, kept bool) {
	switch {
	case waste:
		p.rect(a, p.top, b-a, p.h, wash(white))
		p.hatch(a, p.top, b-a, p.h, hatchGap, true, hatchPen)
	case kept:
		p.rect(a, p.top, b-a, p.h, wash(keep))
	default:
		p.rect(a, p.top, b-a, p.h, wash(cream))
	}
}

// labelFont is the largest font in which a name fits a part, of size 0 if none
// can be read.
func labelFont(high units.Length, label string, wide units.Length) Font {
	f := Font{Size: min(11*point, max(7*point, high/2)), Bold: true, Colour: ink, Align: Middle}
	for ; f.Size >= 6*point; f.Size -= point / 2 {
		if label != "" && f.width(label)+2*point <= wide {
			return f
		}
	}
	return Font{}
}

func (p *stripPicture) label(a, b units.Length, text string, f Font) {
	p.text((a+b)/2, p.top+p.h/2+f.Size/3, text, f)
}

// shared writes one name over several parts, on a ground of its own.
func (p *stripPicture) shared(n sharedName) {
	f := labelFont(p.h, n.text, n.b-n.a-4*point)
	if f.Size == 0 {
		return
	}
	w := f.width(n.text) + 4*point
	p.rect((n.a+n.b-w)/2, p.top+p.h/2-f.Size*7/10, w, f.Size*7/5, wash(cream))
	p.label(n.a, n.b, n.text, f)
}

// chain writes a measure below the part, if there is room for it.
func (p *stripPicture) chain(a, b units.Length, text string) {
	y := p.top + p.h + 4*point
	f := Font{Size: 15 * point / 2, Colour: ink, Align: Middle}
	line := pen(soft, point/2)
	p.line(a, y, b, y, line)
	p.line(a, y-2*point, a, y+2*point, line)
	p.line(b, y-2*point, b, y+2*point, line)
	half := f.width(text) / 2
	at := max((a+b)/2, p.told+half)
	if at+half > max(b+7*point, a+12*point) {
		return
	}
	p.told = at + half + 3*point
	p.W = max(p.W, at+half)
	p.text(at, y+8*point, text, f)
}
