package blocks

import (
	"slices"

	"pinfold/pack/internal/model"
)

// within keeps, of a layout that may use items too often, as many copies as the
// demands allow, the first ones found, and fills what that leaves free with
// copies that remain, the most valuable first.
func (s *sheet) within(placed []model.Placed, value []int64) []model.Placed {
	left := slices.Clone(s.demand)
	var kept []model.Placed
	for _, q := range placed {
		if left[q.Item] > 0 {
			left[q.Item]--
			kept = append(kept, q)
		}
	}
	tree, err := model.Build(s.pr, s.w, s.h, s.pr.Stages, kept)
	if err != nil {
		return nil
	}
	if s.pr.Stages > 0 {
		return kept
	}
	g := gaps{s: s, left: left, value: value, placed: kept}
	g.collect(tree, model.Rect{W: s.w, H: s.h})
	for len(g.free) > 0 {
		r := g.free[len(g.free)-1]
		g.free = g.free[:len(g.free)-1]
		g.fill(r)
	}
	return g.placed
}

// gaps are the free rectangles of a layout.
type gaps struct {
	s      *sheet
	left   []int
	value  []int64
	placed []model.Placed
	free   []model.Rect
}

func (g *gaps) collect(t *model.Tree, r model.Rect) {
	if t.Empty() {
		g.free = append(g.free, r)
		return
	}
	for i, part := range t.Parts {
		sub := r
		if t.Axis == model.AxisX {
			sub.W = t.Len[i]
			r.X += sub.W
		} else {
			sub.H = t.Len[i]
			r.Y += sub.H
		}
		g.collect(part, sub)
	}
}

// fill puts the most valuable copy that fits into a corner of r and notes the
// two rectangles left, the larger one as large as possible.
func (g *gaps) fill(r model.Rect) {
	best := -1
	for i, q := range g.s.shapes {
		if g.left[q.item] > 0 && int(q.w) <= r.W && int(q.h) <= r.H && g.s.clear(r, q) &&
			(best < 0 || g.value[q.item] > g.value[g.s.shapes[best].item]) {
			best = i
		}
	}
	if best < 0 {
		g.part(r)
		return
	}
	q := g.s.shapes[best]
	g.left[q.item]--
	g.placed = append(g.placed, model.Placed{Item: q.item, X: int32(r.X), Y: int32(r.Y), Turned: q.turned})
	dw, dh := r.W-int(q.w), r.H-int(q.h)
	end := model.Rect{X: r.X + int(q.w), Y: r.Y, W: dw, H: r.H}
	above := model.Rect{X: r.X, Y: r.Y + int(q.h), W: int(q.w), H: dh}
	if max(dw*r.H, int(q.w)*dh) < max(r.W*dh, dw*int(q.h)) {
		end.H = int(q.h)
		above.W = r.W
	}
	for _, f := range []model.Rect{above, end} {
		if f.W > 0 && f.H > 0 {
			g.free = append(g.free, f)
		}
	}
}

// clear tells whether a piece in the corner of r keeps off the bad areas.
func (s *sheet) clear(r model.Rect, q shape) bool {
	for _, b := range s.pr.Stocks[s.stock].Bad {
		if meets(model.Rect{X: r.X, Y: r.Y, W: int(q.w), H: int(q.h)}, b) {
			return false
		}
	}
	return true
}

// part cuts a rectangle in which nothing fits the corner along the edges of a
// bad area, and notes the parts beside it.
func (g *gaps) part(r model.Rect) {
	for _, b := range g.s.pr.Stocks[g.s.stock].Bad {
		if !meets(r, b) {
			continue
		}
		x0, x1 := max(b.X, r.X), min(b.X+b.W, r.X+r.W)
		y0, y1 := max(b.Y, r.Y), min(b.Y+b.H, r.Y+r.H)
		for _, f := range []model.Rect{
			{X: x0, Y: r.Y, W: x1 - x0, H: y0 - r.Y},
			{X: x0, Y: y1, W: x1 - x0, H: r.Y + r.H - y1},
			{X: r.X, Y: r.Y, W: x0 - r.X, H: r.H},
			{X: x1, Y: r.Y, W: r.X + r.W - x1, H: r.H},
		} {
			if f.W > 0 && f.H > 0 {
				g.free = append(g.free, f)
			}
		}
		return
	}
}
