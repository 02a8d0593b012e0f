package reports

import (
	"fmt"
	"slices"

	"pinfold/plan"
	"pinfold/units"
)

// cutout is a piece size to be drawn at its own size.
type cutout struct {
	letter string
	size   units.Size
	folded bool // whether an ornament has it folded, not only as a band
	turned bool // drawn a quarter turned, so that it fits the page
}

// mostTemplatePages is how many pages the templates may take.
const mostTemplatePages = 8

// sizesByLetter lists every size of the plan once, by letter.
func (r *Report) sizesByLetter() []cutout {
	var out []cutout
	for _, f := range r.result.Gathered.Fabrics {
		for _, n := range f.Sizes {
			i := slices.IndexFunc(out, func(o cutout) bool { return o.letter == n.ID })
			if i < 0 {
				i = len(out)
				out = append(out, cutout{letter: n.ID, size: n.Size})
			}
			if slices.ContainsFunc(n.Uses, func(u plan.Use) bool { return u.Piece != plan.BandName }) {
				out[i].folded = true
			}
		}
	}
	slices.SortFunc(out, func(a, b cutout) int {
		if len(a.letter) != len(b.letter) {
			return len(a.letter) - len(b.letter)
		}
		if a.letter < b.letter {
			return -1
		}
		return 1
	})
	return out
}

// checkSide is the side of the square to hold a ruler against.
func checkSide(u units.Unit) units.Length {
	if u == units.Centimetres {
		return 5 * units.Centimetre
	}
	return 2 * units.Inch
}

// templates sets every size of piece at its own size, those that fit a page.
func (b *book) templates() {
	b.chapter("Actual-size templates")
	b.checkSquare()
	var fits []cutout
	var large, left []string
	room := b.bottom() - pageTop - 24*point // under a running head
	for _, t := range b.r.sizesByLetter() {
		switch s := t.size; {
		case s.Across <= b.width() && s.Along <= room:
			fits = append(fits, t)
		case s.Along <= b.width() && s.Across <= room:
			t.turned = true
			fits = append(fits, t)
		default:
			large = append(large, b.named(t))
		}
	}
	shelves := shelve(fits, b.width(), 0)
	if alike := shelve(fits, b.width(), 2); pagesFor(alike, b.room(), room) <= pagesFor(shelves, b.room(), room) {
		shelves = alike
	}
	last := len(b.pages) + mostTemplatePages
	for i, shelf := range shelves {
		high := units.Length(0)
		for _, t := range shelf {
			_, h := t.drawn()
			high = max(high, h)
		}
		if high > b.room() && len(b.pages) == last {
			for _, rest := range shelves[i:] {
				for _, t := range rest {
					left = append(left, b.named(t))
				}
			}
			break
		}
		b.need(high)
		x := b.left()
		for _, t := range shelf {
			w, _ := t.drawn()
			b.template(t, x, b.y)
			x += w + templateGap
		}
		b.y += high + templateGap
	}
	if len(large) > 0 {
		b.y += 6 * point
		b.paragraph("Too large for this paper, to be measured with the ruler: "+list(large)+".", body(Start))
	}
	if len(left) > 0 {
		b.y += 6 * point
		b.paragraph("Left out, since there are so many sizes: "+list(left)+".", body(Start))
	}
}

// named is a size in words, "B (1¾ × 10½ in)".
func (b *book) named(t cutout) string {
	return fmt.Sprintf("%s (%s)", t.letter, vulgarSize(t.size, b.r.Unit)+unitAfter(t.size, b.r.Unit))
}

// checkSquare sets the square that shows whether the printer kept the size.
func (b *book) checkSquare() {
	side := checkSide(b.r.Unit)
	x, y := b.left(), b.y+4*point
	b.page().rect(x, y, side, side, pen(ink, point/2))
	words := Font{Size: 9 * point, Bold: true, Colour: ink, Align: Middle}
	b.page().text(x+side/2, y+side/2+3*point, side.Vulgar(b.r.Unit)+" "+b.r.Unit.String(), words)
	f := Font{Size: 10 * point, Colour: ink}
	head := Font{Size: 12 * point, Bold: true, Colour: ink}
	at := x + side + 16*point
	ty := y + head.Size
	b.page().text(at, ty, "Print at actual size (100%), not fitted to the page.", head)
	ty += 6 * point
	for _, l := range wrap(fmt.Sprintf("Hold a ruler to the square: each side must measure %s. If it does not, do not cut by these pages. The solid line is the cut edge; the arrow is the selvage, the dashed line where a piece is folded in two.",
		side.Vulgar(b.r.Unit)+" "+b.r.Unit.String()), f, b.right()-at, 0) {
		ty += lead(f)
		b.page().text(at, ty, l, f)
	}
	b.y = y + side + 16*point
}

// templateGap is the room between templates.
const templateGap = 12 * point

// drawn is how large a template is on paper.
func (t cutout) drawn() (w, h units.Length) {
	if t.turned {
		return t.size.Along, t.size.Across
	}
	return t.size.Across, t.size.Along
}

// shelve puts templates side by side in rows no wider than the width, each where
// there is room beside a higher one; the lowest rows first, to share a page.
// Rows hold only what is at least 1/part as high as they are; 0 is any.
func shelve(all []cutout, width, part units.Length) [][]cutout {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b cutout) int {
		_, ah := a.drawn()
		_, bh := b.drawn()
		return int(max(-1, min(1, bh-ah)))
	})
	var out [][]cutout
	var used, high []units.Length
next:
	for _, t := range all {
		w, h := t.drawn()
		for i := range out {
			if used[i]+templateGap+w <= width && (part == 0 || part*h >= high[i]) {
				out[i] = append(out[i], t)
				used[i] += templateGap + w
				continue next
			}
		}
		out = append(out, []cutout{t})
		used, high = append(used, w), append(high, h)
	}
	slices.Reverse(out)
	return out
}

// pagesFor counts the pages that rows take, the first with less room.
func pagesFor(shelves [][]cutout, first, room units.Length) int {
	pages, left := 1, first
	for _, shelf := range shelves {
		high := units.Length(0)
		for _, t := range shelf {
			_, h := t.drawn()
			high = max(high, h)
		}
		if high > left {
			pages, left = pages+1, room
		}
		left -= high + templateGap
	}
	return pages
}

// template draws one size with its upper left corner at a point.
func (b *book) template(t cutout, x, y units.Length) {
	d := b.page()
	w, h := t.drawn()
	d.rect(x, y, w, h, pen(ink, 3*point/4))
	// The longer side is the one that is folded in two.
	fold := Style{Fill: NoColour, Stroke: soft, Width: point / 2, Dash: 3 * point}
	switch {
	case !t.folded:
	case w > h:
		d.line(x+w/2, y, x+w/2, y+h, fold)
	default:
		d.line(x, y+h/2, x+w, y+h/2, fold)
	}
	letter := Font{Size: min(16*point, h/4), Bold: true, Colour: ink}
	size := Font{Size: 8 * point, Colour: ink}
	words := vulgarSize(t.size, b.r.Unit) + unitAfter(t.size, b.r.Unit)
	for size.Size > 5*point && size.width(words) > w-8*point {
		size.Size -= point / 2
	}
	d.text(x+5*point, y+letter.Size+3*point, t.letter, letter)
	if size.Size+letter.Size+8*point <= h/2 && size.width(words) <= w-8*point {
		d.text(x+5*point, y+letter.Size+size.Size+6*point, words, size)
	} else if letter.width(t.letter)+size.width(words)+12*point <= w {
		d.text(x+letter.width(t.letter)+8*point, y+letter.Size+3*point, words, size)
	}
	if min(w, h) < 50*point {
		return
	}
	arrow := pen(soft, 3*point/4)
	if t.turned {
		d.line(x+w-40*point, y+h-8*point, x+w-8*point, y+h-8*point, arrow)
		for _, dx := range []units.Length{0, 32 * point} {
			tip, back := x+w-40*point+dx, 5*point-dx*10/32
			d.line(tip, y+h-8*point, tip+back, y+h-11*point, arrow)
			d.line(tip, y+h-8*point, tip+back, y+h-5*point, arrow)
		}
		return
	}
	d.arrowUp(x+w-8*point, y+h-8*point, y+h-40*point, true, arrow)
}
