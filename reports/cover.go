package reports

import (
	"fmt"

	"pinfold/plan"
	"pinfold/units"
)

// cover sets the first page: the title, the figures that matter, what is made,
// and room for what else is in the booklet.
func (b *book) cover() {
	title := b.say(b.r.Title)
	b.open(title, title)
	b.line("CUTTING PLAN", Font{Size: 9 * point, Bold: true, Colour: harbor})
	b.y += 6 * point
	big := Font{Size: 30 * point, Bold: true, Colour: ink}
	for big.Size > 18*point && len(wrap(title, big, b.width(), 0)) > 2 {
		big.Size -= 2 * point
	}
	for _, l := range wrap(title, big, b.width(), 3) {
		b.line(l, big)
	}
	b.y += 4 * point
	b.paragraph(b.r.Headline, Font{Size: 12 * point, Colour: soft})
	warn := Font{Size: 11 * point, Bold: true, Colour: ink}
	if b.r.Stopped {
		b.y += 4 * point
		b.paragraph("The search was stopped early; this is the best found until then.", warn)
	}
	if len(b.r.Missing) > 0 {
		b.y += 4 * point
		b.paragraph("Not enough cloth: the plan cuts what can be cut. What is missing stands first in what to buy.", warn)
	}
	if b.r.result.Gathered.Pieces == 0 {
		return
	}
	b.y += 16 * point
	b.figures()
	b.gallery()
}

// figures sets the headline numbers side by side.
func (b *book) figures() {
	g := b.r.result.Gathered
	all := [][2]string{
		{thousands(int64(g.Ornaments)), one(g.Ornaments, "ornament")},
		{thousands(int64(g.Pieces + g.Spares)), one(g.Pieces+g.Spares, "piece") + " to cut"},
		{thousands(int64(b.r.sheetCount())), one(b.r.sheetCount(), "sheet") + " of cloth"},
		{thousands(int64(b.r.Passes)), map[bool]string{true: "pass", false: "passes"}[b.r.Passes == 1] + " of the cutter"},
	}
	if b.r.Shopping.Total != "" {
		all = append(all, [2]string{b.say(b.r.Shopping.Total), "to pay for cloth"})
	}
	const high, gap = 46 * point, 8 * point
	w := (b.width() + gap) / units.Length(len(all))
	for i, f := range all {
		x := b.left() + units.Length(i)*w
		b.page().rect(x, b.y, w-gap, high, wash(mist))
		value := Font{Size: 18 * point, Bold: true, Colour: ink}
		for value.Size > 9*point && value.width(f[0]) > w-24*point {
			value.Size -= point
		}
		b.page().text(x+8*point, b.y+23*point, fit(f[0], value, w-24*point), value)
		of := Font{Size: 8 * point, Colour: soft}
		b.page().text(x+8*point, b.y+37*point, fit(f[1], of, w-24*point), of)
	}
	b.y += high + 18*point
}

// one is a noun for a number, "piece" or "pieces".
func one(n int, noun string) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

// mostShown is how many ornaments the cover shows, in rows of up to mostInRow
// or half of them.
const (
	mostShown = 6
	mostInRow = 4
)

// gallery shows what is made: the front of each of the first ornaments, in its
// first colourway.
func (b *book) gallery() {
	p := planning{plan: b.r.result.Plan, looks: swatches(b.r.result.Plan), say: b.say, filled: true}
	shown := b.faces.Outlines[:min(len(b.faces.Outlines), mostShown)]
	if len(shown) == 0 {
		return
	}
	across, tall := len(shown), 190*point
	switch {
	case across == 1:
		tall = 270 * point
	case across > mostInRow:
		across, tall = (across+1)/2, 128*point
	}
	w := b.width() / units.Length(across)
	size := min(w-16*point, tall)
	name := Font{Size: 9 * point, Colour: ink, Align: Middle}
	for i := 0; i < len(shown); i += across {
		lines := 0
		for k, l := range shown[i:min(i+across, len(shown))] {
			o := p.plan.Ornament(p.plan.Make[l.bag.Order].Ornament)
			x := b.left() + units.Length(k)*w + w/2
			p.disc(b.page(), newGlobe(x, b.y+size/2, o.Ball, roundScale(o, size)), l.bag, plan.Front, len(o.Pieces))
			text := wrap(fmt.Sprintf("%s × %s", thousands(int64(l.Count)), b.say(l.Ornament)), name, w-12*point, 2)
			for n, s := range text {
				b.page().text(x, b.y+size+units.Length(n)*lead(name)+13*point, s, name)
			}
			lines = max(lines, len(text))
		}
		b.y += size + units.Length(lines)*lead(name) + 12*point
	}
	if more := len(b.faces.Outlines) - len(shown); more > 0 {
		b.line(fmt.Sprintf("and %s more", thousands(int64(more))), Font{Size: 9 * point, Colour: soft})
	}
}

// contents lists the chapters with their pages on the cover, once all are set.
func (b *book) contents(y units.Length) {
	if len(b.chapters) == 0 {
		return
	}
	d := &b.pages[0].Drawing
	head := Font{Size: 12 * point, Bold: true, Colour: harbor}
	f := Font{Size: 11 * point, Colour: ink}
	const each = 17 * point
	y = max(y+24*point, b.bottom()-units.Length(len(b.chapters))*each-20*point)
	d.text(b.left(), y, "In this booklet", head)
	d.line(b.left(), y+5*point, b.right(), y+5*point, pen(harbor, 3*point/4))
	y += 6 * point
	for _, c := range b.chapters {
		y += each
		f.Align = Start
		d.text(b.left(), y, c.title, f)
		page := fmt.Sprint(c.page)
		d.line(b.left()+f.width(c.title)+6*point, y-point, b.right()-f.width(page)-6*point, y-point, Style{Fill: NoColour, Stroke: faint, Width: point, Dash: 2 * point})
		f.Align = End
		d.text(b.right(), y, page, f)
	}
}
