package reports

import "pinfold/units"

// before sets the page to read before the first cut.
func (b *book) before() {
	b.shortChapter("Before you cut", func(b *book) {
		b.order()
		b.notes("Mind", b.r.Warnings)
		b.notes("The scrap bin", b.r.Bin)
		b.notes("Assumed", b.r.Notes)
		b.cautions()
		b.notes("Signs the printed letters lack", b.words.legend())
	})
}

// order says how the booklet is worked through.
func (b *book) order() {
	b.notes("In this order", []string{
		"Buy and take out what stands under that head. Wash, press, and measure the real cloth: where it is smaller than the plan says, plan again before the first cut.",
		"Check the printer with the square on the page of templates.",
		"Cut sheet by sheet and step by step. Tick each step, and measure what must be left before you go on.",
		"Put pieces of one letter and one fabric in one pile, and deal the piles into bags by the sorting list.",
		"Pin each ornament by its planning sheet, from the pole outwards.",
		"Label what is left and put it back into the stash.",
	})
}

// cautions sets what to mind, in two columns that stay on one page.
func (b *book) cautions() {
	const between = 18 * point
	half := (b.width() - between) / 2
	topic, text := Font{Size: 11 * point, Bold: true, Colour: ink}, Font{Size: 10 * point, Colour: ink}
	list := b.r.Cautions
	var heights []units.Length
	total := units.Length(0)
	for i := 0; i < len(list); i += 2 {
		height := units.Length(0)
		for _, c := range list[i:min(i+2, len(list))] {
			height = max(height, units.Length(len(wrap(c.Text, text, half, 0)))*lead(text)+lead(topic)+8*point)
		}
		heights = append(heights, height)
		total += height
	}
	b.heading("Safely", total)
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
