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

	chapters []chapter
	coming   string // the chapter that begins with the next page; "" for none

	matter
}

// chapter is one line of the contents.
type chapter struct {
	title string
	page  int // from 1
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
	p := sheetOfPaper{Drawing: Drawing{W: b.paper.W, H: b.paper.H}, bookmark: bookmark}
	p.nested = b.coming != "" || len(b.chapters) > 0
	b.pages = append(b.pages, p)
	b.y, b.running = pageTop, running
	if b.coming != "" {
		b.mark(b.coming, 0)
		b.coming = ""
	}
}

// mark notes that a chapter begins on the last page.
func (b *book) mark(title string, y units.Length) {
	b.chapters = append(b.chapters, chapter{title, len(b.pages)})
	p := &b.pages[len(b.pages)-1]
	p.chapters = append(p.chapters, chapterMark{title, y})
}

// begin makes the next page the first of a chapter.
func (b *book) begin(title string) { b.coming = title }

// chapter opens the first page of a chapter and sets its title.
func (b *book) chapter(title string) {
	b.begin(title)
	b.open("", title)
	b.chapterTitle(title)
}

func (b *book) chapterTitle(title string) {
	b.line(title, Font{Size: 18 * point, Bold: true, Colour: ink})
	b.y += 4 * point
}

// shortChapter sets a chapter on the page where the one before it ended, if all
// of it fits there, else on pages of its own.
func (b *book) shortChapter(title string, set func(*book)) {
	const above = 30 * point
	trial := &book{r: b.r, title: b.title, paper: b.paper, words: b.words, matter: b.matter}
	trial.chapter(title)
	set(trial)
	if len(trial.pages) > 1 || above+trial.y-pageTop > b.room() {
		b.chapter(title)
	} else {
		b.y += above
		b.running = title
		b.mark(title, b.y)
		b.chapterTitle(title)
	}
	set(b)
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

// paragraph sets wrapped text. Neither its first nor its last line stands alone
// on a page.
func (b *book) paragraph(s string, f Font) {
	lines := wrap(s, f, b.width(), 0)
	for i, l := range lines {
		b.together(i, len(lines), f.Size*13/10)
		b.line(l, f)
	}
}

// together makes sure that the i-th of n lines or rows does not part two at the
// start or at the end of the whole.
func (b *book) together(i, n int, each units.Length) {
	switch {
	case n <= 3 && i == 0:
		b.need(units.Length(n) * each)
	case i == 0 || i == n-2:
		b.need(2 * each)
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
