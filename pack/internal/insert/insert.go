// Package insert makes first layouts by inserting pieces one after another into
// what the earlier ones left, in the manner of the tree-insertion heuristics of
// Fleszar (Computers & Operations Research 40(1), 2013, 463-474).
//
// A sheet is kept as its leftover rectangles. A piece goes into the lower left
// corner of one of them, which is then cut along or across: the choice that
// keeps the leftovers largest wins (best fit). Critical fit takes next the size
// with the fewest places it could go to.
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

// Rules are all rules, the strongest on average first.
func Rules() []Rule {
	var out []Rule
	for _, first := range []model.Axis{model.AxisY, model.AxisX} {
		out = append(out, Rule{Critical: true, First: first})
		for o := range Orders {
			out = append(out, Rule{Order: o, First: first})
		}
	}
	return out
}

// sheet is one open sheet.
type sheet struct {
	stock  int
	free   []model.Rect
	placed []model.Placed
}

func newSheet(pr *model.Problem, stock int) sheet {
	st := pr.Stocks[stock]
	return sheet{stock: stock, free: clear(model.Rect{W: st.W, H: st.H}, st.Bad)}
}

// clear cuts a rectangle into parts that meet no bad area, keeping the largest
// part it can at each cut.
func clear(r model.Rect, bad []model.Rect) []model.Rect {
	if r.W <= 0 || r.H <= 0 {
		return nil
	}
	at := slices.IndexFunc(bad, func(b model.Rect) bool {
		return r.X < b.X+b.W && b.X < r.X+r.W && r.Y < b.Y+b.H && b.Y < r.Y+r.H
	})
	if at < 0 {
		return []model.Rect{r}
	}
	b := bad[at]
	sides := [4]model.Rect{
		{X: r.X, Y: r.Y, W: b.X - r.X, H: r.H},
		{X: b.X + b.W, Y: r.Y, W: r.X + r.W - b.X - b.W, H: r.H},
		{X: r.X, Y: r.Y, W: r.W, H: b.Y - r.Y},
		{X: r.X, Y: b.Y + b.H, W: r.W, H: r.Y + r.H - b.Y - b.H},
	}
	best := 0
	for i, s := range sides {
		if area(s) > area(sides[best]) {
			best = i
		}
	}
	rest := r
	switch best {
	case 0:
		rest.W, rest.X = r.X+r.W-b.X, b.X
	case 1:
		rest.W = b.X + b.W - r.X
	case 2:
		rest.H, rest.Y = r.Y+r.H-b.Y, b.Y
	case 3:
		rest.H = b.Y + b.H - r.Y
	}
	return append(clear(sides[best], bad), clear(rest, bad)...)
}

func area(r model.Rect) int64 {
	if r.W <= 0 || r.H <= 0 {
		return 0
	}
	return int64(r.W) * int64(r.H)
}

// worth is area^1.25: one large leftover is worth more than two small ones.
func worth(w, h int) int64 {
	a := float64(int64(w) * int64(h))
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
			fits = true
			for _, axis := range []model.Axis{first, 1 - first} {
				cost := worth(f.W, f.H)
				if axis == model.AxisX {
					cost -= worth(f.W-w, f.H) + worth(w, f.H-h)
				} else {
					cost -= worth(f.W, f.H-h) + worth(f.W-w, h)
				}
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
	beside := model.Rect{X: f.X + w, Y: f.Y, W: f.W - w, H: f.H}
	above := model.Rect{X: f.X, Y: f.Y + h, W: w, H: f.H - h}
	if o.axis == model.AxisY {
		beside.H, above.W = h, f.W
	}
	s.free = slices.Delete(s.free, o.free, o.free+1)
	for _, r := range []model.Rect{beside, above} {
		if area(r) > 0 {
			s.free = append(s.free, r)
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
