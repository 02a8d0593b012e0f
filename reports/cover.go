package reports

import (
	"fmt"
	"strings"

	"pinfold/units"
)

// cover sets the pages to take to the shop and to read before the first cut.
func (b *book) cover() {
	r := b.r
	title := b.say(r.Title)
	b.open(title, title)
	b.line("CUTTING PLAN", Font{Size: 8 * point, Bold: true, Colour: harbor})
	b.y += 4 * point
	big := Font{Size: 24 * point, Bold: true, Colour: ink}
	for _, l := range wrap(title, big, b.width(), 2) {
		b.line(l, big)
	}
	b.y += 2 * point
	b.paragraph(r.Headline, Font{Size: 11 * point, Colour: soft})
	if r.Stopped {
		b.paragraph("The search was stopped early; this is the best found until then.", Font{Size: 10 * point, Bold: true, Colour: ink})
	}
	b.missing()
	b.shopping()
	b.stash()
	b.supplies()
	b.notes("Which fabric for what", r.Splits)
	b.glance()
	b.tally()
	b.notes("Mind", r.Warnings)
	b.notes("Assumed", r.Notes)
	b.cautions()
	b.notes("Signs the printed letters lack", b.words.legend())
}

func (b *book) missing() {
	if len(b.r.Missing) == 0 {
		return
	}
	b.notes("Not enough cloth", b.r.Missing)
	b.y += 4 * point
	b.paragraph("The plan below cuts what can be cut.", body(Start))
}

// notes sets a section of short paragraphs, if there are any.
func (b *book) notes(title string, texts []string) {
	if len(texts) == 0 {
		return
	}
	b.heading(title, 14*point)
	for _, t := range texts {
		b.bullet(b.say(t))
	}
}

func (b *book) bullet(s string) {
	f := body(Start)
	for i, l := range wrap(s, f, b.width()-12*point, 0) {
		b.need(lead(f))
		b.y += f.Size
		if i == 0 {
			b.page().circle(b.left()+3*point, b.y-3*point, 3*point/2, wash(harbor))
		}
		b.page().text(b.left()+12*point, b.y, l, f)
		b.y += f.Size * 7 / 20
	}
	b.y += point
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

// glance compares the fabrics and says how good each answer is.
func (b *book) glance() {
	if len(b.r.Fabrics) == 0 {
		return
	}
	b.heading("How the cloth is used", 44*point)
	rows := make([][]string, len(b.r.Fabrics))
	for i, f := range b.r.Fabrics {
		rows[i] = []string{
			b.say(f.Name), fmt.Sprint(f.Sheets), fmt.Sprintf("%.1f%%", f.Use), fmt.Sprintf("%.1f%%", f.Kept),
			fmt.Sprintf("%.1f%%", f.Waste), thousands(int64(f.Passes)), b.say(f.Standing),
		}
	}
	b.table([]column{
		{head: "fabric", share: 20, font: strong(Start), lines: 3},
		{head: "sheets", share: 8, font: body(End)},
		{head: "used", share: 9, font: body(End)},
		{head: "kept", share: 9, font: body(End)},
		{head: "waste", share: 9, font: body(End)},
		{head: "passes", share: 9, font: body(End)},
		{head: "how good it is", share: 36, font: body(Start), lines: 4},
	}, rows)
	b.y += 4 * point
	f := body(Start)
	f.Colour = soft
	b.paragraph(fmt.Sprintf("%s on %s; %s in all, each fabric's counted alone. Used, kept and waste are parts of all cloth cut into, before squaring.",
		counted(len(b.r.Sheets), "layout"), counted(b.r.sheetCount(), "sheet"), passes(b.r.Passes)), f)
}

// tally lists all pieces by fabric and letter.
func (b *book) tally() {
	if len(b.r.Fabrics) == 0 {
		return
	}
	b.heading("Pieces", 60*point)
	for i, f := range b.r.Fabrics {
		if i > 0 {
			b.y += 8 * point
		}
		name := strong(Start)
		name.Size = 10 * point
		b.need(52 * point)
		turn := map[bool]string{true: "  may be turned", false: "  not turned"}[f.Direction == 0]
		b.y += name.Size + 2*point
		label := fit(b.say(f.Name), name, b.width()*7/10)
		b.page().text(b.left(), b.y, label, name)
		b.page().text(b.left()+name.width(label), b.y, turn, Font{Size: 8 * point, Colour: soft})
		b.y += 4 * point
		rows := make([][]string, len(f.Tally))
		for j, t := range f.Tally {
			total := thousands(int64(t.Total()))
			if t.Missing > 0 {
				total += fmt.Sprintf(" (%d missing)", t.Missing)
			}
			rows[j] = []string{
				b.say(t.Letter), vulgarSize(t.Size, b.r.Unit) + unitAfter(t.Size, b.r.Unit), thousands(int64(t.Count)), thousands(int64(t.Spare)),
				total, b.say(t.Uses), t.Sheets(),
			}
		}
		b.table([]column{
			{head: "", share: 5, font: strong(Start)},
			{head: "size", share: 16, font: strong(Start), lines: 2},
			{head: "needed", share: 9, font: body(End)},
			{head: "spare", share: 8, font: body(End)},
			{head: "to cut", share: 10, font: strong(End), lines: 2},
			{head: "for", share: 30, font: body(Start), lines: 6},
			{head: "from sheet (pieces)", share: 22, font: body(Start), lines: 8},
		}, rows)
	}
	b.y += 4 * point
	f := body(Start)
	f.Colour = soft
	b.need(lead(f) * 4)
	b.paragraph("Sizes are written along the selvage × across.", f)
	b.paragraph("Cross-check: "+strings.Join(b.r.CrossCheck, "; ")+".", f)
}

// cautions sets what to mind, in two columns that stay on one page.
func (b *book) cautions() {
	const between = 18 * point
	half := (b.width() - between) / 2
	topic, text := strong(Start), Font{Size: 17 * point / 2, Colour: ink}
	list := b.r.Cautions
	var heights []units.Length
	total := units.Length(0)
	for i := 0; i < len(list); i += 2 {
		height := units.Length(0)
		for _, c := range list[i:min(i+2, len(list))] {
			height = max(height, units.Length(len(wrap(c.Text, text, half, 0)))*lead(text)+lead(topic)+6*point)
		}
		heights = append(heights, height)
		total += height
	}
	b.heading("Before you start", total)
	for i, c := range list {
		x := b.left() + units.Length(i%2)*(half+between)
		y := b.y + topic.Size
		b.page().text(x, y, c.Topic, topic)
		for _, l := range wrap(c.Text, text, half, 0) {
			y += lead(text)
			b.page().text(x, y, l, text)
		}
		if i%2 == 1 || i == len(list)-1 {
			b.y += heights[i/2]
		}
	}
}
