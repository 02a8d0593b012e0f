package reports

import (
	"io"

	"pinfold/units"
)

// Write writes the chart into the folder, as chart.csv and chart.pdf, whole or
// not at all, and returns their paths. Other formats are refused.
func (c *Chart) Write(dir string, formats []Format, paper Paper) ([]string, error) {
	files, err := named("chart", formats, writer{CSV, c.WriteCSV}, pdfOn(c.WritePDF, paper))
	if err != nil {
		return nil, err
	}
	return place(dir, files)
}

// WritePDF writes the chart to print and to hang up. The zero paper is the one
// of the chart's unit.
func (c *Chart) WritePDF(w io.Writer, paper Paper) error {
	var words lexicon
	c.set(paper, &words)
	return printPDF(w, chartTitle, c.set(paper, &words))
}

// The widths of a chart's columns, and how much room its head takes a line.
const (
	chartFirst  = 108 * point
	chartColumn = 52 * point
	chartLine   = 11 * point
	chartRow    = 16 * point
)

// set composes the pages: as many cloths side by side as fit the width, the
// others below.
func (c *Chart) set(paper Paper, words *lexicon) []sheetOfPaper {
	b := &book{title: chartTitle, paper: paper.or(c.Unit), words: words}
	b.open(chartTitle, chartTitle)
	b.y += 4 * point
	b.line(chartTitle, Font{Size: 20 * point, Bold: true, Colour: ink})
	note := Font{Size: 9 * point, Colour: soft}
	for _, s := range c.below() {
		b.paragraph(typeset(s), note)
	}
	n := units.Length(len(c.heads()))
	side := max(1, int((b.width()-chartFirst)/(n*chartColumn)))
	for from := 0; from < len(c.Cloths); from += side {
		b.y += 14 * point
		b.chart(c, from, min(from+side, len(c.Cloths)))
	}
	b.notes("Signs the printed letters lack", words.legend())
	b.feet()
	return b.pages
}

// chart sets the cloths from .. to-1 side by side, their heads repeated on each
// page.
func (b *book) chart(c *Chart, from, to int) {
	head := b.chartHeads(c, from, to)
	height := units.Length(len(head[0])+2) * chartLine
	group := units.Length(len(c.heads())) * chartColumn
	for i, row := range c.Rows {
		need := units.Length(chartRow)
		if i == 0 {
			need += height
		}
		if b.need(need) || i == 0 {
			b.chartHead(c, head)
		}
		d := b.page()
		right := b.left() + chartFirst + units.Length(to-from)*group
		if i%2 == 1 {
			d.rect(b.left(), b.y, right-b.left(), chartRow, wash(mist))
		}
		y := b.y + 11*point
		d.text(b.left()+3*point, y, fit(c.printed(row.Size), strong(Start), chartFirst-6*point), strong(Start))
		x := b.left() + chartFirst
		for _, cell := range row.Cells[from:to] {
			for _, f := range c.figures(cell) {
				x += chartColumn
				font := body(End)
				if f.Proved() {
					font = strong(End)
				}
				d.text(x-5*point, y, f.String(), font)
			}
		}
		b.y += chartRow
		d.line(b.left(), b.y, right, b.y, pen(faint, point/3))
	}
}

// chartHeads wraps what stands above each cloth's columns, all as deep as the
// deepest.
func (b *book) chartHeads(c *Chart, from, to int) [][]string {
	f := strong(Middle)
	f.Size = 17 * point / 2
	room := units.Length(len(c.heads()))*chartColumn - 6*point
	out := make([][]string, to-from)
	deep := 0
	for i := from; i < to; i++ {
		for _, s := range c.above(c.Cloths[i], c.printed) {
			out[i-from] = append(out[i-from], wrap(b.say(s), f, room, 3)...)
		}
		deep = max(deep, len(out[i-from]))
	}
	for i := range out {
		out[i] = append(make([]string, deep-len(out[i])), out[i]...)
	}
	return out
}

func (b *book) chartHead(c *Chart, head [][]string) {
	d := b.page()
	name := strong(Middle)
	name.Size = 17 * point / 2
	small := Font{Size: 15 * point / 2, Colour: soft, Align: End}
	group := units.Length(len(c.heads())) * chartColumn
	x := b.left() + chartFirst
	y := b.y
	for _, lines := range head {
		y = b.y
		for _, s := range lines {
			y += chartLine
			d.text(x+group/2, y, s, name)
		}
		y += chartLine
		for j, s := range c.heads() {
			d.text(x+units.Length(j+1)*chartColumn-5*point, y, s, small)
		}
		x += group
	}
	small.Align = Start
	d.text(b.left()+3*point, y, "along the selvage × across", small)
	b.y = y + 4*point
	d.line(b.left(), b.y, x, b.y, pen(harbor, 3*point/4))
}
