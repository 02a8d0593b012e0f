package reports

import (
	"io"

	"pinfold/units"
)

// WritePDF writes the list as narrow cards, to be cut out along the dashed lines
// or folded: one to take along, one for each fabric, one with the ways to buy.
// The zero paper is the one of the plan's unit.
func (r *ShopReport) WritePDF(w io.Writer, paper Paper) error {
	var words lexicon
	r.setCards(paper, &words)
	pages := r.setCards(paper, &words)
	return printPDF(w, words.say(r.Title), pages)
}

// The cards: three columns on a page, as wide as a third of the paper allows.
const (
	cardMargin  = 30 * point // of the paper
	cardPad     = 10 * point // within a card
	cardColumns = 3
)

// cards sets cards column by column.
type cards struct {
	paper Paper
	words *lexicon
	pages []sheetOfPaper
	col   int
	y     units.Length // of the next card
	title string

	card Drawing // the one being set
	at   units.Length
}

func (c *cards) width() units.Length {
	return (c.paper.W - 2*cardMargin) / cardColumns
}

func (c *cards) inner() units.Length { return c.width() - 2*cardPad }

func (r *ShopReport) setCards(paper Paper, words *lexicon) []sheetOfPaper {
	c := &cards{paper: paper.or(r.Unit), words: words, title: words.say(r.Title)}
	c.page()
	c.pages[0].bookmark = c.title
	r.takeAlong(c)
	for _, card := range r.Cards {
		r.fabricCard(c, card)
	}
	r.waysCard(c)
	c.texts("Which fabric for what", r.Splits)
	c.texts("What changes", r.Changed)
	if b := r.Budget; b != nil {
		c.open()
		c.heading("Budget")
		c.para(b.Says, cardText)
		c.bullets(b.Buys)
		if len(b.Missing) > 0 {
			c.para("Then these are missing:", cardText)
			c.bullets(b.Missing)
		}
		c.close()
	}
	c.texts("Missing", r.Missing)
	c.texts("Mind", r.Warnings)
	c.texts("Good to know", append(r.notes(), words.legend()...))
	return c.pages
}

func (c *cards) page() {
	c.pages = append(c.pages, sheetOfPaper{Drawing: Drawing{W: c.paper.W, H: c.paper.H}})
	c.col, c.y = 0, cardMargin
}

// open starts a card.
func (c *cards) open() {
	c.card, c.at = Drawing{}, cardPad
}

// close places the card under the last one, or in the next column, with a dashed
// line to cut along. A card longer than the paper goes on in the next column.
func (c *cards) close() {
	h := c.at + cardPad
	full := c.paper.H - 2*cardMargin
	if h > full {
		c.split(full)
		return
	}
	if c.y+h > c.paper.H-cardMargin {
		c.next()
	}
	c.put(&c.card, h)
}

func (c *cards) next() {
	if c.col++; c.col == cardColumns {
		c.page()
	}
	c.y = cardMargin
}

func (c *cards) put(d *Drawing, h units.Length) {
	x := cardMargin + units.Length(c.col)*c.width()
	p := &c.pages[len(c.pages)-1].Drawing
	cut := pen(faint, point/2)
	cut.Dash = 3 * point
	p.rect(x, c.y, c.width(), h, cut)
	p.place(x, c.y, d)
	c.y += h
}

// split breaks a card that is longer than a column between two lines of text.
func (c *cards) split(full units.Length) {
	room := full - 2*cardPad
	rest := c.card.Marks
	for top := units.Length(0); len(rest) > 0; {
		var now, later []Mark
		for _, m := range rest {
			if max(m.Y, m.Y2)-top <= room {
				now = append(now, m)
			} else {
				later = append(later, m)
			}
		}
		if len(now) == 0 {
			break
		}
		d, low := Drawing{}, top
		for _, m := range now {
			low = max(low, m.Y, m.Y2)
			m.Y, m.Y2 = m.Y-top, m.Y2-top
			d.Marks = append(d.Marks, m)
		}
		if c.y > cardMargin {
			c.next()
		}
		c.put(&d, low-top+2*cardPad)
		rest, top = later, low-cardPad+2*point
	}
}

// The fonts of the cards.
var (
	cardText  = Font{Size: 8 * point, Colour: ink}
	cardSoft  = Font{Size: 15 * point / 2, Colour: soft}
	cardBold  = Font{Size: 8 * point, Bold: true, Colour: ink}
	cardAsk   = Font{Size: 11 * point, Bold: true, Colour: ink}
	cardHead  = Font{Size: 10 * point, Bold: true, Colour: harbor}
	cardTitle = Font{Size: 14 * point, Bold: true, Colour: harbor}
)

// para sets wrapped text from the left edge of the card.
func (c *cards) para(s string, f Font) { c.hang(s, f, 0) }

func (c *cards) hang(s string, f Font, indent units.Length) {
	for _, l := range wrap(typeset(c.words.say(s)), f, c.inner()-indent, 0) {
		c.at += f.Size
		c.card.text(cardPad+indent, c.at, l, f)
		c.at += f.Size * 3 / 10
	}
}

func (c *cards) heading(s string) {
	c.para(s, cardHead)
	c.rule()
}

func (c *cards) rule() {
	c.at += 2 * point
	c.card.line(cardPad, c.at, cardPad+c.inner(), c.at, pen(faint, point/2))
	c.at += 3 * point
}

func (c *cards) bullets(texts []string) {
	for _, s := range texts {
		c.card.circle(cardPad+3*point, c.at+11*point/2, point, wash(harbor))
		c.hang(s, cardText, 9*point)
		c.at += point
	}
}

// texts is a card of short paragraphs, if there are any.
func (c *cards) texts(title string, texts []string) {
	if len(texts) == 0 {
		return
	}
	c.open()
	c.heading(title)
	c.bullets(texts)
	c.close()
}

// ask sets a line to tick off, its price at the right edge.
func (c *cards) ask(amount, price string, f Font) {
	const box = 9 * point
	money := Font{Size: 9 * point, Colour: ink, Align: End}
	price = c.words.say(price)
	room := c.inner() - box - 6*point - money.width(price) - 6*point
	for i, l := range wrap(typeset(c.words.say(amount)), f, room, 0) {
		if i == 0 {
			c.card.rect(cardPad, c.at+f.Size-box+point, box, box, pen(soft, 3*point/4))
			c.card.text(cardPad+c.inner(), c.at+f.Size, price, money)
		}
		c.at += f.Size
		c.card.text(cardPad+box+6*point, c.at, l, f)
		c.at += f.Size * 3 / 10
	}
}
