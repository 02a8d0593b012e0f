package dp

import (
	"pinfold/pack/internal/model"
)

// Size is the size of a sheet.
type Size struct{ W, H int }

// shape is an item in one orientation; i and j are the indexes of its sides
// among the positions.
type shape struct {
	item   int32
	turned bool
	w, h   int
	i, j   int32
}

// grid is what every table of a set of items and sheets shares: the cut
// positions of both axes and the shapes.
type grid struct {
	x, y   []int   // ascending sums of sides, from 0
	px, py []int32 // px[w] is the index of the greatest x that is at most w
	wide   []int32 // wide[j] columns of row j lie within some sheet; never grows with j
	shapes []shape // that fit some sheet, sorted by j
	of     []int   // shapes of row j are shapes[of[j]:of[j+1]]

	rx, ry reach // kept for the next build
	sorted []shape
	next   []int
}

func newGrid(items []model.Item, sheets []Size) *grid {
	g := &grid{}
	g.build(items, sheets)
	return g
}

// build collects the positions. A layout within the items' demands can be
// pushed left and down until every cut lies at a sum of item sides, no item
// occurring more often than demanded.
func (g *grid) build(items []model.Item, sheets []Size) {
	fits := func(w, h int) bool {
		for _, s := range sheets {
			if w <= s.W && h <= s.H {
				return true
			}
		}
		return false
	}
	var mw, mh int
	for _, s := range sheets {
		mw, mh = max(mw, s.W), max(mh, s.H)
	}
	g.rx.start(mw)
	g.ry.start(mh)
	g.shapes = g.shapes[:0]
	for k, it := range items {
		if it.Demand <= 0 {
			continue
		}
		if fits(it.W, it.H) {
			g.shapes = append(g.shapes, shape{item: int32(k), w: it.W, h: it.H})
			g.rx.add(it.W, it.Demand)
			g.ry.add(it.H, it.Demand)
		}
		if it.Turn && it.W != it.H && fits(it.H, it.W) {
			g.shapes = append(g.shapes, shape{item: int32(k), turned: true, w: it.H, h: it.W})
			g.rx.add(it.H, it.Demand)
			g.ry.add(it.W, it.Demand)
		}
	}
	g.x, g.px = g.rx.positions(g.x, g.px)
	g.y, g.py = g.ry.positions(g.y, g.py)
	g.wide = resized(g.wide, len(g.y))
	for _, s := range sheets {
		if s.W < 0 || s.H < 0 {
			continue
		}
		for j := int32(0); j <= g.py[s.H]; j++ {
			g.wide[j] = max(g.wide[j], g.px[s.W]+1)
		}
	}
	g.sortShapes()
}

// thin keeps at most about limit positions of each axis: the sides of single
// items, what they leave of the longest position, and an even choice of the
// rest. Shapes then take the next position up, so that fillings stay layouts
// but may be missed.
func (g *grid) thin(limit int) {
	keepX, keepY := make([]bool, len(g.px)), make([]bool, len(g.py))
	endX, endY := g.x[len(g.x)-1], g.y[len(g.y)-1]
	for _, s := range g.shapes {
		keepX[s.w], keepX[endX-s.w] = true, true
		keepY[s.h], keepY[endY-s.h] = true, true
	}
	g.x = thinned(g.x, g.px, keepX, limit)
	g.y = thinned(g.y, g.py, keepY, limit)
	g.wide = g.wide[:len(g.y)]
	for j := range g.wide {
		g.wide[j] = int32(len(g.x))
	}
	g.sortShapes()
}

// thinned returns the marked positions and evenly spaced others, and corrects
// the index.
func thinned(at []int, index []int32, keep []bool, limit int) (kept []int) {
	if len(at) <= limit {
		return at
	}
	step := (len(at) + limit - 1) / limit
	last := 0
	for k, x := range at {
		if k == 0 || k == len(at)-1 || keep[x] || k >= last+2*step {
			kept, last = append(kept, x), k
		}
	}
	k := 0
	for x := range index {
		for k+1 < len(kept) && kept[k+1] <= x {
			k++
		}
		index[x] = int32(k)
	}
	return kept
}

// sortShapes is a counting sort by row; the shapes of a row keep their order.
func (g *grid) sortShapes() {
	g.of = resized(g.of, len(g.y)+1)
	for k := range g.shapes {
		s := &g.shapes[k]
		s.i, s.j = g.px[s.w], g.py[s.h]
		if g.x[s.i] < s.w {
			s.i++
		}
		if g.y[s.j] < s.h {
			s.j++
		}
		g.of[s.j+1]++
	}
	for j := range g.y {
		g.of[j+1] += g.of[j]
	}
	g.sorted = resized(g.sorted, len(g.shapes))
	g.next = append(g.next[:0], g.of...)
	for _, s := range g.shapes {
		g.sorted[g.next[s.j]] = s
		g.next[s.j]++
	}
	g.shapes, g.sorted = g.sorted, g.shapes
}

// cells is the number of rectangles of a table.
func (g *grid) cells() int {
	n := 0
	for _, w := range g.wide {
		n += int(w)
	}
	return n
}

// reach marks the sums that bounded numbers of sides can make.
type reach struct {
	ok   []bool
	used []int32 // copies of the side being added
}

func (r *reach) start(limit int) {
	r.ok = resized(r.ok, max(limit, 0)+1)
	r.used = resized(r.used, max(limit, 0)+1)
	r.ok[0] = true
}

func (r *reach) add(side, copies int) {
	clear(r.used)
	for s := side; s < len(r.ok); s++ {
		if !r.ok[s] && r.ok[s-side] && int(r.used[s-side]) < copies {
			r.ok[s] = true
			r.used[s] = r.used[s-side] + 1
		}
	}
}

// positions writes the sums to at, and to index the place of the greatest sum
// that is at most each length.
func (r *reach) positions(at []int, index []int32) ([]int, []int32) {
	at, index = at[:0], resized(index, len(r.ok))
	for s, ok := range r.ok {
		if ok {
			at = append(at, s)
		}
		index[s] = int32(len(at) - 1)
	}
	return at, index
}

// resized returns a zeroed slice of n elements, s if it is large enough.
func resized[E any](s []E, n int) []E {
	if cap(s) < n {
		return make([]E, n)
	}
	s = s[:n]
	clear(s)
	return s
}
