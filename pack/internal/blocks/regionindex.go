package blocks

import "pinfold/pack/internal/model"

// regionIndex numbers the regions that meet a bad area. Cuts make every region
// there is, so that the numbers can be given without following the cuts: for
// each pair of positions on an axis, in an order in which parts come before the
// wholes they are of.
type regionIndex struct {
	byX0 []fromX     // from x0 on
	rows [][]fromY   // of a pair of x0 and x1, from y0 on
	bad  []indexRect // of the bad areas
	list []region
}

// fromX is, for a position, the least position across a bad area, and the pair
// that the two are.
type fromX struct{ least, pair int32 }

// fromY is, for a position and a pair along x, the least position across a bad
// area, and the region the four are.
type fromY struct{ least, id int32 }

// indexRect is a bad area: a region meets it when its lower ends lie below the
// first and its upper ends above the last.
type indexRect struct{ beforeX, afterX, beforeY, afterY int32 }

// newRegionIndex returns nil if there are as many as limit regions.
func newRegionIndex(x, y []int32, bad []model.Rect, limit int) *regionIndex {
	g := &regionIndex{byX0: make([]fromX, len(x))}
	for _, b := range bad {
		var q indexRect
		q.beforeX, q.afterX = beside(x, b.X, b.X+b.W)
		q.beforeY, q.afterY = beside(y, b.Y, b.Y+b.H)
		g.bad = append(g.bad, q)
	}
	nx, ny := int32(len(x)), int32(len(y))
	for x0 := nx - 2; x0 >= 0; x0-- {
		least := nx
		for _, b := range g.bad {
			if x0 < b.beforeX {
				least = min(least, max(b.afterX, x0)+1)
			}
		}
		g.byX0[x0] = fromX{least, int32(len(g.rows))}
		for x1 := least; x1 < nx; x1++ {
			if !g.column(x0, x1, ny, limit) {
				return nil
			}
		}
	}
	return g
}

// beside is the index of the first position at or beyond to, and that of the
// last at or before from.
func beside(pos []int32, from, to int) (before, after int32) {
	before = int32(len(pos))
	for i, p := range pos {
		if int(p) <= from {
			after = int32(i)
		}
		if int(p) >= to {
			return int32(i), after
		}
	}
	return before, after
}

// column numbers the regions between two positions along x, and tells whether
// there are fewer than limit yet.
func (g *regionIndex) column(x0, x1, ny int32, limit int) bool {
	high := int32(0) // regions from here on are clear
	for _, b := range g.bad {
		if x0 < b.beforeX && x1 > b.afterX {
			high = max(high, b.beforeY)
		}
	}
	high = min(high, ny-1)
	row := make([]fromY, high)
	for y0 := high - 1; y0 >= 0; y0-- {
		least := ny
		for _, b := range g.bad {
			if x0 < b.beforeX && x1 > b.afterX && y0 < b.beforeY {
				least = min(least, max(b.afterY, y0)+1)
			}
		}
		row[y0] = fromY{least, int32(len(g.list))}
		if len(g.list)+int(ny-least) >= limit {
			return false
		}
		for y1 := least; y1 < ny; y1++ {
			g.list = append(g.list, region{x0, x1, y0, y1})
		}
	}
	g.rows = append(g.rows, row)
	return true
}

// find returns the number of a region, or false if it is clear of bad areas.
func (g *regionIndex) find(r region) (int32, bool) {
	c := g.byX0[r.x0]
	if r.x1 < c.least {
		return 0, false
	}
	row := g.rows[c.pair+r.x1-c.least]
	if int(r.y0) >= len(row) {
		return 0, false
	}
	f := row[r.y0]
	return f.id + r.y1 - f.least, r.y1 >= f.least
}
