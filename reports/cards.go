package reports

import (
	"slices"

	"pinfold/units"
)

// A booklet of many sheets sets those that need little room side by side: each a
// card in a column, with all that its own page would hold. In a short booklet every
// sheet has a page, so that its picture can be large.
const (
	manySheets = 20
	cardGap    = 24 * point
	cardBelow  = 18 * point  // between two cards
	cardTall   = 120 * point // the most room of a card's picture
	keyRoom    = 34 * point
)

// sharedPage sets cards from top to bottom, column by column.
type sharedPage struct {
	open   bool // whether a page with a column is begun
	column int
	y      units.Length // where the next card of the column goes
	bench  bench
	// seen is a sheet with every sign that the pictures of the page have.
	seen Sheet
}

func (b *book) halfWidth() units.Length { return (b.width() - cardGap) / 2 }

// cardPart is a part of a card that stays together.
type cardPart struct {
	Drawing
	height units.Length
}

// card sets a sheet for the width of a column: its picture with what it
// gives, and every step. It tells whether that will do: the pieces must be large enough
// for their letters, and the first part must fit one column.
func (b *book) card(s *Sheet, g bench) ([]cardPart, bool) {
	if len(b.r.Sheets) <= manySheets || len(g.sheets) == 1 && len(g.chains) > 0 {
		return nil, false
	}
	wide := b.halfWidth() - roomLeft - roomRight
	t := s.tile(wide, cardTall)
	if len(t.views) > 1 || t.scale.paper(s.smallest()) < legible {
		return nil, false
	}
	c := &book{r: b.r, title: b.title, words: b.words, matter: b.matter,
		paper: Paper{W: b.halfWidth() + 2*pageMargin, H: 100 * b.paper.H}}
	c.open("", "")
	c.sheetHead(s)
	d := newDiagram(s, t.scale, t.views[0])
	c.page().place(c.left()+max(0, (c.width()-d.W)/2), c.y, &d.Drawing)
	c.y += d.H + 3*point
	c.line("Scale "+t.scale.String()+". In "+unitName(s.unit)+", along the selvage × across.", Font{Size: 8 * point, Colour: soft})
	c.y += 3 * point
	own, shared := c.wholeSteps(s, g)
	c.saysOf(s, shared)
	if len(own) > 0 {
		c.y += 4 * point
		c.page().line(c.left(), c.y, c.right(), c.y, pen(harbor, 3*point/4))
	}
	var parts []cardPart
	marks, y := 0, units.Length(0)
	part := func() {
		p := cardPart{Drawing: Drawing{Marks: c.page().Marks[marks:]}, height: c.y - pageTop - y}
		p.shift(-pageMargin, -pageTop-y)
		parts = append(parts, p)
		marks, y = len(c.page().Marks), c.y-pageTop
	}
	for _, n := range own {
		part()
		c.narrowStep(&b.r.Steps[n-1])
	}
	c.y += cardBelow
	part()
	return parts, parts[0].height <= b.bottom()-keyRoom-pageTop
}

// shift moves all marks.
func (d *Drawing) shift(x, y units.Length) {
	moved := Drawing{}
	moved.place(x, y, d)
	d.Marks = moved.Marks
}

// saysOf sets what a sheet gives, and notes.
func (b *book) saysOf(s *Sheet, notes []string) {
	b.paragraph(s.Gives(), strong(Start))
	if len(s.Offcuts) > 0 {
		b.paragraph(keeps(s), body(Start))
	}
	for _, note := range notes {
		b.paragraph(note, strong(Start))
	}
}

// narrowStep sets a step with its words below its number and measure.
func (b *book) narrowStep(st *Step) {
	right, tall := b.stepRight(st)
	words, high := flow(b.stepRuns(st, nil), b.width())
	b.step(stepBlock{st: st, words: words, right: right, height: tall + high + 9*point}, -stepNumber, tall)
}

// place sets a card in the next free place; a part that does not fit the column
// begins the next one.
func (c *sharedPage) place(b *book, card []cardPart, s *Sheet, g bench) {
	if c.open && !slices.Equal(c.bench.sheets, g.sheets) {
		c.end(b) // a page has one bench, which stands at its foot
	}
	for i, p := range card {
		if c.open && c.y+p.height-cardBelow > b.bottom()-keyRoom {
			c.column++
			c.y = pageTop
		}
		if !c.open || c.column > 1 {
			c.end(b)
			b.open("", b.say(s.Name()))
			*c = sharedPage{open: true, y: pageTop, bench: g}
		}
		x := b.left() + units.Length(c.column)*(b.halfWidth()+cardGap)
		switch {
		case i == 0:
			b.sheetMark(s, c.y)
			c.signs(s)
		case c.y == pageTop:
			f := Font{Size: 9 * point, Colour: soft}
			b.page().text(x, c.y+f.Size, fit(b.say(s.Name())+", continued", f, b.halfWidth()), f)
			c.y += 14 * point
		}
		b.page().place(x, c.y, &p.Drawing)
		c.y += p.height
	}
}

// signs adds those that a sheet's picture has.
func (c *sharedPage) signs(s *Sheet) {
	c.seen.Offcuts = append(c.seen.Offcuts, s.Offcuts...)
	c.seen.Bad = append(c.seen.Bad, s.Bad...)
	if s.Outline != nil {
		c.seen.Outline = s.Outline
	}
	for side, e := range s.Edges {
		c.seen.Edges[side].Trim = max(c.seen.Edges[side].Trim, e.Trim)
		c.seen.Edges[side].Selvage = c.seen.Edges[side].Selvage || e.Selvage
	}
}

// end explains the signs of the page that is begun and lets no card follow on it.
func (c *sharedPage) end(b *book) {
	if c.open {
		b.y = b.bottom() - keyRoom + 4*point
		b.key(&c.seen)
		if len(c.bench.sheets) > 1 {
			b.line(c.bench.footWords(strong(Start), b.width()), strong(Start))
		}
		b.y = b.bottom()
	}
	*c = sharedPage{}
}
