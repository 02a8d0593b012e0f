package reports

import (
	"fmt"
	"strings"

	"pinfold/units"
)

// Name is the sheet's title, "Sheet 3: navy dot".
func (s *Sheet) Name() string { return fmt.Sprintf("Sheet %d: %s", s.Number, s.Fabric) }

// Like says how many are cut like this.
func (s *Sheet) Like() string {
	if s.Copies == 1 {
		return "cut 1 like this"
	}
	return fmt.Sprintf("cut %s like this", thousands(int64(s.Copies)))
}

// Gives lists the pieces of one copy, and of all.
func (s *Sheet) Gives() string {
	one, all := make([]string, len(s.Counts)), make([]string, len(s.Counts))
	for i, c := range s.Counts {
		one[i] = fmt.Sprintf("%s %s (%s)", thousands(int64(c.Count)), c.Letter, vulgarSize(c.Size, s.unit)+unitAfter(c.Size, s.unit))
		all[i] = fmt.Sprintf("%s %s", thousands(int64(c.Count)*int64(s.Copies)), c.Letter)
	}
	text := "Gives " + list(one)
	if s.Copies > 1 {
		text = fmt.Sprintf("Each gives %s; all %s give %s", list(one), thousands(int64(s.Copies)), list(all))
	}
	return text + "."
}

// cutSheet sets the pages of one layout: the picture, then the steps.
func (b *book) cutSheet(s *Sheet) {
	title := b.say(s.Name())
	b.open(title, title)
	b.sheetHead(s)
	t := b.fitPicture(s)
	for i, v := range t.views {
		if i > 0 {
			b.open("", title)
			b.sheetHead(s)
		}
		d := newDiagram(s, t.scale, v)
		b.page().place(b.left()+max(0, (b.width()-d.W)/2), b.y, &d.Drawing)
		b.y += d.H + 4*point
		note := fmt.Sprintf("Scale %s. Measures in %s, along the selvage × across.", t.scale, unitName(s.unit))
		if len(t.views) > 1 {
			note = fmt.Sprintf("Part %d of %d of this sheet, from below. ", i+1, len(t.views)) + note
		}
		b.line(note, Font{Size: 8 * point, Colour: soft})
		b.y += 3 * point
		b.key(s)
	}
	b.y += 6 * point
	b.paragraph(s.Gives(), strong(Start))
	if len(s.Offcuts) > 0 {
		b.paragraph(keeps(s), body(Start))
	}
	b.heading("Cuts", 60*point)
	cols, rows := b.stepTable(s)
	b.table(cols, rows)
}

// fitPicture chooses the picture's scale: as large as leaves the steps on the
// same page; if they are many, about half a page; a page of its own when that
// makes it clearly larger.
func (b *book) fitPicture(s *Sheet) tiling {
	const words = 100 * point // scale, key, pieces, the head of the steps
	wide := b.width() - roomLeft - roomRight
	tall := b.room() - roomTop - roomBottom
	cols, rows := b.stepTable(s)
	beside := tall - words - b.tableHeight(cols, rows)
	gain := scale(17) // tenths by which a page of its own must enlarge the picture
	if beside < tall*3/10 {
		beside, gain = tall/2, 13
	}
	part := s.tile(wide, beside)
	whole := s.tile(wide, tall-words/2)
	if len(whole.views) < len(part.views) || whole.scale*gain < part.scale*10 {
		return whole
	}
	return part
}

func unitName(u units.Unit) string {
	if u == units.Centimetres {
		return "centimetres"
	}
	return "inches"
}

// keeps lists the offcuts of a sheet with their sizes.
func keeps(s *Sheet) string {
	parts := make([]string, len(s.Offcuts))
	for i, o := range s.Offcuts {
		parts[i] = o.Label + " " + roughSize(o.Size(), s.unit)
	}
	text := "To keep: " + strings.Join(parts, ", ")
	if s.Copies > 1 {
		text += fmt.Sprintf(", from each of the %s", thousands(int64(s.Copies)))
	}
	return text + "."
}

// sheetHead sets the head of a cut sheet: what to take, and how often.
func (b *book) sheetHead(s *Sheet) {
	d := b.page()
	count := Font{Size: 20 * point, Bold: true, Colour: ink, Align: End}
	like := Font{Size: 9 * point, Colour: soft, Align: End}
	times := "× " + thousands(int64(s.Copies))
	room := b.width() - max(count.width(times), like.width(s.Like())) - 16*point
	y := b.y
	small := Font{Size: 8 * point, Bold: true, Colour: harbor}
	y += small.Size
	d.text(b.left(), y, fmt.Sprintf("SHEET %d OF %d", s.Number, len(b.r.Sheets)), small)
	name := Font{Size: 18 * point, Bold: true, Colour: ink}
	y += 22 * point
	d.text(b.left(), y, fit(b.say(s.Fabric), name, room), name)
	d.text(b.right(), y-2*point, times, count)
	cloth := Font{Size: 10 * point, Colour: soft}
	y += 15 * point
	d.text(b.left(), y, fit(typeset(b.say(s.Cloth)), cloth, room), cloth)
	d.text(b.right(), y, s.Like(), like)
	y += 7 * point
	d.line(b.left(), y, b.right(), y, pen(harbor, point))
	b.y = y + 8*point
}

// key explains the signs that occur in the picture.
func (b *book) key(s *Sheet) {
	d := b.page()
	b.need(14 * point)
	b.y += 9 * point
	x := b.left()
	f := Font{Size: 15 * point / 2, Colour: soft}
	add := func(sign func(x, y, w, h units.Length), words string) {
		w, h := 16*point, 8*point
		sign(x, b.y-7*point, w, h)
		d.text(x+w+4*point, b.y, words, f)
		x += w + 4*point + f.width(words) + 14*point
	}
	add(func(x, y, w, h units.Length) {
		d.rect(x, y, w, h, Style{Fill: cream, Stroke: ink, Width: 3 * point / 4})
	}, "piece")
	if len(s.Offcuts) > 0 {
		add(func(x, y, w, h units.Length) {
			d.rect(x, y, w, h, wash(keep))
			d.rect(x+2*point, y+2*point, w-4*point, h-4*point, Style{Fill: NoColour, Stroke: harbor, Width: point / 2, Dash: 2 * point})
		}, "keep")
	}
	add(func(x, y, w, h units.Length) { d.hatch(x, y, w, h, 4*point, true, pen(soft, point/2)) }, "waste")
	if len(s.Bad) > 0 {
		add(func(x, y, w, h units.Length) {
			d.hatch(x, y, w, h, hatchGap/2, true, badPen)
			d.hatch(x, y, w, h, hatchGap/2, false, badPen)
		}, "not usable")
	}
	trims, selvages := false, false
	for _, e := range s.Edges {
		trims, selvages = trims || e.Trim > 0, selvages || e.Selvage
	}
	if trims || selvages {
		add(func(x, y, w, h units.Length) { d.line(x, y+h/2, x+w, y+h/2, pen(ink, 9*point/4)) }, "squared edge")
	}
	if trims {
		add(func(x, y, w, h units.Length) {
			d.line(x, y+h/2, x+w, y+h/2, Style{Fill: NoColour, Stroke: soft, Width: point / 2, Dash: 3 * point})
		}, "raw edge")
	}
	if selvages {
		add(func(x, y, w, h units.Length) {
			d.line(x, y+h/2-point, x+w, y+h/2-point, pen(soft, point/2))
			d.line(x, y+h/2+point, x+w, y+h/2+point, pen(soft, point/2))
		}, "selvage")
	}
	add(func(x, y, w, h units.Length) { d.badge(x+w/2, y+h/2, badge, 1) }, "first cut of a step")
	b.y += 4 * point
}

// stepTable lists the steps that touch a sheet, with boxes to tick.
func (b *book) stepTable(s *Sheet) ([]column, [][]string) {
	rows := make([][]string, len(s.Steps))
	for i, n := range s.Steps {
		st := b.r.Steps[n-1]
		w := st.Words
		rows[i] = []string{"", fmt.Sprint(st.Number), b.say(joined(". ", w.Take, w.From, w.Turn+w.Lay)), w.Edge, w.Measure, w.Times, b.say(list(w.Off)), b.say(joined(", ", w.Left, list(w.Rest)))}
	}
	text, number, large := body(Start), strong(End), strong(End)
	text.Size, number.Size, large.Size = 19*point/2, 10*point, 14*point
	return []column{
		{share: 4, tick: true},
		{head: "", share: 5, font: number},
		{head: "take", share: 25, font: text, lines: 3},
		{head: "cut", share: 12, font: text},
		{head: "measure", share: 8, font: large},
		{head: "times", share: 12, font: text, lines: 2},
		{head: "comes off", share: 18, font: text, lines: 4},
		{head: "must be left", share: 16, font: text, lines: 2},
	}, rows
}
