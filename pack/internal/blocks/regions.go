package blocks

import (
	"slices"

	"pinfold/pack/internal/model"
)

// regions is the relaxation of a sheet with bad areas: the best filling of the
// whole by unlimited copies that keep off them. A region clear of bad areas is
// worth what a sheet of its size is; the others are told apart by where they
// lie. Pieces can be pushed left and down until they touch a cut, another piece
// or a bad area, so that cuts at sums of sides, counted from 0 or from the far
// side of a bad area, are enough.
type regions struct {
	s    *sheet
	rel  *relax
	bad  []model.Rect
	x, y []int32 // cut positions, from 0 to the sheet's sides
	full bool    // all positions are there, so that what is computed is a bound

	list  []region // parts before the wholes they are of
	index *regionIndex
	value []int64 // of list
	how   []regionWay
	done  int
	count int64
}

// region is given by indexes of positions.
type region struct{ x0, x1, y0, y1 int32 }

// regionWay is what reached a region's value: nothing, a shape at a place, or a
// cut.
type regionWay struct {
	kind  uint8 // 0 nothing, 1 shape, 2 cut along x, 3 along y
	at    int32 // shape or position
	px, y int32
}

// mostRegions bounds the regions with bad areas that are told apart.
const mostRegions = 12_000

func newRegions(s *sheet, rel *relax, bad []model.Rect) *regions {
	r := &regions{s: s, rel: rel, bad: bad, full: true}
	var xs, ys []int
	for _, q := range s.shapes {
		xs, ys = append(xs, int(q.w)), append(ys, int(q.h))
	}
	var bx, by []model.Rect
	for _, b := range bad {
		bx = append(bx, model.Rect{X: b.X, W: b.W})
		by = append(by, model.Rect{X: b.Y, W: b.H})
	}
	for _, d := range []density{everySum, byEdges, noCuts} {
		r.x, r.y = cutPositions(s.w, xs, bx, d), cutPositions(s.h, ys, by, d)
		if r.index = newRegionIndex(r.x, r.y, bad, mostRegions); r.index != nil {
			break
		}
		r.full = false
	}
	r.list = r.index.list
	r.value, r.how = make([]int64, len(r.list)), make([]regionWay, len(r.list))
	return r
}

// density says which cut positions are tried.
type density uint8

const (
	everySum density = iota
	byEdges          // only those next to the edges of bad areas
	noCuts
)

// cutPositions are the sums of sides from 0 and from the far side of each bad
// stretch, or some of them, and the ends.
func cutPositions(length int, sides []int, bad []model.Rect, d density) []int32 {
	if d == noCuts {
		return []int32{0, int32(length)}
	}
	made := make([]bool, length+1)
	made[0] = true
	for _, b := range bad {
		made[min(b.X+b.W, length)] = true
	}
	for w := range made {
		for _, s := range sides {
			if w >= s && made[w-s] {
				made[w] = true
				break
			}
		}
	}
	made[length] = true
	if d == byEdges {
		keep := make([]bool, length+1)
		keep[0], keep[length] = true, true
		for _, b := range bad {
			keep[b.X], keep[min(b.X+b.W, length)] = true, true
			for w := b.X; w >= 0; w-- {
				if made[w] {
					keep[w] = true
					break
				}
			}
		}
		made = keep
	}
	var out []int32
	for w, ok := range made {
		if ok {
			out = append(out, int32(w))
		}
	}
	return out
}

// rect returns a region's place.
func (r *regions) rect(g region) model.Rect {
	x, y := int(r.x[g.x0]), int(r.y[g.y0])
	return model.Rect{X: x, Y: y, W: int(r.x[g.x1]) - x, H: int(r.y[g.y1]) - y}
}

func meets(a, b model.Rect) bool {
	return a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H
}

func (r *regions) start(value []int64) {
	r.rel.start(value)
	r.done, r.count = 0, 0
}

// run computes for about the given number of steps and tells whether the whole
// is known.
func (r *regions) run(steps int64) bool {
	end := r.steps() + steps
	if !r.rel.run(steps) {
		return false
	}
	for ; r.done < len(r.list); r.done++ {
		if r.steps() >= end {
			return false
		}
		r.value[r.done], r.how[r.done] = r.best(r.list[r.done])
	}
	return true
}

func (r *regions) steps() int64 { return r.rel.steps() + r.count }

func (r *regions) total() int64 { return r.value[len(r.value)-1] }

func (r *regions) exact() bool { return r.rel.exact() }

// of is the value of a region that has been computed.
func (r *regions) of(g region) int64 {
	if i, ok := r.index.find(g); ok {
		return r.value[i]
	}
	a := r.rect(g)
	return r.rel.at(a.W, a.H)
}

func (r *regions) best(g region) (v int64, how regionWay) {
	a := r.rect(g)
	for i, q := range r.s.shapes {
		if w := r.rel.value[q.item]; w > v {
			if x, y, ok := r.room(q, a); ok {
				v, how = w, regionWay{1, int32(i), x, y}
			}
		}
	}
	for c := g.x0 + 1; c < g.x1; c++ {
		if w := r.of(region{g.x0, c, g.y0, g.y1}) + r.of(region{c, g.x1, g.y0, g.y1}); w > v {
			v, how = w, regionWay{kind: 2, at: c}
		}
	}
	for c := g.y0 + 1; c < g.y1; c++ {
		if w := r.of(region{g.x0, g.x1, g.y0, c}) + r.of(region{g.x0, g.x1, c, g.y1}); w > v {
			v, how = w, regionWay{kind: 3, at: c}
		}
	}
	r.count += int64(len(r.s.shapes)*8) + int64(g.x1-g.x0+g.y1-g.y0)*40
	return v, how
}

// room finds a place for a piece within a that keeps off the bad areas.
func (r *regions) room(q shape, a model.Rect) (x, y int32, ok bool) {
	xs, ys := []int{a.X}, []int{a.Y}
	for _, b := range r.bad {
		if meets(a, b) {
			xs, ys = append(xs, b.X+b.W), append(ys, b.Y+b.H)
		}
	}
	for _, py := range ys {
		for _, px := range xs {
			at := model.Rect{X: px, Y: py, W: int(q.w), H: int(q.h)}
			if px >= a.X && py >= a.Y && px+at.W <= a.X+a.W && py+at.H <= a.Y+a.H &&
				!slices.ContainsFunc(r.bad, func(b model.Rect) bool { return meets(at, b) }) {
				return int32(px), int32(py), true
			}
		}
	}
	return 0, 0, false
}

// pattern returns a filling of the whole worth total.
func (r *regions) pattern() []model.Placed {
	var placed []model.Placed
	for todo := []region{r.list[len(r.list)-1]}; len(todo) > 0; {
		g := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		i, ok := r.index.find(g)
		if !ok {
			a := r.rect(g)
			placed = append(placed, r.rel.filling(a.W, a.H, int32(a.X), int32(a.Y))...)
			continue
		}
		switch h := r.how[i]; h.kind {
		case 1:
			q := r.s.shapes[h.at]
			placed = append(placed, model.Placed{Item: q.item, X: h.px, Y: h.y, Turned: q.turned})
		case 2:
			todo = append(todo, region{g.x0, h.at, g.y0, g.y1}, region{h.at, g.x1, g.y0, g.y1})
		case 3:
			todo = append(todo, region{g.x0, g.x1, g.y0, h.at}, region{g.x0, g.x1, h.at, g.y1})
		}
	}
	return placed
}
