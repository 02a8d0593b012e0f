package dp

import "pinfold/pack/internal/model"

// around is the best filling of every region of a scrap that is made of fillings
// of its rooms, which a table of plain rectangles knows.
type around struct {
	s     *Scrap
	value []int64
	count []uint64 // copies, as in Bounded; none for unlimited copies
	how   []int32
	work  int64
}

// What around.how holds beside an index: a room of the list, or a position.
const (
	byRoom = int32(iota) << 28
	byCutX
	byCutY
	howMask = int32(3) << 28
)

// plain is a table of rectangles: their values and, unless words is 0, copies.
type plain struct {
	*grid
	best  []int64
	count []uint64
	words int
	limit []uint64
}

func (p plain) cell(w, h int) int { return int(p.px[w])*len(p.y) + int(p.py[h]) }

// solve finds the best filling of every region.
func (a *around) solve(s *Scrap, p plain) {
	a.s = s
	n := len(s.clear)
	a.value, a.how = resized(a.value, n), resized(a.how, n)
	a.count = resized(a.count, n*p.words)
	ny := len(s.pairs[1])
	steps := 0
	for ix, px := range s.pairs[0] {
		base := ix * ny
		for iy, py := range s.pairs[1] {
			k := base + iy
			v, how := int64(0), byRoom
			for m := s.first[k]; m < s.first[k+1]; m++ {
				if u := p.best[p.cell(s.rooms[m].W, s.rooms[m].H)]; u > v {
					v, how = u, byRoom+m
				}
			}
			steps += int(s.first[k+1]-s.first[k])*2 + 4
			if !s.clear[k] {
				for c := px.from + 1; c < px.to; c++ {
					one, two := int(s.pairX[px.from][c])*ny+iy, int(s.pairX[c][px.to])*ny+iy
					if u := a.value[one] + a.value[two]; u > v && a.together(p, one, two) {
						v, how = u, byCutX+c
					}
				}
				for c := py.from + 1; c < py.to; c++ {
					one, two := base+int(s.pairY[py.from][c]), base+int(s.pairY[c][py.to])
					if u := a.value[one] + a.value[two]; u > v && a.together(p, one, two) {
						v, how = u, byCutY+c
					}
				}
				steps += int(px.to-px.from+py.to-py.from) * 2
			}
			a.value[k], a.how[k] = v, how
			if p.words > 0 && v > 0 {
				a.counted(p, k, ix, iy)
			}
		}
	}
	a.work = int64(steps)/stepsPerUnit + 1
}

// together tells whether the fillings of two regions stay within the limits.
func (a *around) together(p plain, one, two int) bool {
	w := p.words
	if w == 0 {
		return true
	}
	ca, cb := a.count[one*w:one*w+w], a.count[two*w:two*w+w]
	for i, l := range p.limit {
		if (ca[i]+cb[i]+l)&high != 0 {
			return false
		}
	}
	return true
}

// counted notes the copies of region k.
func (a *around) counted(p plain, k, ix, iy int) {
	w := p.words
	out := a.count[k*w : k*w+w]
	if a.how[k]&howMask == byRoom {
		r := a.s.rooms[a.how[k]&^howMask]
		c := p.cell(r.W, r.H)
		copy(out, p.count[c*w:c*w+w])
		return
	}
	one, two := a.parts(k, ix, iy)
	for i := range out {
		out[i] = a.count[one*w+i] + a.count[two*w+i]
	}
}

// parts are the two regions that the cut of region k makes.
func (a *around) parts(k, ix, iy int) (one, two int) {
	s, ny := a.s, len(a.s.pairs[1])
	at := a.how[k] &^ howMask
	if a.how[k]&howMask == byCutX {
		px := s.pairs[0][ix]
		return int(s.pairX[px.from][at])*ny + iy, int(s.pairX[at][px.to])*ny + iy
	}
	py := s.pairs[1][iy]
	return ix*ny + int(s.pairY[py.from][at]), ix*ny + int(s.pairY[at][py.to])
}

// whole is the region that is the sheet.
func (a *around) whole() int { return len(a.s.clear) - 1 }

// used calls fill with each room that the filling of the sheet takes.
func (a *around) used(fill func(model.Rect)) {
	ny := len(a.s.pairs[1])
	for todo := []int{a.whole()}; len(todo) > 0; {
		k := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		switch {
		case a.value[k] == 0:
		case a.how[k]&howMask == byRoom:
			fill(a.s.rooms[a.how[k]&^howMask])
		default:
			one, two := a.parts(k, k/ny, k%ny)
			todo = append(todo, two, one)
		}
	}
}

// FillScrap is Fill for a sheet with bad areas.
func (b *Bounded) FillScrap(s *Scrap, values []int64, left []int) []model.Placed {
	b.Lay(s.w, s.h, values, left)
	b.around.solve(s, plain{&b.g, b.best, b.count, b.words, b.limit})
	b.work += b.around.work
	r := b.recovery(values, left)
	b.around.used(func(at model.Rect) {
		b.write(&r, int(b.g.px[at.W]), int(b.g.py[at.H]), at)
	})
	r.refillAll()
	return r.placed
}
