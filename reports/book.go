package reports

import (
	"fmt"

	"pinfold/units"
)

// book sets pages from top to bottom. All text from the plan goes through say.
type book struct {
	r       *Report // nil for what is no cutting plan
	title   string  // in the foot of every page
	paper   Paper
	words   *lexicon
	pages   []sheetOfPaper
	y       units.Length // where the next thing goes on the last page
	running string       // the head of pages that go on with something
}

// The page: margins, and the space kept for the foot.
const (
	pageMargin = 42 * point
	pageTop    = 40 * point
	pageFoot   = 46 * point
)

func (b *book) say(s string) string { return b.words.say(s) }

func (b *book) left() units.Length   { return pageMargin }
func (b *book) right() units.Length  { return b.paper.W - pageMargin }
func (b *book) width() units.Length  { return b.right() - b.left() }
func (b *book) bottom() units.Length { return b.paper.H - pageFoot }
func (b *book) room() units.Length   { return b.bottom() - b.y }
func (b *book) page() *Drawing       { return &b.pages[len(b.pages)-1].Drawing }

// open starts a page; running is printed on top of the pages that follow it
// until the next one is opened.
func (b *book) open(bookmark, running string) {
	b.pages = append(b.pages, sheetOfPaper{Drawing: Drawing{W: b.paper.W, H: b.paper.H}, bookmark: bookmark})
	b.y, b.running = pageTop, running
}

// need makes sure that so much room is left on the page, or starts another. It
// tells whether it did.
func (b *book) need(h units.Length) bool {
	if h <= b.room() || b.y == pageTop {
		return false
	}
	running := b.running
	b.open("", running)
	f := Font{Size: 9 * point, Colour: soft}
	b.y += f.Size
	b.page().text(b.left(), b.y, fit(running+", continued", f, b.width()), f)
	b.y += 6 * point
	b.page().line(b.left(), b.y, b.right(), b.y, pen(faint, point/2))
	b.y += 10 * point
	return true
}

// feet numbers the pages, once all are there.
func (b *book) feet() {
	f := Font{Size: 8 * point, Colour: soft}
	for i := range b.pages {
		p := &b.pages[i].Drawing
		y := b.paper.H - 26*point
		page := fmt.Sprintf("page %d of %d", i+1, len(b.pages))
		f.Align = Start
		p.text(b.left(), y, fit(b.say(b.title), f, b.width()-f.width(page)-20*point), f)
		f.Align = End
		p.text(b.right(), y, page, f)
	}
}

// line sets one line of text, shortened to the width, and moves on.
func (b *book) line(s string, f Font) {
	b.need(f.Size * 13 / 10)
	b.y += f.Size
	b.page().text(b.left(), b.y, fit(s, f, b.width()), f)
	b.y += f.Size * 3 / 10
}

// paragraph sets wrapped text.
func (b *book) paragraph(s string, f Font) {
	for _, l := range wrap(s, f, b.width(), 0) {
		b.line(l, f)
	}
}

// heading starts a section and keeps it with so much of what follows.
func (b *book) heading(s string, follows units.Length) {
	if b.y > pageTop {
		b.y += 16 * point
	}
	f := Font{Size: 12 * point, Bold: true, Colour: harbor}
	b.need(f.Size + 8*point + follows)
	b.y += f.Size
	b.page().text(b.left(), b.y, s, f)
	b.y += 5 * point
	b.page().line(b.left(), b.y, b.right(), b.y, pen(harbor, 3*point/4))
	b.y += 5 * point
}

// column is one column of a table.
type column struct {
	head  string
	share int // of the width, in percent
	font  Font
	lines int // the most lines a cell takes
	tick  bool
}

// body is the font of tables.
func body(align Align) Font { return Font{Size: 9 * point, Colour: ink, Align: align} }

// strong is body in bold.
func strong(align Align) Font { return Font{Size: 9 * point, Bold: true, Colour: ink, Align: align} }

const gutter = 8 * point

// row is a table's row with its cells wrapped.
type row struct {
	cells  [][]string
	height units.Length
}

func (b *book) wrapRow(cols []column, texts []string) row {
	r := row{cells: make([][]string, len(cols))}
	for j, c := range cols {
		r.cells[j] = wrap(texts[j], c.font, b.columnWidth(c)-gutter, max(c.lines, 1))
		if n := len(r.cells[j]); n > 0 {
			r.height = max(r.height, units.Length(n-1)*lead(c.font))
		}
	}
	r.height += baseLine + 5*point
	return r
}

func (b *book) columnWidth(c column) units.Length {
	return b.width() * units.Length(c.share) / 100
}

// The head of a table, and the first base line of a row below its top.
const (
	tableHead = 14 * point
	baseLine  = 13 * point
)

// tableHeight is how much room a table takes on one page.
func (b *book) tableHeight(cols []column, rows [][]string) units.Length {
	h := units.Length(tableHead)
	for _, texts := range rows {
		h += b.wrapRow(cols, texts).height
	}
	return h
}

// table sets rows of wrapped cells under a head that is repeated on each page.
func (b *book) table(cols []column, rows [][]string) {
	for i, texts := range rows {
		r := b.wrapRow(cols, texts)
		need := r.height
		if i == 0 {
			need += tableHead
		}
		if b.need(need) || i == 0 {
			b.tableHead(cols)
		}
		x := b.left()
		d := b.page()
		for j, c := range cols {
			if c.tick {
				d.rect(x, b.y+4*point, 8*point, 8*point, pen(soft, 3*point/4))
			}
			y := b.y + baseLine // all cells of a row share their first base line
			for _, l := range r.cells[j] {
				d.text(anchor(x, b.columnWidth(c)-gutter, c.font.Align), y, l, c.font)
				y += lead(c.font)
			}
			x += b.columnWidth(c)
		}
		b.y += r.height
		d.line(b.left(), b.y, b.right(), b.y, pen(faint, point/3))
	}
}

func (b *book) tableHead(cols []column) {
	f := Font{Size: 15 * point / 2, Colour: soft}
	x := b.left()
	for _, c := range cols {
		f.Align = c.font.Align
		b.page().text(anchor(x, b.columnWidth(c)-gutter, f.Align), b.y+9*point, c.head, f)
		x += b.columnWidth(c)
	}
	b.y += tableHead - point
}

func lead(f Font) units.Length { return f.Size * 5 / 4 }

// anchor is where a text of an alignment is placed in a cell.
func anchor(x, w units.Length, a Align) units.Length {
	switch a {
	case Middle:
		return x + w/2
	case End:
		return x + w
	}
	return x
}
