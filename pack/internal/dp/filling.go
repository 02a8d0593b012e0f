package dp

import "pinfold/pack/internal/model"

// Pattern returns a filling of a w x h sheet worth Value(w, h), its pieces in
// the sheet's coordinates.
func (t *Table) Pattern(w, h int) []model.Placed {
	r := recovery{Table: t}
	r.sheet(model.Rect{W: w, H: h})
	return r.placed
}

// Capped returns a filling that takes at most left[k] copies of item k: the
// best one with surplus copies left out and the rectangles so freed filled
// again by the copies that remain, largest value first. left is not changed.
func (t *Table) Capped(w, h int, left []int) []model.Placed {
	r := recovery{Table: t, left: append([]int(nil), left...)}
	r.sheet(model.Rect{W: w, H: h})
	r.refillAll()
	return r.placed
}

// recovery writes down one filling.
type recovery struct {
	*Table
	left   []int // copies still wanted; nil for no limit
	placed []model.Placed
	free   []hole
}

// hole is a rectangle left free. Cuts of it begin along axis and take at most
// the given stages; -1 is no limit.
type hole struct {
	model.Rect
	stages int
	axis   model.Axis
}

func (r *recovery) sheet(sheet model.Rect) {
	i, j := int(r.px[sheet.W]), int(r.py[sheet.H])
	l := r.top(i, j)
	if !r.rectangle(l, i, j, sheet) {
		r.leave(l, sheet)
	}
}

func (r *recovery) leave(l level, at model.Rect) {
	if l.stage != 0 && at.W > 0 && at.H > 0 {
		r.free = append(r.free, hole{at, l.stage, l.axis()})
	}
}

// rectangle fills the region at with the content of (i, j), which is no larger.
// It tells whether anything was placed; if not, nothing is noted free.
func (r *recovery) rectangle(l level, i, j int, at model.Rect) bool {
	outer := l
	for {
		s := r.split(l, i, j)
		switch s.kind {
		case nothing:
			return false
		case shrunk:
			i = int(s.part)
		case sunk:
			j = int(s.part)
		case inner:
			l.stage--
		case leaf:
			shape := r.shapes[s.shape]
			if r.left != nil && r.left[shape.item] == 0 {
				return false
			}
			r.place(shape, hole{at, outer.stage, outer.axis()})
			return true
		case cutX:
			return r.run(l, model.AxisX, i, j, at)
		case cutY:
			return r.run(l, model.AxisY, i, j, at)
		}
	}
}

// place puts a piece into the corner of a hole and notes what stays free.
func (r *recovery) place(s shape, h hole) {
	if r.left != nil {
		r.left[s.item]--
	}
	r.placed = append(r.placed, model.Placed{Item: s.item, X: int32(h.X), Y: int32(h.Y), Turned: s.turned})
	dw, dh := h.W-s.w, h.H-s.h
	if h.stages < 0 {
		// Keep the larger of the two ways' larger leftovers whole.
		h.axis = model.AxisY
		if max(dw*h.H, s.w*dh) > max(h.W*dh, dw*s.h) {
			h.axis = model.AxisX
		}
	}
	end, above := h, h
	if above.stages > 0 {
		above.stages--
	}
	above.axis = 1 - h.axis
	if h.axis == model.AxisX {
		end.X, end.W = h.X+s.w, dw
		above.Y, above.W, above.H = h.Y+s.h, s.w, dh
	} else {
		end.Y, end.H = h.Y+s.h, dh
		above.X, above.W, above.H = h.X+s.w, dw, s.h
	}
	for _, f := range [2]hole{above, end} {
		if f.stages != 0 && f.W > 0 && f.H > 0 {
			r.free = append(r.free, f)
		}
	}
}

// run fills the parts of one run of cuts along axis. Parts that stay empty take
// no room, so that what they leave gathers at the end.
func (r *recovery) run(l level, axis model.Axis, i, j int, at model.Rect) bool {
	cut := cutX
	if axis == model.AxisY {
		cut = cutY
	}
	placed := false
	for last := false; !last; {
		s := r.split(l, i, j)
		pi, pj, part := i, j, l
		switch {
		case s.kind == shrunk:
			i = int(s.part)
			continue
		case s.kind == sunk:
			j = int(s.part)
			continue
		case s.kind != cut:
			last = true
		case axis == model.AxisX:
			pi = int(s.part)
			i = int(r.px[r.x[i]-r.x[pi]])
		default:
			pj = int(s.part)
			j = int(r.py[r.y[j]-r.y[pj]])
		}
		if !last && part.stage > 0 {
			part.stage--
		}
		sub, rest := at, at
		if axis == model.AxisX {
			sub.W = r.x[pi]
			rest.X, rest.W = at.X+sub.W, at.W-sub.W
		} else {
			sub.H = r.y[pj]
			rest.Y, rest.H = at.Y+sub.H, at.H-sub.H
		}
		mark := len(r.free)
		if r.rectangle(part, pi, pj, sub) {
			placed, at = true, rest
		} else {
			r.free = r.free[:mark]
		}
	}
	if placed {
		r.leave(l, at)
	}
	return placed
}

// refillAll fills what is free, the last noted first.
func (r *recovery) refillAll() {
	for len(r.free) > 0 {
		h := r.free[len(r.free)-1]
		r.free = r.free[:len(r.free)-1]
		r.refill(h)
	}
}

// refill puts the most valuable copy that is left into a hole.
func (r *recovery) refill(h hole) {
	best, worth := -1, int64(-1)
	for k, s := range r.shapes {
		if r.left[s.item] > 0 && s.w <= h.W && s.h <= h.H && r.value[s.item] > worth {
			best, worth = k, r.value[s.item]
		}
	}
	if best >= 0 {
		r.place(r.shapes[best], h)
	}
}
