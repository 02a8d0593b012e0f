package reports

import "io"

// WritePDF writes the costing to print: the bill, and the shares of the orders as
// bought and as used. The zero paper is the one of the plan's unit.
func (c *Costing) WritePDF(w io.Writer, paper Paper) error {
	var words lexicon
	c.set(paper, &words)
	return printPDF(w, words.say(c.heading()), c.set(paper, &words))
}

func (c *Costing) heading() string { return c.Title + ": what it costs" }

// set composes the pages.
func (c *Costing) set(paper Paper, words *lexicon) []sheetOfPaper {
	b := &book{title: c.heading(), paper: paper.or(c.result.Plan.Unit), words: words}
	title := b.say(c.Title)
	b.open(title, b.say(b.title))
	b.line("WHAT IT COSTS", Font{Size: 8 * point, Bold: true, Colour: harbor})
	b.y += 4 * point
	big := Font{Size: 24 * point, Bold: true, Colour: ink}
	for _, l := range wrap(title, big, b.width(), 2) {
		b.line(l, big)
	}
	b.bill(c)
	b.costs("Of what is bought", "All that is paid, shared by the area of the pieces.", c.Bought)
	b.costs("Of what is used", "The cloth in the pieces alone, without waste and spares.", c.Used)
	b.notes("Good to know", c.Notes)
	b.notes("Signs the printed letters lack", words.legend())
	b.feet()
	return b.pages
}

// bill sets what is paid for, one thing a line, and the sum.
func (b *book) bill(c *Costing) {
	b.heading("The bill", tableHead+2*costRow)
	cols := []column{
		{head: "what", share: 36, font: strong(Start), lines: 3},
		{head: "how much of it", share: 46, font: body(Start), lines: 3},
		{head: "price", share: 18, font: body(End), lines: 2},
	}
	rows := make([][]string, len(c.Bill))
	for i, l := range c.Bill {
		rows[i] = []string{b.say(l.Name), typeset(b.say(l.Detail)), b.say(l.Price)}
	}
	b.table(cols, rows)
	b.sum(cols, []string{"in all", "", b.say(c.Total)})
}

// costRow is about the height of a table's row of one line.
const costRow = baseLine + 5*point

// costs sets the rows of the orders, the sum last.
func (b *book) costs(title, says string, costs []CostRow) {
	b.heading(title, lead(body(Start))+tableHead+2*costRow)
	f := body(Start)
	f.Colour = soft
	b.y += 2 * point
	b.paragraph(says, f)
	b.y += 2 * point
	cols := []column{
		{head: "ornaments", share: 48, font: body(Start), lines: 4},
		{head: "fabric", share: 13, font: body(End), lines: 2},
		{head: "supplies", share: 13, font: body(End), lines: 2},
		{head: "together", share: 13, font: body(End), lines: 2},
		{head: "each", share: 13, font: strong(End), lines: 2},
	}
	rows := make([][]string, len(costs))
	for i, r := range costs {
		rows[i] = []string{b.say(r.What), b.say(r.Fabric), b.say(r.Supplies), b.say(r.Together), b.say(r.Each)}
	}
	last := len(rows) - 1
	b.table(cols, rows[:last])
	b.sum(cols, rows[last])
}

// sum sets the last row of a table, in bold under a stronger line.
func (b *book) sum(cols []column, texts []string) {
	bold := make([]column, len(cols))
	for i, c := range cols {
		c.font.Bold = true
		bold[i] = c
	}
	r := b.wrapRow(bold, texts)
	if b.need(r.height) {
		b.tableHead(bold)
	}
	d := b.page()
	d.line(b.left(), b.y, b.right(), b.y, pen(harbor, 3*point/4))
	x := b.left()
	for j, c := range bold {
		y := b.y + baseLine
		for _, l := range r.cells[j] {
			d.text(anchor(x, b.columnWidth(c)-gutter, c.font.Align), y, l, c.font)
			y += lead(c.font)
		}
		x += b.columnWidth(c)
	}
	b.y += r.height
}
