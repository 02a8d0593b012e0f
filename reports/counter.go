package reports

import (
	"fmt"
)

// counter sets the chapter to take to the shop and to the shelf.
func (b *book) counter() {
	b.chapter("What to buy and to take out")
	b.notes("Not enough cloth", b.r.Missing)
	b.shopping()
	b.stash()
	b.supplies()
	b.notes("Which fabric for what", b.r.Splits)
}

func (b *book) shopping() {
	s := b.r.Shopping
	b.heading("To buy", 30*point)
	if len(s.Lines) == 0 {
		b.y += 4 * point
		text := "Nothing: the stash holds it all."
		if len(b.r.Missing) > 0 || len(b.r.Sheets) == 0 {
			text = "Nothing."
		}
		b.line(text, body(Start))
		return
	}
	rows := make([][]string, len(s.Lines))
	for i, l := range s.Lines {
		rows[i] = []string{"", typeset(b.say(l.Amount)), b.say(l.Fabric), typeset(b.say(l.Detail)), b.say(l.Price)}
	}
	name := strong(Start)
	name.Size = 10 * point
	b.table([]column{
		{share: 4, tick: true},
		{head: "ask for", share: 21, font: name, lines: 3},
		{head: "fabric", share: 29, font: name, lines: 3},
		{head: "", share: 34, font: body(Start), lines: 3},
		{head: "price", share: 12, font: body(End), lines: 2},
	}, rows)
	if s.Total != "" {
		f := strong(End)
		f.Size = 11 * point
		b.need(20 * point)
		b.y += 15 * point
		b.page().text(b.right()-gutter, b.y, fit("in all "+b.say(s.Total), f, b.width()-gutter), f)
	}
}

func (b *book) stash() {
	if len(b.r.Stash) == 0 {
		return
	}
	b.heading("From the stash", 30*point)
	rows := make([][]string, len(b.r.Stash))
	for i, l := range b.r.Stash {
		rows[i] = []string{"", fmt.Sprint(l.Used), b.say(l.ID), b.say(l.Fabric), typeset(l.Size), b.say(l.Where)}
	}
	b.table([]column{
		{share: 4, tick: true},
		{head: "take", share: 7, font: body(Start)},
		{head: "piece", share: 14, font: strong(Start), lines: 2},
		{head: "fabric", share: 25, font: body(Start), lines: 2},
		{head: "size", share: 20, font: body(Start), lines: 2},
		{head: "where", share: 30, font: body(Start), lines: 3},
	}, rows)
}

func (b *book) supplies() {
	if len(b.r.Supplies) == 0 {
		return
	}
	b.heading("Supplies", 30*point)
	rows := make([][]string, len(b.r.Supplies))
	for i, l := range b.r.Supplies {
		rows[i] = []string{"", b.say(l.Name), typeset(l.Amount)}
	}
	b.table([]column{
		{share: 4, tick: true},
		{head: "what", share: 56, font: body(Start), lines: 2},
		{head: "how much", share: 40, font: body(Start)},
	}, rows)
}
