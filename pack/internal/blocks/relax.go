package blocks

import (
	"slices"

	"pinfold/pack/internal/model"
)

// relax is the best filling of every rectangle by unlimited copies: the forward
// form of Gilmore and Gomory's recursion. Only rectangles whose value exceeds
// that of every smaller one are combined, and one of the two parts is never
// itself a combination along the same axis (Russo, Sforza & Sterle 2014).
type relax struct {
	s     *sheet
	value []int64 // of one copy, by item; items worth nothing or less are left out

	best []int64 // by cell
	how  []int32 // by cell: what reached best last
	// rows[y] are the widths of the rectangles as high as y that are more than
	// narrower ones side by side; cols[x] the heights likewise.
	rows, cols [][]int32
	tall       [][]int32 // of cols[x], those worth more than any narrower rectangle

	shapes []shape // by row, then column
	next   int     // first shape not reached
	y      int     // next row
	high   []int32 // of the present row
	rowHow []int32
	// rowPart and last hold the largest part that was added last, side by side
	// and upwards, to reach what the rectangle holds so far. A combination grows
	// only by parts no larger, so that each is made in one order.
	rowPart, rowLast []int32
	last             []int32 // by cell
	rowVal           []int64
	work             int64
}

// What relax.how holds: nothing (the value is a neighbour's), a shape, a row
// combined from a first part of a width, a column from one of a height.
const (
	howNone  = int32(0)
	howShape = int32(1)
	howRow   = int32(1) << 29
	howCol   = int32(1) << 30
)

func newRelax(s *sheet) *relax {
	r := &relax{s: s}
	n := s.cells()
	nx, ny := len(s.ax.pos), len(s.ay.pos)
	r.best, r.how = make([]int64, n), make([]int32, n)
	r.rows, r.cols, r.tall = make([][]int32, ny), make([][]int32, nx), make([][]int32, nx)
	r.rowVal, r.rowHow = make([]int64, nx), make([]int32, nx)
	r.rowPart, r.rowLast, r.last = make([]int32, nx), make([]int32, nx), make([]int32, n)
	r.shapes = slices.Clone(s.shapes)
	slices.SortStableFunc(r.shapes, func(a, b shape) int {
		if a.y != b.y {
			return int(a.y - b.y)
		}
		return int(a.x - b.x)
	})
	return r
}

// start makes the table empty for new values.
func (r *relax) start(value []int64) {
	r.value = value
	clear(r.best)
	clear(r.how)
	clear(r.last)
	for x := range r.rowLast {
		r.rowLast[x] = int32(x)
	}
	for y := range r.rows {
		r.rows[y] = r.rows[y][:0]
	}
	for x := range r.cols {
		r.cols[x], r.tall[x] = r.cols[x][:0], r.tall[x][:0]
	}
	r.next, r.y, r.work = 0, 1, 0
}

// run computes rows for about the given number of steps and tells whether the
// table is complete.
func (r *relax) run(steps int64) bool {
	for end := r.work + steps; r.y < len(r.s.ay.pos); r.y++ {
		if r.work >= end {
			return false
		}
		r.row(r.y)
	}
	return true
}

// row computes the rectangles as high as y. A value that a lower rectangle of
// the same width has as well is combined the same way as there; so is, in its
// column, one that a narrower rectangle has.
func (r *relax) row(y int) {
	ax, ay := r.s.ax, r.s.ay
	nx := len(ax.pos)
	base := y * nx
	cur, below := r.best[base:base+nx], r.best[base-nx:base]
	how, last := r.how[base:base+nx], r.last[base:base+nx]
	clear(r.rowVal)
	prims := r.rows[y]
	high := r.high[:0] // of prims, those worth more than any lower rectangle
	width, height := ax.pos[nx-1], ay.pos[len(ay.pos)-1]
	for x := 1; x < nx; x++ {
		stacked, beside := cur[x], r.rowVal[x]
		v, h := stacked, how[x]
		if beside > v {
			v, h = beside, r.rowHow[x]
		}
		for r.next < len(r.shapes) && int(r.shapes[r.next].y) == y && int(r.shapes[r.next].x) == x {
			if w := r.value[r.shapes[r.next].item]; w > v {
				v, h = w, howShape+int32(r.next)
			}
			r.next++
		}
		left, low := cur[x-1], below[x]
		if m := max(left, low); m >= v {
			v, h = m, howNone
		}
		cur[x], how[x] = v, h
		wide, tall := v > left, v > low
		// The largest part to be added beside and above: the last one added, or
		// the rectangle itself if it is no combination.
		switch {
		case v == beside:
			r.rowLast[x] = r.rowPart[x]
		case tall:
			r.rowLast[x] = int32(x)
		}
		switch {
		case v == stacked:
		case wide:
			last[x] = int32(y)
		default:
			last[x] = last[x-1]
		}
		if wide {
			if r.rowLast[x] == int32(x) {
				prims = append(prims, int32(x))
				if tall {
					high = append(high, int32(x))
				}
			}
			parts := high
			if tall {
				parts = prims
			}
			room := min(width-ax.pos[x], ax.pos[r.rowLast[x]])
			for _, p := range parts {
				if ax.pos[p] > room {
					break
				}
				t := ax.at[ax.pos[x]+ax.pos[p]]
				if w := v + cur[p]; w > r.rowVal[t] {
					r.rowVal[t], r.rowHow[t], r.rowPart[t] = w, howRow+p, p
				} else if w == r.rowVal[t] && p > r.rowPart[t] {
					r.rowPart[t] = p
				}
				r.work++
			}
		}
		if tall {
			if last[x] == int32(y) {
				r.cols[x] = append(r.cols[x], int32(y))
				if wide {
					r.tall[x] = append(r.tall[x], int32(y))
				}
			}
			parts := r.tall[x]
			if wide {
				parts = r.cols[x]
			}
			room := min(height-ay.pos[y], ay.pos[last[x]])
			for _, p := range parts {
				if ay.pos[p] > room {
					break
				}
				t := int(ay.at[ay.pos[y]+ay.pos[p]])*nx + x
				if w := v + r.best[int(p)*nx+x]; w > r.best[t] {
					r.best[t], r.how[t], r.last[t] = w, howCol+p, p
				} else if w == r.best[t] && p > r.last[t] {
					r.last[t] = p
				}
				r.work++
			}
		}
	}
	r.rows[y], r.high = prims, high
	r.work += int64(nx) * 4
}

func (r *relax) steps() int64 { return r.work }

// total is the value of the sheet.
func (r *relax) total() int64 { return r.best[len(r.best)-1] }

// at is the value of a w x h rectangle.
func (r *relax) at(w, h int) int64 { return r.best[r.s.cell(w, h)] }

// exact tells whether the relaxation knows every measure, so that its fillings
// fit.
func (r *relax) exact() bool { return r.s.exact() }

// pattern returns a filling of the whole sheet worth best, in the sheet's
// measures.
func (r *relax) pattern() []model.Placed { return r.filling(r.s.w, r.s.h, 0, 0) }

// filling returns a filling of a w x h rectangle whose corner lies at (px, py).
func (r *relax) filling(w, h int, px, py int32) []model.Placed {
	s := r.s
	var placed []model.Placed
	nx := len(s.ax.pos)
	type part struct{ x, y, px, py int32 }
	todo := []part{{s.ax.index(w), s.ay.index(h), px, py}}
	for len(todo) > 0 {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		c := int(t.y)*nx + int(t.x)
		v := r.best[c]
		if v == 0 {
			continue
		}
		switch h := r.how[c]; {
		case h == howNone && r.best[c-1] == v:
			todo = append(todo, part{t.x - 1, t.y, t.px, t.py})
		case h == howNone:
			todo = append(todo, part{t.x, t.y - 1, t.px, t.py})
		case h >= howCol:
			p := h - howCol
			first := s.ay.pos[p]
			todo = append(todo, part{t.x, s.ay.at[s.ay.pos[t.y]-first], t.px, t.py + first}, part{t.x, p, t.px, t.py})
		case h >= howRow:
			p := h - howRow
			first := s.ax.pos[p]
			todo = append(todo, part{s.ax.at[s.ax.pos[t.x]-first], t.y, t.px + first, t.py}, part{p, t.y, t.px, t.py})
		default:
			q := r.shapes[h-howShape]
			placed = append(placed, model.Placed{Item: q.item, X: t.px, Y: t.py, Turned: q.turned})
		}
	}
	return placed
}
