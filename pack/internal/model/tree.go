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

	Piece *Placed // leaf with a piece of exactly the region's size
}

// Empty tells whether the tree is a leaf that holds nothing.
func (t *Tree) Empty() bool { return t.Piece == nil && len(t.Parts) == 0 }

// Errors of [Build].
var (
	ErrOutside = errors.New("a piece leaves the sheet")
	ErrOverlap = errors.New("pieces overlap, or no edge-to-edge cut parts them")
	ErrStages  = errors.New("more stages than allowed")
)

// Build derives a cut tree of a w x h sheet from the places of its pieces alone.
// Making every possible cut is never wrong: what is left in each part stays
// cuttable if the whole was, so the result depends on nothing but the first
// direction, which is chosen for fewer stages, then for the larger single
// leftover. stages > 0 limits the depth, a last trim of a single piece being
// free.
func Build(pr *Problem, w, h, stages int, placed []Placed) (*Tree, error) {
	boxes := make([]box, len(placed))
	for i := range placed {
		pw, ph := pr.Items[placed[i].Item].Sides(placed[i].Turned)
		x, y := int(placed[i].X), int(placed[i].Y)
		if x < 0 || y < 0 || x+pw > w || y+ph > h {
			return nil, ErrOutside
		}
		boxes[i] = box{x, y, x + pw, y + ph, &placed[i]}
	}
	var best *Tree
	bestStages, bestLeft := 0, int64(-1)
	for _, axis := range []Axis{AxisX, AxisY} {
		t, n, ok := build(boxes, 0, 0, w, h, axis)
		if !ok {
			continue
		}
		left := t.largestEmpty(w, h)
		if best == nil || n < bestStages || n == bestStages && left > bestLeft {
			best, bestStages, bestLeft = t, n, left
		}
	}
	switch {
	case best == nil:
		return nil, ErrOverlap
	case stages > 0 && bestStages > stages:
		return nil, ErrStages
	}
	return best, nil
}

type box struct {
	x0, y0, x1, y1 int
	piece          *Placed
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
func build(boxes []box, x0, y0, x1, y1 int, axis Axis) (t *Tree, stages int, ok bool) {
	if len(boxes) == 0 {
		return &Tree{}, 0, true
	}
	if len(boxes) == 1 {
		t, cuts := trim(boxes[0], x0, y0, x1, y1, axis)
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
	at := lo
	emit := func(to int, group []box) bool {
		gx0, gy0, gx1, gy1 := at, y0, to, y1
		if axis == AxisY {
			gx0, gy0, gx1, gy1 = x0, at, x1, to
		}
		// A group that fills the region cannot be cut along axis again.
		if len(group) == len(boxes) && at == lo && to == hi {
			return false
		}
		sub, n, ok := build(group, gx0, gy0, gx1, gy1, 1-axis)
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
		if from > at && !emit(from, nil) || !emit(end, sorted[i:j]) {
			return nil, 0, false
		}
		i = j
	}
	if at < hi && !emit(hi, nil) {
		return nil, 0, false
	}
	if len(t.Parts) == 1 {
		return nil, 0, false
	}
	return t, stages + 1, true
}

// trim frees the single piece of a region, along axis first.
func trim(b box, x0, y0, x1, y1 int, axis Axis) (*Tree, int) {
	leaf := &Tree{Piece: b.piece}
	lo, hi := [2]int{x0, y0}, [2]int{x1, y1}
	from, to := [2]int{b.x0, b.y0}, [2]int{b.x1, b.y1}
	cuts := 0
	wrap := func(inner *Tree, a Axis) *Tree {
		t := &Tree{Axis: a}
		if from[a] > lo[a] {
			t.Len, t.Parts = append(t.Len, from[a]-lo[a]), append(t.Parts, &Tree{})
		}
		t.Len, t.Parts = append(t.Len, to[a]-from[a]), append(t.Parts, inner)
		if hi[a] > to[a] {
			t.Len, t.Parts = append(t.Len, hi[a]-to[a]), append(t.Parts, &Tree{})
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
