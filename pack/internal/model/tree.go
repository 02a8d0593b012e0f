package model

import (
	"errors"
	"slices"
)

// Axis is the axis a cut divides.
type Axis uint8

// The axes: cuts that divide AxisX run along y and part their region side by
// side.
const (
	AxisX Axis = iota
	AxisY
)

// Tree is a region cut from edge to edge into parts, or a leaf that holds one
// piece, or nothing. Len are the extents of the parts along Axis; they add up
// to the region's.
type Tree struct {
	Axis  Axis
	Len   []int
	Parts []*Tree

	Leaf  bool
	Piece int // the index of the piece that fills the leaf, or None
}

// None as Tree.Piece marks a leaf that holds nothing.
const None = -1

// Empty tells whether the tree is a leaf that holds nothing.
func (t *Tree) Empty() bool { return t.Leaf && t.Piece == None }

// Errors of [Build].
var (
	ErrOutside = errors.New("a piece leaves the sheet")
	ErrOverlap = errors.New("pieces overlap, or no edge-to-edge cut parts them")
	ErrStages  = errors.New("more stages than allowed")
)

// Build derives the cut tree of a w x h sheet from the places of its pieces
// alone, as [Cut] does.
func Build(pr *Problem, w, h, stages int, placed []Placed) (*Tree, error) {
	boxes := make([]Rect, len(placed))
	for i, q := range placed {
		pw, ph := pr.Items[q.Item].Sides(q.Turned)
		boxes[i] = Rect{int(q.X), int(q.Y), pw, ph}
	}
	return Cut(w, h, stages, 0, boxes, true)
}

// Cut derives a cut tree of a w x h sheet that frees every box. Making every
// possible cut is never wrong: what is left in each part stays cuttable if the
// whole was. So little is left to choose: which free margin is cut off first and
// along which axis the rest is cut first. The choice is for the larger single
// leftover, then for fewer stages. stages > 0 limits the stages, a last trim of
// a single piece being free. Sheet and boxes include the kerf; a gap between
// boxes that is narrower than the kerf is no part of its own, since the cut
// before it destroys it: it belongs to the part before it if the boxes are fixed
// where they lie, else what follows moves up to close it. Before the first box of a
// region there is no such part, and a fixed box moves up as well, by less than the
// kerf: whoever fixes boxes keeps them a kerf behind what they must not lie on.
func Cut(w, h, stages, kerf int, rects []Rect, fixed bool) (*Tree, error) {
	c := cutter{kerf: kerf, fixed: fixed}
	boxes := make([]box, len(rects))
	right, top := 0, 0
	for i, r := range rects {
		if r.X < 0 || r.Y < 0 || r.X+r.W > w || r.Y+r.H > h {
			return nil, ErrOutside
		}
		boxes[i] = box{r.X, r.Y, r.X + r.W, r.Y + r.H, i}
		right, top = max(right, r.X+r.W), max(top, r.Y+r.H)
	}
	var best *Tree
	var bestLeft int64
	bestStages, cuttable := 0, false
	for _, way := range ways {
		t, n, ok := c.cut(way, boxes, w, h, right, top)
		if !ok {
			continue
		}
		cuttable = true
		if stages > 0 && n > stages {
			continue
		}
		left := t.largestEmpty(w, h)
		if best == nil || left > bestLeft || left == bestLeft && n < bestStages {
			best, bestStages, bestLeft = t, n, left
		}
	}
	switch {
	case !cuttable:
		return nil, ErrOverlap
	case best == nil:
		return nil, ErrStages
	}
	return best, nil
}

type cutter struct {
	kerf  int
	fixed bool
	idle  bool // nothing was cut along the other axis
}

// way is an order of the first cuts: the margins cut off first, then the axis.
type way struct {
	margins []Axis
	axis    Axis
}

var ways = []way{
	{nil, AxisY}, {nil, AxisX},
	{[]Axis{AxisX}, AxisY}, {[]Axis{AxisY}, AxisX},
	{[]Axis{AxisX, AxisY}, AxisX}, {[]Axis{AxisY, AxisX}, AxisY},
}

// cut cuts off the free margins at right and top in the way's order, then the
// rest.
func (c cutter) cut(wy way, boxes []box, w, h, right, top int) (t *Tree, stages int, ok bool) {
	hole := &Tree{}
	t, at := hole, &hole
	for _, a := range wy.margins {
		keep, rest := &right, w-right
		if a == AxisY {
			keep, rest = &top, h-top
		}
		if rest == 0 || *keep == 0 {
			return nil, 0, false
		}
		inner := &Tree{}
		**at = Tree{Axis: a, Len: []int{*keep, rest}, Parts: []*Tree{inner, {Leaf: true, Piece: None}}}
		at = &inner
		if a == AxisX {
			w = right
		} else {
			h = top
		}
	}
	rest, n, ok := c.build(boxes, 0, 0, w, h, wy.axis)
	if !ok {
		return nil, 0, false
	}
	**at = *rest
	return t, n + len(wy.margins), true
}

type box struct {
	x0, y0, x1, y1 int
	piece          int
}

func (b box) span(a Axis) (from, to int) {
	if a == AxisX {
		return b.x0, b.x1
	}
	return b.y0, b.y1
}

// build cuts the region along axis wherever no box is crossed, then the parts
// along the other axis. It reports the stages used: an idle direction is
// skipped, and the last trim of a single piece is free.
func (c cutter) build(boxes []box, x0, y0, x1, y1 int, axis Axis) (t *Tree, stages int, ok bool) {
	if len(boxes) == 0 {
		return &Tree{Leaf: true, Piece: None}, 0, true
	}
	if len(boxes) == 1 {
		t, cuts := c.trim(boxes[0], x0, y0, x1, y1, axis)
		return t, max(0, cuts-1), true
	}
	lo, hi := x0, x1
	if axis == AxisY {
		lo, hi = y0, y1
	}
	sorted := slices.Clone(boxes)
	slices.SortStableFunc(sorted, func(a, b box) int {
		af, _ := a.span(axis)
		bf, _ := b.span(axis)
		return af - bf
	})
	t = &Tree{Axis: axis}
	at, closed := lo, 0
	emit := func(to int, group []box) bool {
		gx0, gy0, gx1, gy1 := at, y0, to, y1
		if axis == AxisY {
			gx0, gy0, gx1, gy1 = x0, at, x1, to
		}
		// A group that fills the region cannot be cut along axis again.
		if len(group) == len(boxes) && at == lo && to == hi {
			return false
		}
		sub, n, ok := cutter{kerf: c.kerf, fixed: c.fixed}.build(group, gx0, gy0, gx1, gy1, 1-axis)
		if !ok {
			return false
		}
		stages = max(stages, n)
		t.Len = append(t.Len, to-at)
		t.Parts = append(t.Parts, sub)
		at = to
		return true
	}
	for i := 0; i < len(sorted); {
		from, end := sorted[i].span(axis)
		j := i + 1
		for j < len(sorted) {
			f, e := sorted[j].span(axis)
			if f >= end {
				break
			}
			end = max(end, e)
			j++
		}
		switch {
		case from > at && from-at < c.kerf && !c.fixed:
			closed, at = closed+from-at, from
		case from > at && from-at < c.kerf:
			// Left to those in the group who are that near.
			if end == hi && j == len(sorted) {
				return c.across(boxes, x0, y0, x1, y1, axis)
			}
		case from > at && !emit(from, nil):
			return nil, 0, false
		}
		if j < len(sorted) {
			if next, _ := sorted[j].span(axis); next-end < c.kerf && c.fixed {
				end = next
			}
		}
		if !emit(end, sorted[i:j]) {
			return nil, 0, false
		}
		i = j
	}
	at -= closed
	if at < hi && !emit(hi, nil) {
		return nil, 0, false
	}
	if len(t.Parts) == 1 {
		return nil, 0, false
	}
	return t, stages + 1, true
}

// across cuts a region that cannot be cut along axis along the other one, unless
// that leads back here.
func (c cutter) across(boxes []box, x0, y0, x1, y1 int, axis Axis) (t *Tree, stages int, ok bool) {
	if c.idle {
		return nil, 0, false
	}
	c.idle = true
	return c.build(boxes, x0, y0, x1, y1, 1-axis)
}

// trim frees the single piece of a region, along axis first.
func (c cutter) trim(b box, x0, y0, x1, y1 int, axis Axis) (*Tree, int) {
	leaf := &Tree{Leaf: true, Piece: b.piece}
	lo, hi := [2]int{x0, y0}, [2]int{x1, y1}
	from, to := [2]int{b.x0, b.y0}, [2]int{b.x1, b.y1}
	for a, gap := range []int{b.x0 - x0, b.y0 - y0} {
		if gap > 0 && gap < c.kerf {
			from[a], to[a] = lo[a], to[a]-gap
		}
	}
	cuts := 0
	wrap := func(inner *Tree, a Axis) *Tree {
		t := &Tree{Axis: a}
		if from[a] > lo[a] {
			t.Len, t.Parts = append(t.Len, from[a]-lo[a]), append(t.Parts, &Tree{Leaf: true, Piece: None})
		}
		t.Len, t.Parts = append(t.Len, to[a]-from[a]), append(t.Parts, inner)
		if hi[a] > to[a] {
			t.Len, t.Parts = append(t.Len, hi[a]-to[a]), append(t.Parts, &Tree{Leaf: true, Piece: None})
		}
		if len(t.Parts) == 1 {
			return inner
		}
		cuts++
		return t
	}
	return wrap(wrap(leaf, 1-axis), axis), cuts
}

func (t *Tree) largestEmpty(w, h int) int64 {
	if t.Empty() {
		return int64(w) * int64(h)
	}
	var best int64
	for i, p := range t.Parts {
		if t.Axis == AxisX {
			best = max(best, p.largestEmpty(t.Len[i], h))
		} else {
			best = max(best, p.largestEmpty(w, t.Len[i]))
		}
	}
	return best
}
