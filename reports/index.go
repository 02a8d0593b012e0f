package reports

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// longBooklet is how many pages a booklet has before it gets an index.
const longBooklet = 20

// sheetMark notes that a sheet begins on the last page.
func (b *book) sheetMark(s *Sheet, y units.Length) {
	p := &b.pages[len(b.pages)-1]
	p.sheets = append(p.sheets, sheetMark{s.Number, b.say(s.Fabric), b.say(s.Name()), y})
}

// index puts pages behind the cover that say on which page each fabric's sheets are,
// if the booklet is long.
func (b *book) index() {
	if len(b.pages) <= longBooklet || len(b.r.Sheets) == 0 {
		return
	}
	trial := b.indexPages(0)
	more := len(trial)
	pages := b.indexPages(more)
	for i := range b.chapters {
		if b.chapters[i].page > 1 {
			b.chapters[i].page += more
		}
	}
	b.pages = slices.Insert(b.pages, 1, pages...)
}

// indexEntry are the sheets of one fabric that begin on one page.
type indexEntry struct {
	sheets []int
	page   int
}

// indexPages sets the index; so many pages are put in behind the cover.
func (b *book) indexPages(more int) []sheetOfPaper {
	entries := map[string][]indexEntry{}
	for i, p := range b.pages {
		for _, m := range p.sheets {
			list := entries[m.fabric]
			if n := len(list); n == 0 || list[n-1].page != i+1+more {
				list = append(list, indexEntry{page: i + 1 + more})
			}
			last := &list[len(list)-1]
			last.sheets = append(last.sheets, m.number)
			entries[m.fabric] = list
		}
	}
	x := &book{r: b.r, title: b.title, paper: b.paper, words: b.words}
	x.open("Index of sheets", "Index of sheets")
	x.chapterTitle("Index of sheets")
	x.line("sheets, and the page they are on", Font{Size: 9 * point, Colour: soft})
	const columns, each = 3, 13 * point
	w := (x.width() + cardGap) / columns
	f := Font{Size: 10 * point, Colour: ink}
	for _, fabric := range b.r.Fabrics {
		list := entries[b.say(fabric.Name)]
		rows := (len(list) + columns - 1) / columns
		if rows == 0 {
			continue
		}
		x.heading(fit(b.say(fabric.Name), Font{Size: 12 * point, Bold: true}, x.width()), min(units.Length(rows), 3)*each)
		for from := 0; from < len(list); {
			x.need(each)
			fits := min(int(x.room()/each), (len(list)-from+columns-1)/columns)
			part := list[from:min(len(list), from+fits*columns)]
			for i, e := range part {
				at := x.left() + units.Length(i/fits)*w
				y := x.y + units.Length(i%fits+1)*each
				page := Font{Size: 10 * point, Bold: true, Colour: ink, Align: End}
				x.page().text(at, y, fit(strings.Join(ranges(e.sheets), ", "), f, w-cardGap-40*point), f)
				x.page().text(at+w-cardGap, y, fmt.Sprint(e.page), page)
			}
			x.y += units.Length(min(fits, len(part))) * each
			from += len(part)
		}
	}
	return x.pages
}
