package reports

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// The box a sheet's diagram fits into, in its own measures: the page enlarges it
// to the screen, and the letters with it.
const (
	screenW = 17 * units.Inch / 4
	screenH = 7 * units.Inch / 2
	// A page can be scrolled: cloth this wide or wider fills the width, however
	// long it is.
	screenFull = 30 * units.Inch
)

// sheetPicture is a sheet's diagram with the marks that the page lights: each
// cut, and the cloth that a step takes, by the step's number.
func (r *Report) sheetPicture(s *Sheet) template.HTML {
	d := newDiagram(s, s.tile(screenW, max(screenH, s.RawH*screenW/screenFull)).scale, s.raw())
	// The marks lie under the letters and numbers.
	ground, letters := Drawing{W: d.W, H: d.H}, Drawing{}
	for _, m := range d.Marks {
		if m.Shape == TextShape || m.Shape == CircleShape {
			letters.Marks = append(letters.Marks, m)
		} else {
			ground.Marks = append(ground.Marks, m)
		}
	}
	var c screenCanvas
	c.begin(&ground, fmt.Sprintf("role=\"img\" aria-label=\"%s\"", escape(s.Name()+", "+typeset(s.Cloth)+". "+s.Gives())))
	taken := r.taken(s)
	for i := 0; i < len(taken); {
		step := taken[i].Step
		var parts Drawing
		for ; i < len(taken) && taken[i].Step == step; i++ {
			if x, y, w, h, ok := d.onPaper(taken[i].Rect); ok {
				parts.rect(x, y, w, h, wash(white))
			}
		}
		parts.compact()
		c.parts(step, parts.Marks)
	}
	for i := 0; i < len(s.Lines); {
		step := s.Lines[i].Step
		var lines Drawing
		for ; i < len(s.Lines) && s.Lines[i].Step == step; i++ {
			l := s.Lines[i]
			lines.line(d.x(l.X1), d.y(l.Y1), d.x(l.X2), d.y(l.Y2), pen(ink, point))
		}
		lines.compact()
		c.cuts(step, lines.Marks)
	}
	letters.sortTexts()
	letters.Replay(&c)
	return c.page()
}

// sortTexts puts texts that follow on each other into the order of their fonts and
// rows; those before a circle stay before it.
func (d *Drawing) sortTexts() {
	for from := 0; from < len(d.Marks); {
		to := from
		for to < len(d.Marks) && d.Marks[to].Shape == TextShape {
			to++
		}
		slices.SortStableFunc(d.Marks[from:to], func(a, b Mark) int {
			return cmp.Or(cmp.Compare(a.Font.Size, b.Font.Size), cmp.Compare(a.Font.Colour, b.Font.Colour),
				cmp.Compare(a.Font.Align, b.Font.Align), cmp.Compare(bit(a.Font.Bold), bit(b.Font.Bold)),
				cmp.Compare(bit(a.Font.Up), bit(b.Font.Up)), cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
		})
		from = to + 1
	}
}

// bit is 1 for what is so.
func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// taken lists the parts of a sheet that lie on the mat at each step, worked out
// from its cuts; the whole cloth is left out.
func (r *Report) taken(s *Sheet) []PartMark {
	var out []PartMark
	for i := 0; i < len(s.Lines); {
		first := s.Lines[i]
		st := &r.Steps[first.Step-1]
		if st.Square {
			i++
			continue
		}
		// The cuts of one part follow on each other.
		i += st.Cuts
		rect := pack.Rect{X: first.X1 - st.Measure, Y: first.Y1, W: st.Size.Across, H: first.Y2 - first.Y1}
		if st.Axis == pack.Y {
			rect = pack.Rect{X: first.X1, Y: first.Y1 - st.Measure, W: first.X2 - first.X1, H: st.Size.Along}
		}
		if rect != (pack.Rect{W: s.W, H: s.H}) {
			out = append(out, PartMark{Step: first.Step, Rect: rect})
		}
	}
	return out
}

// The box a strip fits into.
const (
	stripLong = 9 * units.Inch / 2
	stripHigh = 4 * units.Inch / 5
)

// partPicture shows what a step takes where that is a part of a sheet, not the
// sheet itself: the cuts, what comes off and what is left. Strips that stand
// upright on their sheet lie here on their side.
func partPicture(st *Step) template.HTML {
	if st.Square || !slices.ContainsFunc(st.From, func(f Source) bool { return !f.Whole }) {
		return ""
	}
	along, high := st.Size.Across, st.Size.Along
	if st.Axis == pack.Y {
		along, high = high, along
	}
	at := scale(2)
	for at.paper(along) > stripLong || at.paper(high) > stripHigh {
		at = at.next()
	}
	// A sliver of a strip is drawn wider than it is, so that its letters fit.
	tall := max(at.paper(high), 18*point)
	p := &strip{st: st, x: stripSide, y: 15 * point, tall: tall}
	p.end = p.x + at.paper(along)
	p.left = min(p.end, p.x+at.paper(along-st.Left))
	p.draw()
	var c screenCanvas
	// A point on paper is two pixels; a narrower screen shrinks it.
	c.begin(&p.Drawing, fmt.Sprintf("class=\"strip\" width=\"%.0f\" aria-hidden=\"true\"", 2*pt(p.W)))
	var lines Drawing
	for i := range st.Cuts {
		lines.line(p.cut(i), p.y, p.cut(i), p.y+tall, pen(ink, point))
	}
	c.cuts(st.Number, lines.Marks)
	return c.page()
}

// strip draws the cloth of one step, as it lies in the diagram turned so that its cuts stand.
type strip struct {
	Drawing
	st           *Step
	x, left, end units.Length // the edge, where the last cut lies, the far edge
	y, tall      units.Length
}

const stripSide = 3 * point

// cut is where the i-th cut lies.
func (p *strip) cut(i int) units.Length {
	return p.x + (p.left-p.x)*units.Length(i+1)/units.Length(p.st.Cuts)
}

func (p *strip) draw() {
	from := Font{Size: 8 * point, Colour: soft}
	words := "from the " + p.st.Words.Edge
	p.text(p.x, p.y-5*point, words, from)
	p.W = max(p.end, p.x+wide(words, from)) + stripSide
	p.part(p.x, p.left-p.x, p.st.Off, p.st.Cuts)
	p.part(p.left, p.end-p.left, p.st.Rest, 1)
	p.rect(p.x, p.y, p.end-p.x, p.tall, Style{Fill: NoColour, Stroke: ink, Width: point})
	edge := p.x
	if p.st.Far {
		edge = p.end
	}
	p.line(edge, p.y-2*point, edge, p.y+p.tall+2*point, pen(ink, 3*point))
	p.measures()
}

// part draws what comes off, or what is left, in n equal parts.
func (p *strip) part(x, w units.Length, is []Output, n int) {
	if w <= 0 {
		return
	}
	name, _ := labelOf(is)
	waste := true
	for _, o := range is {
		waste = waste && o.Kind == WasteOut
	}
	f := Font{Size: 9 * point, Bold: true, Colour: ink, Align: Middle}
	switch {
	case waste:
		p.hatch(x, p.y, w, p.tall, hatchGap, true, hatchPen)
		return
	case len(is) > 0 && is[0].Kind == OffcutOut:
		p.rect(x, p.y, w, p.tall, wash(keep))
		f.Colour = harbor
	default:
		p.rect(x, p.y, w, p.tall, wash(cream))
	}
	each := w / units.Length(n)
	for i := range n {
		if wide(name, f) < each-2*point {
			p.text(x+each*units.Length(i)+each/2, p.y+p.tall/2+f.Size/3, name, f)
		}
	}
}

// measures writes the measure below, as often as it is cut, and what is left
// beside it or beyond the end.
func (p *strip) measures() {
	f := Font{Size: 9 * point, Bold: true, Colour: ink}
	text, _ := measureWords(p.st.Measure, p.st.unit)
	if p.st.Cuts > 1 {
		text = fmt.Sprintf("%d × %s", p.st.Cuts, text)
	}
	base := p.y + p.tall + 11*point
	at := max(p.x, (p.x+p.left-wide(text, f))/2)
	p.text(at, base, text, f)
	used := at + wide(text, f)
	if p.st.Left > 0 {
		f.Bold, f.Colour, f.Size = false, soft, 8*point
		text = "left " + rough(p.st.Left, p.st.unit)
		if p.st.Far {
			text = rough(p.st.Left, p.st.unit)
		}
		at = max(used+6*point, min((p.left+p.end-wide(text, f))/2, p.end-wide(text, f)))
		p.text(at, base, text, f)
		used = at + wide(text, f)
	}
	p.W, p.H = max(p.W, used+stripSide), base+4*point
}

// wide is the room for a text on a screen, whose face is its own and may be wider
// than the one we know.
func wide(text string, f Font) units.Length { return f.width(text) * 5 / 4 }
