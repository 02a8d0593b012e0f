package dp

import (
	"cmp"
	"slices"

	"pinfold/pack/internal/model"
)

// clearings returns the rectangles clear of bad areas that cannot be made larger
// on any side, of a w x h sheet.
func clearings(w, h int, bad []model.Rect) (out []model.Rect) {
	bad = slices.Clone(bad)
	slices.SortStableFunc(bad, func(a, b model.Rect) int { return cmp.Compare(a.Y, b.Y) })
	lefts, rights := []int{0}, []int{w}
	for _, b := range bad {
		if b.X+b.W < w {
			lefts = append(lefts, max(b.X+b.W, 0))
		}
		if b.X > 0 {
			rights = append(rights, min(b.X, w))
		}
	}
	for _, list := range []*[]int{&lefts, &rights} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	// shut tells whether something ends a rectangle on its left or right.
	shut := func(r model.Rect) (left, right bool) {
		left, right = r.X == 0, r.X+r.W == w
		for _, b := range bad {
			if b.Y < r.Y+r.H && r.Y < b.Y+b.H {
				left = left || b.X+b.W == r.X
				right = right || b.X == r.X+r.W
			}
		}
		return left, right
	}
	for _, x0 := range lefts {
		for _, x1 := range rights {
			if x1 <= x0 {
				continue
			}
			y := 0
			gap := func(to int) {
				r := model.Rect{X: x0, Y: y, W: x1 - x0, H: to - y}
				if r.H <= 0 {
					return
				}
				if left, right := shut(r); left && right {
					out = append(out, r)
				}
			}
			for _, b := range bad {
				if b.X < x1 && x0 < b.X+b.W {
					gap(min(b.Y, h))
					y = max(y, b.Y+b.H)
				}
			}
			gap(h)
		}
	}
	return out
}

// clipX returns the parts of the rectangles between x0 and x1 that are no part of
// another; those in which nothing fits are left out.
func clipX(rooms []model.Rect, x0, x1 int, low []int, into []model.Rect) []model.Rect {
	into = into[:0]
	for _, r := range rooms {
		from, to := max(r.X, x0), min(r.X+r.W, x1)
		if to > from && r.H >= low[to-from] {
			into = keepRoom(into, model.Rect{X: from, Y: r.Y, W: to - from, H: r.H}, true)
		}
	}
	return into
}

// clipY appends the sizes of the parts between y0 and y1 that are not smaller than
// another, each with a place.
func clipY(rooms []model.Rect, y0, y1 int, low []int, into []model.Rect) []model.Rect {
	start := len(into)
	for _, r := range rooms {
		from, to := max(r.Y, y0), min(r.Y+r.H, y1)
		if to-from >= low[r.W] {
			kept := keepRoom(into[start:], model.Rect{X: r.X, Y: from, W: r.W, H: to - from}, false)
			into = append(into[:start], kept...)
		}
	}
	return into
}

// keepRoom adds r to the list unless one there is as large both ways, and drops
// those that are no larger; in place, only where one is part of the other.
func keepRoom(list []model.Rect, r model.Rect, inPlace bool) []model.Rect {
	covers := func(a, b model.Rect) bool {
		if !inPlace {
			return b.W <= a.W && b.H <= a.H
		}
		return a.X <= b.X && b.X+b.W <= a.X+a.W && a.Y <= b.Y && b.Y+b.H <= a.Y+a.H
	}
	for _, q := range list {
		if covers(q, r) {
			return list
		}
	}
	n := 0
	for _, q := range list {
		if !covers(r, q) {
			list[n] = q
			n++
		}
	}
	return append(list[:n], r)
}

// Holds tells whether one copy of an item fits the stock, clear of bad areas.
func Holds(st model.Stock, it model.Item) bool {
	for _, r := range clearings(st.W, st.H, st.Bad) {
		if it.Fits(r.W, r.H) {
			return true
		}
	}
	return false
}
