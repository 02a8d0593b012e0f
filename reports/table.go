package reports

import "pinfold/units"

// column is one column of a table.
type column struct {
	head  string
	share int // of the width, in percent
	font  Font
	lines int // the most lines a cell takes
	tick  bool
}

// body is the font of tables.
func body(align Align) Font { return Font{Size: 19 * point / 2, Colour: ink, Align: align} }

// strong is body in bold.
func strong(align Align) Font {
	return Font{Size: 19 * point / 2, Bold: true, Colour: ink, Align: align}
}

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
		if next := i + 1; next < len(rows) && (i == 0 || next == len(rows)-1) {
			// No row stands alone at the foot of a page or on top of the next.
			need += b.wrapRow(cols, rows[next]).height
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
	f := Font{Size: 8 * point, Colour: soft}
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
