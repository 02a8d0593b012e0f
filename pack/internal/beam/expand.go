package beam

import "math"

// family holds what all children of one node, or all of one new sheet, share.
type family struct {
	*node                // the parent
	parent       int32   // its index
	hash         uint64  // of its counts, with the sheet's use
	cost         int64   // with the sheet
	gone         int64   // before the sheet
	goneDear     float64 // before the sheet
	long, across int32   // extents of the sheet
	minA, minB   int32   // least sides of the remaining pieces
	weight       float64
}

// expand makes the children of the i-th node of the level.
func (s *Search) expand(i int) {
	p := &s.pass
	cur := &p.ring[p.level%len(p.ring)]
	nd := &cur.nodes[i]
	row := s.m + len(s.kinds)
	left := cur.left[i*row : (i+1)*row]
	s.spent += 40
	if s.goal != Fill && nd.cost >= s.bestCost {
		return
	}
	if s.goal == Strip && s.staged == 2 && nd.kind >= 0 {
		nd.x1c = min(nd.x1c, s.kinds[0].long[nd.axis]) // the strip may have got lower
	}
	if s.goal == Fill && !s.hopeful(nd, left) {
		return
	}
	if nd.kind >= 0 && s.continueSheet(nd, int32(i), left) {
		return
	}
	if s.goal == Pack || nd.kind < 0 {
		s.openSheets(nd, int32(i), left)
	}
}

// continueSheet makes the children that add a piece to the open sheet. If a
// piece fits into the open row without widening anything, then only the open row
// need be tried: whatever is closed instead, that piece could be moved back into
// the room lost. The same holds for the open strip and for the sheet. It
// reports whether any piece fits.
func (s *Search) continueSheet(nd *node, parent int32, left []int32) bool {
	k := &s.kinds[nd.kind]
	fam := family{
		node: nd, parent: parent, hash: nd.hash, cost: nd.cost, gone: nd.gone, goneDear: nd.goneDear,
		long: k.long[nd.axis], across: k.long[1-nd.axis], weight: k.weight,
	}
	rowA, rowB := nd.x1c-nd.x3, nd.y2c-nd.y2p // room in the open row
	rowMaxA, rowMaxB := fam.long-nd.x3, fam.across-nd.y2p
	stripA, stripMaxA, stripB := nd.x1c-nd.x1p, fam.long-nd.x1p, fam.across-nd.y2c
	restA := fam.long - nd.x1c

	minA, minB := int32(math.MaxInt32), int32(math.MaxInt32)
	var inRow, inStrip bool
	row, strip, rest := s.inRow[:0], s.inStrip[:0], s.inRest[:0]
	shapes := s.shapes[nd.axis]
	for j := range shapes {
		sh := &shapes[j]
		if left[sh.item] == 0 {
			continue
		}
		minA, minB = min(minA, sh.a), min(minB, sh.b)
		if sh.a <= rowMaxA && sh.b <= rowMaxB {
			row = append(row, int32(j))
			inRow = inRow || sh.a <= rowA && sh.b <= rowB
		}
		if sh.a <= stripMaxA && sh.b <= stripB {
			strip = append(strip, int32(j))
			inStrip = inStrip || sh.a <= stripA
		}
		if sh.a <= restA && sh.b <= fam.across {
			rest = append(rest, int32(j))
		}
	}
	s.inRow, s.inStrip, s.inRest = row, strip, rest
	s.spent += int64(4 * len(shapes))
	fam.minA, fam.minB = minA, minB
	for _, j := range row {
		sh := &shapes[j]
		x3 := nd.x3 + sh.a
		s.emit(&fam, j, sh, sameRow, front{
			nd.x1p, max(nd.x1c, x3), nd.y2p, max(nd.y2c, nd.y2p+sh.b), x3, nd.kind, nd.axis})
	}
	if inRow {
		return true
	}
	for _, j := range strip {
		sh := &shapes[j]
		x3 := nd.x1p + sh.a
		s.emit(&fam, j, sh, newRow, front{
			nd.x1p, max(nd.x1c, x3), nd.y2c, nd.y2c + sh.b, x3, nd.kind, nd.axis})
	}
	if inStrip {
		return true
	}
	for _, j := range rest {
		sh := &shapes[j]
		x1c := nd.x1c + sh.a
		s.emit(&fam, j, sh, newStrip, front{nd.x1c, x1c, 0, sh.b, x1c, nd.kind, nd.axis})
	}
	return len(row)+len(strip)+len(rest) > 0
}

// openSheets makes the children that begin a sheet of each kind, cut in each
// direction first.
func (s *Search) openSheets(nd *node, parent int32, left []int32) {
	fam := family{node: nd, parent: parent}
	if nd.kind >= 0 {
		k := &s.kinds[nd.kind]
		fam.gone = nd.gone + k.area
		fam.goneDear = nd.goneDear + k.weight*float64(k.area)
	}
	first := s.configs[s.turn].first
	for ki := range s.kinds {
		k := &s.kinds[ki]
		if left[s.m+ki] == 0 {
			continue
		}
		fam.cost = nd.cost + k.cost
		if s.goal == Pack && s.bestCost < math.MaxInt64 &&
			(fam.cost >= s.bestCost || s.hopeless(left, ki, s.bestCost-1-fam.cost)) {
			continue
		}
		fam.hash = nd.hash
		if k.copies != plenty {
			fam.hash += s.zob[s.m+ki]
		}
		fam.weight = k.weight
		for axis := uint8(0); axis < 2; axis++ {
			if first != FirstEither && uint8(first) != axis {
				continue
			}
			s.openSheet(&fam, ki, axis, left)
		}
	}
}

func (s *Search) openSheet(fam *family, ki int, axis uint8, left []int32) {
	k := &s.kinds[ki]
	fam.long, fam.across = k.long[axis], k.long[1-axis]
	fam.minA, fam.minB = math.MaxInt32, math.MaxInt32
	shapes := s.shapes[axis]
	s.spent += int64(2 * len(shapes))
	for j := range shapes {
		if sh := &shapes[j]; left[sh.item] > 0 {
			fam.minA, fam.minB = min(fam.minA, sh.a), min(fam.minB, sh.b)
		}
	}
	for j := range shapes {
		sh := &shapes[j]
		if left[sh.item] == 0 || sh.a > fam.long || sh.b > fam.across {
			continue
		}
		x1c := sh.a
		if s.staged == 2 {
			x1c = fam.long
		}
		s.emit(fam, int32(j), sh, newSheet, front{0, x1c, 0, sh.b, sh.a, int16(ki), axis})
	}
}

// emit offers one child to the next level.
func (s *Search) emit(fam *family, j int32, sh *shape, d depth, f front) {
	p := &s.pass
	s.spent += 14
	s.settle(fam, &f)
	used := f.area(fam.across)
	covered := fam.covered + sh.area
	if fam.gone+used-covered > s.maxWaste {
		return
	}
	value := fam.value + sh.value
	c := candidate{f, fam.hash + s.zob[sh.item], fam.parent, int32(p.level % len(p.ring)), j, d}
	if s.goal == Fill {
		if value > s.bestCost {
			s.found(fam, c, value)
		}
	} else if covered == s.area {
		s.found(fam, c, fam.cost)
		return
	}
	st := &p.ring[s.levelOf(covered)%len(p.ring)]
	g := float32(p.guide(fam.goneDear+fam.weight*float64(used), float64(covered), float64(fam.packed+1), float64(value)))
	if g > st.pool.worst {
		p.cut = true
		return
	}
	tie := c.hash ^ f.mix()
	if !st.seen.add(tie) {
		return
	}
	s.spent += 30
	st.pool.add(g, uint32(tie>>32), c)
	if st.pool.full() {
		p.cut = true
		s.spent += int64(st.pool.shrink()) * 20
	}
}

// settle pushes the lines of the front to where no remaining piece can use the
// room beyond them.
func (s *Search) settle(fam *family, f *front) {
	openAcross := s.goal == Strip && f.axis == 0 // the strip's height is across
	openLong := s.goal == Strip && f.axis == 1
	if !openLong && f.x1c+fam.minA > fam.long {
		f.x1c = fam.long
	}
	if !openAcross && f.y2c+fam.minB > fam.across {
		f.y2c = fam.across
	}
	if f.x3+fam.minA > fam.long || f.y2p+fam.minB > fam.across {
		f.x3 = f.x1c
	}
}

// hopeful bounds what a node can still be worth by filling the rest of its sheet
// with the densest remaining pieces, the last one in part.
func (s *Search) hopeful(nd *node, left []int32) bool {
	room := s.kinds[0].area
	if nd.kind >= 0 {
		room -= nd.area(s.kinds[nd.kind].long[1-nd.axis])
	}
	value := float64(nd.value)
	s.spent += int64(2 * s.m)
	for _, i := range s.density {
		if left[i] == 0 || s.areas[i] == 0 {
			continue
		}
		it, a := &s.pr.Items[i], s.areas[i]
		n := min(int64(left[i]), room/a)
		value += float64(n * it.Value)
		room -= n * a
		if n < int64(left[i]) {
			value += float64(it.Value) * float64(room) / float64(a)
			break
		}
	}
	return math.Floor(value+1e-6) > float64(s.bestCost)
}
