// Package insert makes first layouts by inserting pieces one after another into
// what the earlier ones left, in the manner of the tree-insertion heuristics of
// Fleszar (Computers & Operations Research 40(1), 2013, 463-474).
//
// A sheet is kept as its leftover rectangles. A piece goes into the lower left
// corner of one of them, which is then cut along or across: the choice that
// keeps the leftovers largest wins (best fit). Critical fit takes next the size
// with the fewest places it could go to. When that takes too long, which on a long
// roll grows with the square of the pieces, the rest is laid on shelves (shelves.go).
//
// Start with [Together], or with [Repeated] where there are many copies, for each
// of the [Rules].
package insert

import (
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// Order says which size is tried first.
type Order uint8

// The orders; sizes that do not come first stay in the order of the problem.
const (
	ByArea Order = iota
	ByLongSide
	ByHeight
	ByWidth
	Orders // how many there are
)

// Rule is one way to insert.
type Rule struct {
	Order Order
	// Critical takes the size with the fewest places next instead of Order.
	Critical bool
	// First is the axis a sheet's leftovers are cut along when both ways leave
	// equally much.
	First model.Axis
}

// Rules are the rules worth trying for that many copies, the strongest on
// average first. Critical fit is for few.
func Rules(copies int) []Rule {
	var out []Rule
	for _, first := range []model.Axis{model.AxisY, model.AxisX} {
		if copies <= Many {
			out = append(out, Rule{Critical: true, First: first})
		}
		for o := range Orders {
			out = append(out, Rule{Order: o, First: first})
		}
	}
	return out
}

// sheet is one open sheet.
type sheet struct {
	stock  int
	stages int // the limit, 0 for none
	items  []model.Item
	free   []region // that some item fits
	spoilt int      // how many leftovers no item fits
	placed []model.Placed
}

// leftovers is how many there are, which is what work is counted by.
func (s *sheet) leftovers() int64 { return int64(len(s.free) + s.spoilt) }

// fitsAny tells whether any item fits a leftover. Those that none does would be
// looked at again for every piece of a large sheet.
func (s *sheet) fitsAny(r region) bool {
	return slices.ContainsFunc(s.items, func(it model.Item) bool {
		return it.Demand > 0 && (it.W <= r.W && it.H <= r.H || it.Turn && it.H <= r.W && it.W <= r.H)
	})
}

// region is a leftover. It came about by a cut of the given stage along axis; at
// stage 0 nothing was cut yet.
type region struct {
	model.Rect
	axis  model.Axis
	stage int
}

// next is the stage of a cut of the region along a.
func (r region) next(a model.Axis) int {
	if r.stage > 0 && a == r.axis {
		return r.stage
	}
	return r.stage + 1
}

func newSheet(pr *model.Problem, stock int) sheet {
	st := pr.Stocks[stock]
	s := sheet{stock: stock, stages: pr.Stages, items: pr.Items}
	s.clear(region{Rect: model.Rect{W: st.W, H: st.H}}, st.Bad)
	return s
}

// clear cuts a region into leftovers that meet no bad area, keeping the largest
// part it can at each cut.
func (s *sheet) clear(r region, bad []model.Rect) {
	if area(r.Rect) == 0 || s.stages > 0 && r.stage > s.stages {
		return
	}
	at := slices.IndexFunc(bad, func(b model.Rect) bool {
		return r.X < b.X+b.W && b.X < r.X+r.W && r.Y < b.Y+b.H && b.Y < r.Y+r.H
	})
	if at < 0 {
		s.free = append(s.free, r)
		return
	}
	b := bad[at]
	part := func(a model.Axis, x, y, w, h int) region {
		return region{model.Rect{X: x, Y: y, W: w, H: h}, a, r.next(a)}
	}
	right, top := r.X+r.W, r.Y+r.H
	cuts := [4][2]region{
		{part(model.AxisX, r.X, r.Y, b.X-r.X, r.H), part(model.AxisX, b.X, r.Y, right-b.X, r.H)},
		{part(model.AxisX, b.X+b.W, r.Y, right-b.X-b.W, r.H), part(model.AxisX, r.X, r.Y, b.X+b.W-r.X, r.H)},
		{part(model.AxisY, r.X, r.Y, r.W, b.Y-r.Y), part(model.AxisY, r.X, b.Y, r.W, top-b.Y)},
		{part(model.AxisY, r.X, b.Y+b.H, r.W, top-b.Y-b.H), part(model.AxisY, r.X, r.Y, r.W, b.Y+b.H-r.Y)},
	}
	best := 0
	for i, c := range cuts {
		if area(c[0].Rect) > area(cuts[best][0].Rect) {
			best = i
		}
	}
	if area(cuts[best][0].Rect) > 0 {
		s.clear(cuts[best][0], bad)
		s.clear(cuts[best][1], bad)
	}
}

func area(r model.Rect) int64 {
	if r.W <= 0 || r.H <= 0 {
		return 0
	}
	return int64(r.W) * int64(r.H)
}

// worth is area^1.25: one large leftover is worth more than two small ones.
func worth(r model.Rect) int64 {
	a := float64(area(r))
	return int64(a * math.Sqrt(math.Sqrt(a)))
}

// option is a place for a piece: which leftover, how it lies and which cut
// comes first.
type option struct {
	sheet, free int
	turned      bool
	axis        model.Axis
	cost        int64
}

// split is what is left of f once a w x h piece lies in its corner and the cut
// along axis comes first. ok is false when that takes too many stages; above the
// piece nothing is left where only its own trim is allowed.
func (s *sheet) split(f region, w, h int, axis model.Axis) (beside, above region, ok bool) {
	stage := f.stage
	first, second := f.W > w, f.H > h
	if axis == model.AxisY {
		first, second = second, first
	}
	if first {
		stage = f.next(axis)
	}
	if s.stages > 0 && stage > s.stages {
		return region{}, region{}, false
	}
	inner := region{axis: axis, stage: stage}
	if !first {
		inner = f
	}
	last := inner.next(1 - axis)
	beside = region{model.Rect{X: f.X + w, Y: f.Y, W: f.W - w, H: f.H}, model.AxisX, stage}
	above = region{model.Rect{X: f.X, Y: f.Y + h, W: w, H: f.H - h}, model.AxisY, last}
	trimmed := &above
	if axis == model.AxisY {
		beside.H, above.W = h, f.W
		beside.stage, above.stage = last, stage
		trimmed = &beside
	}
	if second && s.stages > 0 && last > s.stages {
		trimmed.Rect = model.Rect{}
	}
	return beside, above, true
}

// best returns the place for one copy of it in the sheet that loses least, and
// how many leftovers could take it.
func (s *sheet) best(it model.Item, first model.Axis) (o option, places int) {
	o.cost = math.MaxInt64
	for i, f := range s.free {
		fits := false
		for _, turned := range []bool{false, true} {
			w, h := it.Sides(turned)
			if turned && !it.Turn || w > f.W || h > f.H {
				continue
			}
			for _, axis := range []model.Axis{first, 1 - first} {
				beside, above, ok := s.split(f, w, h, axis)
				if !ok {
					continue
				}
				fits = true
				cost := worth(f.Rect) - worth(beside.Rect) - worth(above.Rect)
				if cost < o.cost {
					o = option{free: i, turned: turned, axis: axis, cost: cost}
				}
			}
		}
		if fits {
			places++
		}
	}
	return o, places
}

// insert puts a copy of item i, which is it, where o says.
func (s *sheet) insert(i int, it model.Item, o option) {
	f := s.free[o.free]
	w, h := it.Sides(o.turned)
	s.placed = append(s.placed, model.Placed{Item: int32(i), X: int32(f.X), Y: int32(f.Y), Turned: o.turned})
	beside, above, _ := s.split(f, w, h, o.axis)
	s.free = slices.Delete(s.free, o.free, o.free+1)
	for _, r := range []region{beside, above} {
		switch {
		case area(r.Rect) == 0:
		case s.fitsAny(r):
			s.free = append(s.free, r)
		default:
			s.spoilt++
		}
	}
}

// sequence returns the items with demand in the order of the rule.
func (r Rule) sequence(pr *model.Problem, demand []int) []int {
	var seq []int
	for i := range pr.Items {
		if demand[i] > 0 {
			seq = append(seq, i)
		}
	}
	key := func(i int) int64 {
		it := pr.Items[i]
		switch r.Order {
		case ByLongSide:
			return int64(max(it.W, it.H))
		case ByHeight:
			return int64(it.H)
		case ByWidth:
			return int64(it.W)
		}
		return it.Area()
	}
	slices.SortStableFunc(seq, func(a, b int) int {
		ka, kb := key(a), key(b)
		switch {
		case ka > kb:
			return -1
		case ka < kb:
			return 1
		}
		return 0
	})
	return seq
}
