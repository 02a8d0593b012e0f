package reports

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// Name is the sheet's title, "Sheet 3: navy dot".
func (s *Sheet) Name() string { return fmt.Sprintf("Sheet %d: %s", s.Number, s.Fabric) }

// Like says how many are cut like this.
func (s *Sheet) Like() string {
	if s.Copies == 1 {
		return "cut 1 like this"
	}
	return fmt.Sprintf("cut %s like this", thousands(int64(s.Copies)))
}

// Gives lists the pieces of one copy, and of all.
func (s *Sheet) Gives() string {
	one, all := make([]string, len(s.Counts)), make([]string, len(s.Counts))
	for i, c := range s.Counts {
		one[i] = fmt.Sprintf("%s %s (%s)", thousands(int64(c.Count)), c.Letter, vulgarSize(c.Size, s.unit)+unitAfter(c.Size, s.unit))
		all[i] = fmt.Sprintf("%s %s", thousands(int64(c.Count)*int64(s.Copies)), c.Letter)
	}
	text := "Gives " + list(one)
	if s.Copies > 1 {
		text = fmt.Sprintf("Each gives %s; all %s give %s", list(one), thousands(int64(s.Copies)), list(all))
	}
	return text + "."
}

// cutSheet sets the pages of one layout of a bench: the picture, then the steps
// that cut its whole cloth.
func (b *book) cutSheet(s *Sheet, g bench) {
	title := b.say(s.Name())
	b.open("", title)
	b.sheetMark(s, 0)
	b.sheetHead(s)
	own, shared := b.wholeSteps(s, g)
	t := b.fitPicture(s, own, g)
	for i, v := range t.views {
		if i > 0 {
			b.open("", title)
			b.sheetHead(s)
		}
		d := newDiagram(s, t.scale, v)
		b.page().place(b.left()+max(0, (b.width()-d.W)/2), b.y, &d.Drawing)
		b.y += d.H + 4*point
		note := fmt.Sprintf("Scale %s. Measures in %s, along the selvage × across.", t.scale, unitName(s.unit))
		if len(t.views) > 1 {
			note = fmt.Sprintf("Part %d of %d of this sheet, from below. ", i+1, len(t.views)) + note
		}
		b.line(note, Font{Size: 8 * point, Colour: soft})
		b.y += 3 * point
		b.key(s)
	}
	b.y += 6 * point
	b.saysOf(s, append(shared, g.togetherWords(s.Number)))
	if len(own) == 0 {
		return
	}
	b.heading("Steps", b.stepsHeight(own[:1]))
	blocks := make([]stepBlock, len(own))
	for i, n := range own {
		blocks[i] = b.block(&b.r.Steps[n-1], nil)
	}
	b.steps(blocks)
}

// wholeSteps lists the steps of a sheet's whole cloth that are told on its page,
// and words for those told elsewhere.
func (b *book) wholeSteps(s *Sheet, g bench) (own []int, elsewhere []string) {
	with := map[int][]int{} // steps told with another sheet
	var others []int
	for _, n := range g.whole {
		if !slices.Contains(s.Steps, n) {
			continue
		}
		first := slices.MinFunc(b.r.Steps[n-1].From, func(a, b Source) int { return a.Sheet - b.Sheet }).Sheet
		if first == s.Number {
			own = append(own, n)
			continue
		}
		if with[first] == nil {
			others = append(others, first)
		}
		with[first] = append(with[first], n)
	}
	for _, o := range others {
		words := capital(stepNumbers(with[o])) + " on the page of sheet " + fmt.Sprint(o)
		if len(with[o]) == 1 {
			elsewhere = append(elsewhere, words+" cuts this cloth in the same stack.")
		} else {
			elsewhere = append(elsewhere, words+" cut this cloth in the same stack.")
		}
	}
	for _, st := range b.r.Steps {
		if st.Letter != "" && slices.ContainsFunc(st.From, func(f Source) bool { return f.Whole && f.Sheet == s.Number }) {
			elsewhere = append(elsewhere, fmt.Sprintf("As it lies it is %s of step %d.", st.Name, st.Number))
		}
	}
	if len(s.Steps) == 0 {
		elsewhere = append(elsewhere, "It needs no cut.")
	}
	return own, elsewhere
}

// fitPicture chooses the picture's scale: as large as leaves the steps on the
// same page; if they are many, about half a page; a page of its own when that
// makes it clearly larger.
func (b *book) fitPicture(s *Sheet, own []int, g bench) tiling {
	const words = 110 * point // scale, key, pieces, the head of the steps
	wide := b.width() - roomLeft - roomRight
	tall := b.room() - roomTop - roomBottom
	beside := tall - words - b.stepsHeight(own)
	if len(g.sheets) == 1 {
		// Its strips may find room as well.
		if all := beside - b.stripsHeight(g) - 50*point; all >= tall/5 {
			if t := s.tile(wide, all); len(t.views) == 1 && t.scale.paper(s.smallest()) >= legible*4/3 {
				return t
			}
		}
	}
	gain := scale(17) // tenths by which a page of its own must enlarge the picture
	if beside < tall*3/10 {
		beside, gain = tall/2, 13
	}
	part := s.tile(wide, beside)
	whole := s.tile(wide, tall-words/2)
	if len(whole.views) < len(part.views) || whole.scale*gain < part.scale*10 {
		return whole
	}
	return part
}

func unitName(u units.Unit) string {
	if u == units.Centimetres {
		return "centimetres"
	}
	return "inches"
}

// keeps lists the offcuts of a sheet with their sizes.
func keeps(s *Sheet) string {
	parts := make([]string, len(s.Offcuts))
	for i, o := range s.Offcuts {
		parts[i] = o.Label + " " + roughSize(o.Size(), s.unit)
	}
	text := "To keep: " + strings.Join(parts, ", ")
	if s.Copies > 1 {
		text += fmt.Sprintf(", from each of the %s", thousands(int64(s.Copies)))
	}
	return text + "."
}

// sheetHead sets the head of a cut sheet: what to take, and how often.
func (b *book) sheetHead(s *Sheet) {
	d := b.page()
	count := Font{Size: 20 * point, Bold: true, Colour: ink, Align: End}
	like := Font{Size: 9 * point, Colour: soft, Align: End}
	times := "× " + thousands(int64(s.Copies))
	room := b.width() - max(count.width(times), like.width(s.Like())) - 16*point
	y := b.y
	small := Font{Size: 8 * point, Bold: true, Colour: harbor}
	y += small.Size
	d.text(b.left(), y, fmt.Sprintf("SHEET %d OF %d", s.Number, len(b.r.Sheets)), small)
	name := Font{Size: 18 * point, Bold: true, Colour: ink}
	y += 22 * point
	d.text(b.left(), y, fit(b.say(s.Fabric), name, room), name)
	d.text(b.right(), y-2*point, times, count)
	cloth := Font{Size: 10 * point, Colour: soft}
	y += 15 * point
	d.text(b.left(), y, fit(typeset(b.say(s.Cloth)), cloth, room), cloth)
	d.text(b.right(), y, s.Like(), like)
	y += 7 * point
	d.line(b.left(), y, b.right(), y, pen(harbor, point))
	b.y = y + 8*point
}

// key explains the signs that occur in the picture.
func (b *book) key(s *Sheet) {
	d := b.page()
	b.need(14 * point)
	b.y += 9 * point
	x := b.left()
	f := Font{Size: 15 * point / 2, Colour: soft}
	add := func(sign func(x, y, w, h units.Length), words string) {
		w, h := 16*point, 8*point
		sign(x, b.y-7*point, w, h)
		d.text(x+w+4*point, b.y, words, f)
		x += w + 4*point + f.width(words) + 14*point
	}
	add(func(x, y, w, h units.Length) {
		d.rect(x, y, w, h, Style{Fill: cream, Stroke: ink, Width: 3 * point / 4})
	}, "piece")
	if len(s.Offcuts) > 0 {
		add(func(x, y, w, h units.Length) {
			d.rect(x, y, w, h, wash(keep))
			d.rect(x+2*point, y+2*point, w-4*point, h-4*point, Style{Fill: NoColour, Stroke: harbor, Width: point / 2, Dash: 2 * point})
		}, "keep")
	}
	add(func(x, y, w, h units.Length) { d.hatch(x, y, w, h, 4*point, true, pen(soft, point/2)) }, "waste")
	if len(s.Bad) > 0 {
		add(func(x, y, w, h units.Length) {
			d.hatch(x, y, w, h, hatchGap/2, true, badPen)
			d.hatch(x, y, w, h, hatchGap/2, false, badPen)
		}, "not usable")
	}
	if s.Outline != nil {
		add(func(x, y, w, h units.Length) { d.line(x, y+h, x+w, y, pen(ink, 9*point/4)) }, "edge of the cloth")
	}
	trims, selvages := false, false
	for _, e := range s.Edges {
		trims, selvages = trims || e.Trim > 0, selvages || e.Selvage
	}
	if trims || selvages {
		add(func(x, y, w, h units.Length) { d.line(x, y+h/2, x+w, y+h/2, pen(ink, 9*point/4)) }, "squared edge")
	}
	if trims {
		add(func(x, y, w, h units.Length) {
			d.line(x, y+h/2, x+w, y+h/2, Style{Fill: NoColour, Stroke: soft, Width: point / 2, Dash: 3 * point})
		}, "raw edge")
	}
	if selvages {
		add(func(x, y, w, h units.Length) {
			d.line(x, y+h/2-point, x+w, y+h/2-point, pen(soft, point/2))
			d.line(x, y+h/2+point, x+w, y+h/2+point, pen(soft, point/2))
		}, "selvage")
	}
	add(func(x, y, w, h units.Length) { d.badge(x+w/2, y+h/2, badge, 1) }, "step")
	b.y += 4 * point
}
