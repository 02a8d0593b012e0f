package blocks

import (
	"slices"

	"pinfold/pack/internal/model"
)

// shape is an item in one orientation; x and y are the indexes of its sides
// among the measures.
type shape struct {
	item   int32
	turned bool
	w, h   int32
	x, y   int32
}

// sheet is one stock with what may be cut from it.
type sheet struct {
	pr     *model.Problem
	stock  int
	w, h   int
	demand []int // copies that can matter: no more than fit
	shapes []shape
	ax, ay *measures
	vast   bool // too many measures even in the coarsest unit: there are no tables
}

// longest is how many measures an axis may have before they are told apart in a
// coarser unit whatever the sides.
const longest = 4_000_000

// newSheet keeps the items that fit the stock, their demands trimmed to the
// copies that fit a sheet of nothing else. If more rectangles than cells would
// be told apart, the measures are taken in a coarser unit.
func newSheet(pr *model.Problem, stock, cells int) *sheet {
	st := pr.Stocks[stock]
	s := &sheet{pr: pr, stock: stock, w: st.W, h: st.H, demand: make([]int, len(pr.Items))}
	for i, it := range pr.Items {
		fits := false
		for _, turned := range []bool{false, true} {
			if turned && (!it.Turn || it.W == it.H) {
				continue
			}
			w, h := it.Sides(turned)
			if w > st.W || h > st.H {
				continue
			}
			fits = true
			s.shapes = append(s.shapes, shape{item: int32(i), turned: turned, w: int32(w), h: int32(h)})
		}
		if fits {
			s.demand[i] = min(it.Demand, most(it, st))
			if s.demand[i] <= 0 {
				s.shapes = slices.DeleteFunc(s.shapes, func(q shape) bool { return q.item == int32(i) })
			}
		}
	}
	var ws, hs []int
	for _, q := range s.shapes {
		ws, hs = append(ws, int(q.w)), append(hs, int(q.h))
	}
	if len(s.shapes) == 0 {
		s.ax, s.ay = newMeasures(0, nil, 1), newMeasures(0, nil, 1)
		return s
	}
	// A side must not round down to nothing, which would repeat for ever.
	mostX, mostY := slices.Min(ws), slices.Min(hs)
	for unit := 1 + max(st.W, st.H)/longest; ; unit += 1 + unit/5 {
		ux, uy := min(unit, mostX), min(unit, mostY)
		if max(st.W/ux, st.H/uy) <= 4*longest {
			s.ax, s.ay = newMeasures(st.W, ws, ux), newMeasures(st.H, hs, uy)
			if s.cells() <= cells {
				break
			}
		}
		if ux == mostX && uy == mostY {
			s.vast = true
			s.ax, s.ay = newMeasures(0, nil, 1), newMeasures(0, nil, 1)
			return s
		}
	}
	for i := range s.shapes {
		q := &s.shapes[i]
		q.x, q.y = s.ax.index(int(q.w)), s.ay.index(int(q.h))
	}
	return s
}

// coarser returns the sheet with fewer rectangles told apart, or s itself if
// that cannot be.
func (s *sheet) coarser(cells int) *sheet {
	if s.cells() <= cells {
		return s
	}
	if c := newSheet(s.pr, s.stock, cells); !c.vast {
		return c
	}
	return s
}

// most bounds how many copies of an item fit the stock.
func most(it model.Item, st model.Stock) int {
	if !it.Turn || it.W == it.H {
		return (st.W / it.W) * (st.H / it.H)
	}
	return int(st.Area() / it.Area())
}

// cells is the number of rectangles told apart, those of no width or height
// included.
func (s *sheet) cells() int { return len(s.ax.pos) * len(s.ay.pos) }

// exact tells whether every measure is told apart.
func (s *sheet) exact() bool { return s.ax.unit == 1 && s.ay.unit == 1 }

// cell is the index of the largest rectangle told apart within w x h.
func (s *sheet) cell(w, h int) int {
	return int(s.ay.index(h))*len(s.ax.pos) + int(s.ax.index(w))
}

// measures are the lengths along one axis that unlimited copies of the sides
// can make, in a unit that is 1 unless there would be too many of them. In a
// coarser unit sides and sheet are rounded down; pieces that fit still fit
// then, so that what is computed remains an upper bound.
type measures struct {
	unit int
	pos  []int32 // ascending, from 0
	at   []int32 // at[w] is the index of the largest pos that is at most w
}

func newMeasures(length int, sides []int, unit int) *measures {
	m := &measures{unit: unit, at: make([]int32, length/unit+1)}
	sides = slices.Clone(sides)
	slices.Sort(sides)
	sides = slices.Compact(sides)
	made := make([]bool, len(m.at))
	made[0] = true
	for w := range m.at {
		for _, s := range sides {
			if s/unit > w {
				break
			}
			if made[w-s/unit] {
				made[w] = true
				break
			}
		}
		if made[w] {
			m.pos = append(m.pos, int32(w))
		}
		m.at[w] = int32(len(m.pos) - 1)
	}
	return m
}

func (m *measures) index(w int) int32 { return m.at[w/m.unit] }
