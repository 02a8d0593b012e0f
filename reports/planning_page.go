package reports

import (
	"fmt"

	"pinfold/units"
)

// mostSheets is how many planning sheets of each kind a booklet holds.
const mostSheets = 40

// planningSheets sets how each ornament will look, and its outlines.
func (b *book) planningSheets() {
	if len(b.faces.Looks) == 0 {
		return
	}
	b.begin("Planning sheets")
	left := ""
	if n := len(b.faces.Looks); n > mostSheets {
		left = fmt.Sprintf("The first %d of %s colourways are drawn in this booklet: pinfold face draws all.", mostSheets, thousands(int64(n)))
	}
	for i := range min(len(b.faces.Looks), mostSheets) {
		l := &b.faces.Looks[i]
		b.planningSheet(l, true, fmt.Sprintf("%s: %s", counted(l.Count, "ornament"), b.say(l.Fabrics)), left)
	}
	for i := range min(len(b.faces.Outlines), mostSheets) {
		b.planningSheet(&b.faces.Outlines[i], false, "Outlines to colour in", "")
	}
}

func (b *book) planningSheet(l *Look, filled bool, says, note string) {
	p := planning{plan: b.faces.plan, looks: swatches(b.faces.plan), say: b.say, filled: filled}
	name := b.say(l.Ornament)
	title := name
	if !filled {
		title += ", outlines"
	}
	b.open(title, title)
	b.line("PLANNING SHEET", Font{Size: 8 * point, Bold: true, Colour: harbor})
	b.y += 4 * point
	big := Font{Size: 18 * point, Bold: true, Colour: ink}
	for _, s := range wrap(name, big, b.width(), 2) {
		b.line(s, big)
	}
	f := Font{Size: 10 * point, Colour: soft}
	for _, s := range wrap(says, f, b.width(), 4) {
		b.line(s, f)
	}
	if note != "" {
		b.line(note, f)
	}
	b.y += 12 * point
	discs, at := p.discs(l.bag, b.width())
	b.page().place(b.left(), b.y, discs)
	b.y += discs.H + 8*point
	b.paragraph(p.caption(p.plan.Ornament(p.plan.Make[l.bag.Order].Ornament), at), Font{Size: 17 * point / 2, Colour: soft})
	b.y += 8 * point
	rows := p.key(l.bag)
	for i, r := range rows {
		row := r.drawn(b.width())
		need := row.H
		if i == 0 {
			need += keyHead(b.width()).H
		}
		if next := i + 1; next < len(rows) && (i == 0 || next == len(rows)-1) {
			need += rows[next].drawn(b.width()).H
		}
		if b.need(need) || i == 0 {
			head := keyHead(b.width())
			b.page().place(b.left(), b.y, head)
			b.y += head.H
		}
		b.page().place(b.left(), b.y, row)
		b.y += row.H
	}
	if !filled {
		b.colourKey(28 * point)
		return
	}
	// The list tells the order too, so they are not worth a page of their own.
	if d := p.stages(l.bag, b.width()); d != nil && d.H+16*point <= b.room() {
		b.y += 16 * point
		b.page().place(b.left(), b.y, d)
		b.y += d.H
	}
}

// colourKey gives room to note own colours.
func (b *book) colourKey(high units.Length) {
	if b.room() < 2*high {
		return
	}
	b.y += high
	f := Font{Size: 9 * point, Colour: soft}
	b.page().text(b.left(), b.y, "Colours and notes", f)
	for b.room() > high {
		b.y += 22 * point
		b.page().line(b.left(), b.y, b.right(), b.y, pen(faint, point/2))
	}
}
