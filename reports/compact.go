package reports

import (
	"cmp"
	"slices"

	"pinfold/units"
)

// compact joins neighbouring marks that look like one: filled rectangles that share a
// whole side, lines that go on where another ends. Long cloth has so many equal rows
// that its picture becomes a small part of what it was; nothing looks different.
func (d *Drawing) compact() {
	var out []Mark
	for from := 0; from < len(d.Marks); {
		to := from + 1
		for to < len(d.Marks) && alike(&d.Marks[from], &d.Marks[to]) {
			to++
		}
		run := d.Marks[from:to]
		switch {
		case len(run) == 1:
			out = append(out, run...)
		case run[0].Shape == RectShape:
			out = append(out, joinRects(run)...)
		default:
			out = append(out, joinLines(run)...)
		}
		from = to
	}
	d.Marks = out
}

// alike tells whether the order in which two marks are drawn makes no difference:
// rectangles of one fill, or solid lines of one colour.
func alike(a, b *Mark) bool {
	if a.Shape != b.Shape {
		return false
	}
	switch a.Shape {
	case RectShape:
		return a.Style == b.Style && a.Style.Stroke == NoColour
	case LineShape:
		return a.Style.Stroke == b.Style.Stroke && a.Style.Dash == 0 && b.Style.Dash == 0
	}
	return false
}

// joinRects joins rectangles side by side, and then the rows one above the other.
func joinRects(run []Mark) []Mark {
	rows := joinAlong(run, func(m *Mark) [4]units.Length { return [4]units.Length{m.Y, m.Y2, m.X, m.X2} },
		func(m *Mark, end units.Length) { m.X2 = end })
	return joinAlong(rows, func(m *Mark) [4]units.Length { return [4]units.Length{m.X, m.X2, m.Y, m.Y2} },
		func(m *Mark, end units.Length) { m.Y2 = end })
}

// joinAlong joins marks that agree in the first two numbers of their place and touch
// or overlap from the third to the fourth.
func joinAlong(run []Mark, place func(*Mark) [4]units.Length, stretch func(*Mark, units.Length)) []Mark {
	sorted := slices.Clone(run)
	slices.SortStableFunc(sorted, func(a, b Mark) int {
		p, q := place(&a), place(&b)
		return slices.Compare(p[:], q[:])
	})
	out := sorted[:1]
	for _, m := range sorted[1:] {
		last := &out[len(out)-1]
		p, q := place(last), place(&m)
		if p[0] == q[0] && p[1] == q[1] && q[2] <= p[3] {
			stretch(last, max(p[3], q[3]))
		} else {
			out = append(out, m)
		}
	}
	return out
}

// course is the straight line that a mark lies on, and from where to where: lines
// of one way, offset and style that touch are one.
type course struct {
	way              int // 0 along x, 1 along y, 2 falling, 3 rising, 4 any other
	offset, from, to units.Length
}

func (m *Mark) course() course {
	dx, dy := m.X2-m.X, m.Y2-m.Y
	low, high := min(m.X, m.X2), max(m.X, m.X2)
	switch {
	case dy == 0:
		return course{0, m.Y, low, high}
	case dx == 0:
		return course{1, m.X, min(m.Y, m.Y2), max(m.Y, m.Y2)}
	case dx == dy:
		return course{2, m.Y - m.X, low, high}
	case dx == -dy:
		return course{3, m.X + m.Y, low, high}
	}
	return course{way: 4}
}

// joinLines joins lines of one style that go on in each other. The styles follow in
// the order in which they come first.
func joinLines(run []Mark) []Mark {
	var styles []Style
	by := map[Style][]Mark{}
	for _, m := range run {
		if by[m.Style] == nil {
			styles = append(styles, m.Style)
		}
		by[m.Style] = append(by[m.Style], m)
	}
	var out []Mark
	for _, s := range styles {
		out = append(out, joinCourses(by[s])...)
	}
	return out
}

func joinCourses(lines []Mark) []Mark {
	slices.SortStableFunc(lines, func(a, b Mark) int {
		p, q := a.course(), b.course()
		return cmp.Or(cmp.Compare(p.way, q.way), cmp.Compare(p.offset, q.offset), cmp.Compare(p.from, q.from))
	})
	out := lines[:1]
	at := lines[0].course()
	for _, m := range lines[1:] {
		c := m.course()
		if c.way == at.way && c.offset == at.offset && c.way < 4 && c.from <= at.to {
			at.to = max(at.to, c.to)
			last := &out[len(out)-1]
			switch at.way {
			case 0:
				last.X, last.X2 = at.from, at.to
			case 1:
				last.Y, last.Y2 = at.from, at.to
			case 2:
				last.X, last.Y, last.X2, last.Y2 = at.from, at.from+at.offset, at.to, at.to+at.offset
			case 3:
				last.X, last.Y, last.X2, last.Y2 = at.from, at.offset-at.from, at.to, at.offset-at.to
			}
			continue
		}
		out = append(out, m)
		at = c
	}
	return out
}
