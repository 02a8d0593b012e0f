package reports

import (
	"strings"

	"pinfold/units"
)

// takeAlong is the card for the pocket: everything to ask for, nothing else.
func (r *ShopReport) takeAlong(c *cards) {
	c.open()
	for _, l := range wrap(c.title, cardTitle, c.inner(), 3) {
		c.at += cardTitle.Size
		c.card.text(cardPad, c.at, l, cardTitle)
		c.at += cardTitle.Size / 4
	}
	c.para(r.Headline, cardSoft)
	if r.Stopped {
		c.para(stoppedEarly, cardBold)
	}
	c.rule()
	for _, card := range r.Cards {
		for _, l := range card.Lines {
			c.ask(l.Amount, l.Price, cardAsk)
			c.hang(l.Fabric, cardBold, 15*point)
			c.hang(l.Detail, cardSoft, 15*point)
			c.at += 3 * point
		}
	}
	if r.Total != "" {
		c.rule()
		c.sides("in all", r.Total, Font{Size: 12 * point, Bold: true, Colour: ink})
		c.para(r.Tax, cardSoft)
	}
	c.close()
}

// sides sets two texts at the two edges.
func (c *cards) sides(left, right string, f Font) {
	c.at += f.Size
	c.card.text(cardPad, c.at, left, f)
	f.Align = End
	c.card.text(cardPad+c.inner(), c.at, c.words.say(right), f)
	c.at += f.Size * 3 / 10
}

// fabricCard is what stands behind one fabric's purchase.
func (r *ShopReport) fabricCard(c *cards, card ShopCard) {
	c.open()
	c.para(card.Fabric, cardHead)
	c.para(card.Status, cardSoft)
	c.rule()
	c.sides(typeset(fit(c.words.say(card.Ask()), cardBold, c.inner()*2/3)), card.Price, cardBold)
	if card.Stash != "" {
		c.para("with "+card.Stash+" from the stash", cardSoft)
	}
	c.at += 2 * point
	c.para(card.Why, cardText)
	if o := card.Cheaper; o != nil {
		c.labelled("cheaper", o.Head(), o.Says)
	}
	if o := card.Safer; o != nil {
		c.labelled("safer", o.Head(), o.Says)
	}
	for i, h := range card.Holds {
		if i == 0 {
			c.labelled("cloth", "", h)
		} else {
			c.hang(h, cardText, cardLabel)
		}
	}
	if s := card.spares(); s != "" {
		c.labelled("spare", "", s)
	}
	c.close()
}

// cardLabel is the width of the column of labels.
const cardLabel = 34 * point

// labelled sets a label with a bold line and a text beside it.
func (c *cards) labelled(label, head, text string) {
	c.at += 3 * point
	c.card.text(cardPad, c.at+cardText.Size, label, cardSoft)
	if head != "" {
		c.hang(head, cardBold, cardLabel)
	}
	c.hang(text, cardText, cardLabel)
}

// waysCard sets the ways to buy side by side.
func (r *ShopReport) waysCard(c *cards) {
	if len(r.Ways.Rows) == 0 {
		return
	}
	c.open()
	c.heading("Ways to buy")
	c.across(r.Ways.Heads, Font{Size: 13 * point / 2, Colour: soft})
	for _, row := range r.Ways.Rows {
		c.at += 2 * point
		c.para(row.Fabric, cardBold)
		costs, bounds := make([]string, len(row.Cells)), make([]string, len(row.Cells))
		for i, cell := range row.Cells {
			costs[i], bounds[i] = cell.Cost, cell.Bound
		}
		c.across(costs, cardText)
		c.across(bounds, Font{Size: 6 * point, Colour: soft})
	}
	if strings.Join(r.Ways.Totals, "") != "" {
		c.rule()
		c.para("in all", cardBold)
		totals := make([]string, len(r.Ways.Totals))
		for i, s := range r.Ways.Totals {
			if totals[i] = s; s == "" {
				totals[i] = "–"
			}
		}
		c.across(totals, cardBold)
	}
	c.at += 3 * point
	for _, l := range r.Ways.Legends {
		c.para(l, cardSoft)
	}
	c.close()
}

// across sets texts flush right in equal columns, smaller where they are wide.
func (c *cards) across(texts []string, f Font) {
	n := units.Length(max(1, len(texts)))
	w := c.inner() / n
	f.Align = End
	c.at += f.Size
	for i, s := range texts {
		g, s := f, c.words.say(s)
		for g.Size > 4*point && g.width(s) > w-2*point {
			g.Size -= point / 4
		}
		c.card.text(cardPad+w*units.Length(i+1), c.at, s, g)
	}
	c.at += f.Size * 3 / 10
}
