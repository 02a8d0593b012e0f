package pack

import (
	"cmp"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/units"
)

// The engines know rectangles only. For them what is outside an outline becomes
// columns of cells of their grid, in two ways. Close: every cell that is not all
// inside; what keeps off those lies on the cloth. Loose: a cell only if nothing
// that lies on the cloth, moved down and to the left onto the grid, covers it:
// every true layout keeps off those, so what is proved with them holds.

// column is a column of cells, or several with one content.
type column struct {
	from, to units.Length
	bad      []span
}

func (c column) area() units.Length { return (c.to - c.from) * length(c.bad) }

// grid is what the engines' cells measure and how many there are.
type grid struct {
	gx, gy units.Length
	w, h   units.Length
}

// close lists the columns of cells that are not all inside.
func (g grid) close(o Outline) []column {
	box := o.Box()
	return g.columns(func(i units.Length) []span {
		bad := o.outside(i*g.gx, min((i+1)*g.gx, box.W), box.H)
		for k, s := range bad {
			bad[k] = span{s.from / g.gy, min(ceilLength(s.to, g.gy), g.h)}
		}
		return bad
	})
}

// loose lists the columns of cells that nothing on the cloth can be moved onto: a
// cell is covered then with its last tick across and along.
func (g grid) loose(o Outline) []column {
	box := o.Box()
	return g.columns(func(i units.Length) []span {
		bad := o.outside((i+1)*g.gx-1, (i+1)*g.gx, box.H)
		for k, s := range bad {
			bad[k] = span{s.from / g.gy, min(s.to/g.gy, g.h)}
		}
		return bad
	})
}

func ceilLength(a, b units.Length) units.Length { return (a + b - 1) / b }

func (g grid) columns(of func(units.Length) []span) []column {
	var out []column
	for i := range g.w {
		var bad []span
		for _, s := range of(i) {
			if s.from < s.to {
				bad = add(bad, s)
			}
		}
		if n := len(out); n > 0 && slices.Equal(out[n-1].bad, bad) {
			out[n-1].to++
			continue
		}
		out = append(out, column{i, i + 1, bad})
	}
	return out
}

// mostSteps bounds the rectangles that stand for what is outside one outline.
const mostSteps = 32

// fewer joins neighbouring columns, each time the two whose content differs least
// by area, until they are at most mostSteps rectangles. Joined columns are bad where
// either is, or where both are.
func fewer(list []column, join func(a, b []span) []span) []column {
	if len(list) > 4*mostSteps {
		list = halved(list, join)
	}
	cost := func(i int) units.Length {
		a, b := list[i], list[i+1]
		c := column{a.from, b.to, join(a.bad, b.bad)}.area() - a.area() - b.area()
		return max(c, -c)
	}
	var costs []units.Length
	rects := 0
	for i, c := range list {
		rects += len(c.bad)
		if i+1 < len(list) {
			costs = append(costs, cost(i))
		}
	}
	for rects > mostSteps && len(list) > 1 {
		at := slices.Index(costs, slices.Min(costs))
		a, b := list[at], list[at+1]
		list[at] = column{a.from, b.to, join(a.bad, b.bad)}
		rects += len(list[at].bad) - len(a.bad) - len(b.bad)
		list = slices.Delete(list, at+1, at+2)
		costs = slices.Delete(costs, at, at+1)
		for _, i := range []int{at - 1, at} {
			if i >= 0 && i < len(costs) {
				costs[i] = cost(i)
			}
		}
	}
	return list
}

// halved joins columns two by two until there are few enough to compare.
func halved(list []column, join func(a, b []span) []span) []column {
	for len(list) > 4*mostSteps {
		var out []column
		for i := 0; i < len(list); i += 2 {
			c := list[i]
			if i+1 < len(list) {
				c = column{c.from, list[i+1].to, join(c.bad, list[i+1].bad)}
			}
			out = append(out, c)
		}
		list = out
	}
	return list
}

// both is what lies in each of two lists.
func both(a, b []span) []span {
	var out []span
	for _, s := range a {
		for _, t := range b {
			if c := (span{max(s.from, t.from), min(s.to, t.to)}); c.from < c.to {
				out = append(out, c)
			}
		}
	}
	slices.SortFunc(out, func(s, t span) int { return cmp.Compare(s.from, t.from) })
	return out
}

// steps returns the two coverings of what is outside an outline, and whether they
// are one and the same, cell by cell. Columns or rows are taken, whichever serve
// better. With a kerf, cells say little about the cloth; then nothing is loose.
func (g grid) steps(o Outline, kerf units.Length) (tight, slack []model.Rect, same bool) {
	rows := grid{g.gy, g.gx, g.h, g.w}
	inX, inY := fewer(g.close(o), either), fewer(rows.close(o.turned()), either)
	area := min(sum(inX), sum(inY))
	if sum(inX) == area {
		tight = rects(inX, false)
	} else {
		tight = rects(inY, true)
	}
	if kerf > 0 {
		for i, r := range tight {
			// Room for the kerf of whatever lies behind.
			tight[i].W = min(r.W+int(ceilLength(kerf, g.gx)), int(g.w)-r.X)
			tight[i].H = min(r.H+int(ceilLength(kerf, g.gy)), int(g.h)-r.Y)
		}
		return tight, nil, area == 0
	}
	inX, inY = fewer(g.loose(o), both), fewer(rows.loose(o.turned()), both)
	most := max(sum(inX), sum(inY))
	if sum(inX) == most {
		slack = rects(inX, false)
	} else {
		slack = rects(inY, true)
	}
	return tight, slack, area == most
}

func sum(list []column) units.Length {
	var a units.Length
	for _, c := range list {
		a += c.area()
	}
	return a
}

func rects(list []column, turned bool) []model.Rect {
	var out []model.Rect
	for _, c := range list {
		for _, s := range c.bad {
			r := model.Rect{X: int(c.from), Y: int(s.from), W: int(c.to - c.from), H: int(s.to - s.from)}
			if turned {
				r.X, r.Y, r.W, r.H = r.Y, r.X, r.H, r.W
			}
			out = append(out, r)
		}
	}
	return out
}
