package reports

// notes sets a section of short paragraphs, if there are any.
func (b *book) notes(title string, texts []string) {
	if len(texts) == 0 {
		return
	}
	b.heading(title, 26*point)
	for _, t := range texts {
		b.bullet(b.say(t))
	}
}

func (b *book) bullet(s string) {
	f := body(Start)
	f.Size = 10 * point
	lines := wrap(s, f, b.width()-12*point, 0)
	for i, l := range lines {
		b.together(i, len(lines), lead(f))
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
