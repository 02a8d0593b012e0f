package reports

import (
	"fmt"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// mostLabels is up to how many bags each gets its own label; with more, one is
// printed for each kind of bag, to be written out or copied.
const mostLabels = 60

// mostOnLabel is how many lines of pieces a label lists.
const mostOnLabel = 12

// bagLabels sets labels to cut out.
func (b *book) bagLabels(groups []bagGroup) {
	b.chapter("Bag labels")
	bags := 0
	for _, g := range groups {
		bags += g.count
	}
	each := bags <= mostLabels
	says := fmt.Sprintf("One label for each of the %s. Cut along the dashes and put each in its bag.", counted(bags, "bag"))
	switch {
	case bags == 1:
		says = "Cut along the dashes and put the label in the bag."
	case !each:
		says = fmt.Sprintf("The plan has %s, so there is one label for each kind: print or copy this page, or write as many as the label says.", counted(bags, "bag"))
	}
	b.paragraph(says, Font{Size: 10 * point, Colour: soft})
	b.y += 8 * point
	var all []*Drawing
	w := b.width() / 2
	for _, g := range groups {
		if !each {
			all = append(all, b.label(g, w, "bag __ of "+thousands(int64(g.count))))
			continue
		}
		for n := range g.count {
			all = append(all, b.label(g, w, fmt.Sprintf("bag %d of %d", n+1, g.count)))
		}
	}
	cut := Style{Fill: NoColour, Stroke: soft, Width: 3 * point / 4, Dash: 4 * point}
	for i := 0; i < len(all); i += 2 {
		pair := all[i:min(i+2, len(all))]
		high := pair[0].H
		if len(pair) == 2 {
			high = max(high, pair[1].H)
		}
		first := i == 0 || b.need(high)
		x2 := b.left() + units.Length(len(pair))*w
		if first {
			b.page().line(b.left(), b.y, x2, b.y, cut)
		}
		for k, l := range pair {
			x := b.left() + units.Length(k)*w
			b.page().place(x, b.y, l)
			b.page().line(x, b.y, x, b.y+high, cut)
		}
		b.page().line(x2, b.y, x2, b.y+high, cut)
		b.y += high
		b.page().line(b.left(), b.y, x2, b.y, cut)
	}
}

// label is one label: which bag it is, what lies in it, and what else the
// ornament needs.
func (b *book) label(g bagGroup, w units.Length, which string) *Drawing {
	const pad = 10 * point
	d := &Drawing{W: w}
	y := units.Length(pad)
	inner := w - 2*pad
	small := Font{Size: 8 * point, Colour: soft}
	bag := Font{Size: 10 * point, Bold: true, Colour: harbor}
	name := Font{Size: 13 * point, Bold: true, Colour: ink}
	set := func(s string, f Font, most int) {
		for _, l := range wrap(s, f, inner, most) {
			y += f.Size
			d.text(pad, y, l, f)
			y += f.Size * 3 / 10
		}
	}
	set(which, bag, 1)
	set(b.say(plain(g.ornament.Name)), name, 2)
	set(b.say(g.colours), small, 3)
	set(typeset(g.ornament.Ball.Format(b.r.Unit))+" ball", small, 1)
	y += 4 * point
	d.line(pad, y, w-pad, y, pen(faint, point/2))
	y += 2 * point
	f, heavy := Font{Size: 9 * point, Colour: ink}, Font{Size: 10 * point, Bold: true, Colour: ink}
	parts := onLabel(g.bag)
	for i, q := range parts {
		if i == mostOnLabel && len(parts) > mostOnLabel+1 {
			set(fmt.Sprintf("and %d more lines: see the sorting sheet", len(parts)-i), f, 1)
			break
		}
		y += 12 * point
		count := heavy
		count.Align = End
		d.text(pad+28*point, y, thousands(int64(q.Each)), count)
		d.text(pad+34*point, y, q.ID, heavy)
		size := vulgarSize(q.Size, b.r.Unit) + unitAfter(q.Size, b.r.Unit)
		if q.Piece == plan.BandName {
			size += ", band"
		}
		x := pad + 54*point
		d.text(x, y, fit(size, f, inner*9/20), f)
		d.text(x+inner*9/20-14*point, y, fit(b.say(plain(q.Fabric)), f, w-pad-x-inner*9/20+14*point), f)
		y += point
	}
	if text := supplyWords(g.ornament, b.r.Unit); text != "" {
		y += 5 * point
		set("Add "+b.say(text), small, 3)
	}
	d.H = y + pad
	return d
}

// onLabel adds up a bag's pieces by letter and fabric; the band stands alone.
func onLabel(b plan.Bag) []plan.BagPart {
	var out []plan.BagPart
next:
	for _, q := range b.Parts {
		for i := range out {
			o := &out[i]
			if o.Fabric == q.Fabric && o.Size == q.Size && (o.Piece == plan.BandName) == (q.Piece == plan.BandName) {
				o.Each += q.Each
				continue next
			}
		}
		out = append(out, q)
	}
	return out
}

// supplyWords lists what one ornament needs besides cloth.
func supplyWords(o *plan.Ornament, u units.Unit) string {
	parts := make([]string, len(o.Supplies))
	for i, s := range o.Supplies {
		amount := thousands(int64(s.Count))
		if s.Length > 0 {
			amount = typeset(s.Length.Format(u))
		}
		parts[i] = amount + " " + plain(s.Name)
	}
	return strings.Join(parts, ", ")
}
