package peel

import (
	"cmp"
	"slices"

	"pinfold/pack/internal/model"
)

// least is the least height of an item.
func least(it model.Item) int {
	if it.Turn {
		return min(it.W, it.H)
	}
	return it.H
}

// setOut begins the next table, or the end.
func (s *Search) setOut() Result {
	if s.left <= fewest || s.left <= few && s.spare > 0 || s.misses == patience {
		s.phase = ending
		return Working
	}
	t := &s.table
	s.choose()
	first := s.pr.Items[t.kinds[0].item]
	tall := least(first)
	t.width, t.region, t.rnd, t.must = s.w, s.h, &s.rnd, -1
	t.height = min(s.h, tall+min(tall, max(8, tall/4)))
	if s.w*s.h <= wholeTable {
		t.height = s.h
	}
	if s.w*t.height > mostSizes {
		return Useless
	}
	// What takes half of the height is to be got rid of, if it can be.
	if tall > s.h/2 && s.misses%3 < 2 {
		t.must = 0
	}
	if t.deep = deep; s.spare == 0 && s.left <= 2*few {
		t.deep = deeper
	}
	t.begin()
	s.phase = filling
	return Working
}

// choose chooses the kinds that blocks are made of: the tallest first, then half
// of them the largest.
func (s *Search) choose() {
	t := &s.table
	t.kinds = t.kinds[:0]
	tall := 0
	for i, n := range s.rest {
		s.kindOf[i] = -1
		if it := s.pr.Items[i]; n > 0 {
			t.kinds = append(t.kinds, kind{item: i, w: it.W, h: it.H, turn: it.Turn, copies: n})
			tall = max(tall, least(it))
		}
	}
	for i := range t.kinds {
		k := &t.kinds[i]
		k.merit = int32(100 - 50*least(s.pr.Items[k.item])/tall + s.rnd.Below(50))
	}
	slices.SortStableFunc(t.kinds, func(a, b kind) int { return cmp.Compare(b.w*b.h, a.w*a.h) })
	at := slices.IndexFunc(t.kinds, func(k kind) bool { return least(s.pr.Items[k.item]) == tall })
	tallest := t.kinds[at]
	copy(t.kinds[1:], t.kinds[:at])
	t.kinds[0] = tallest
	if len(t.kinds) > mostKinds {
		for i := mostKinds / 2; i < mostKinds; i++ {
			j := i + s.rnd.Below(len(t.kinds)-i)
			t.kinds[i], t.kinds[j] = t.kinds[j], t.kinds[i]
		}
		t.kinds = t.kinds[:mostKinds]
	}
	for i, k := range t.kinds {
		s.kindOf[k.item] = i
	}
	s.layOut()
}

// layOut allows blocks as many copies of each kind as there are bits for.
func (s *Search) layOut() {
	t := &s.table
	copies := make([]int, len(t.kinds))
	for most := 1; ; most = 2*most + 1 {
		all := true
		for i, k := range t.kinds {
			copies[i] = min(k.copies, most)
			all = all && copies[i] == k.copies
		}
		f, ok := layOut(copies)
		if !ok {
			return
		}
		if t.fields = f; all {
			return
		}
	}
}

// take cuts the best rows or columns off.
func (s *Search) take() {
	s.phase = choosing
	t := &s.table
	if s.whole() {
		s.phase = ending
		return
	}
	first := int64(0)
	for n := 0; ; n++ {
		p, ok := s.best()
		switch {
		case n > 0 && (!ok || p.score > first*near/100):
			return
		case !ok:
			s.misses++
			return
		case n == 0:
			first, s.misses = p.score, 0
		}
		s.cut(p)
		if t.must >= 0 || s.left < many {
			return
		}
	}
}

// whole takes a block of everything that is left, if there is one: when nothing may
// be wasted, any that fills the region is.
func (s *Search) whole() bool {
	t := &s.table
	if s.spare > 0 || s.h > t.height {
		return false
	}
	of := t.of(t.at(s.w, s.h))
	if len(of) > 0 {
		s.cut(strip{block: of[0], upright: true})
	}
	return len(of) > 0
}

// strip is a block that is cut off as a row, or as a column if it is upright.
type strip struct {
	block   int32
	upright bool
	waste   int
	score   int64 // the less the better
}

// cut cuts a row or a column off.
func (s *Search) cut(p strip) {
	b := &s.table.blocks[p.block]
	s.steps = append(s.steps, s.region)
	s.placed = s.table.lay(s.placed, p.block, s.x, s.y)
	for _, q := range s.placed[s.region.placed:] {
		s.rest[q.Item]--
		s.left--
	}
	s.region.placed = len(s.placed)
	s.spare -= p.waste
	if p.upright {
		s.x += int(b.w)
		s.w -= int(b.w)
	} else {
		s.y += int(b.h)
		s.h -= int(b.h)
	}
}

// best is the best row or column. The more tables had none, the more of what may
// be wasted may be wasted at the end of it.
func (s *Search) best() (best strip, ok bool) {
	t := &s.table
	spare := s.spare * s.misses / patience
	try := func(w, h int, p strip) {
		t.work += 4
		for _, p.block = range t.of(t.at(w, h)) {
			t.work += 10
			b := &t.blocks[p.block]
			if t.must >= 0 && !b.must {
				continue
			}
			p.score = int64(b.merit) * int64(4<<20+s.rnd.Below(1<<20)) / int64(w*h)
			if p.waste > 0 {
				p.score += p.score * int64(p.waste) / int64(spare)
			}
			left := [2]int{s.w, s.h - h}
			if p.upright {
				left = [2]int{s.w - w, s.h}
			}
			if (!ok || p.score < best.score) && s.leaves(t.counts(p.block), left[0], left[1]) {
				best, ok = p, true
			}
		}
	}
	for h := 1; h <= min(t.height, s.h-1); h++ {
		for less := 0; less < s.w && less*h <= spare; less++ {
			try(s.w-less, h, strip{waste: less * h})
		}
	}
	for w := 1; w < s.w; w++ {
		for less := max(0, s.h-t.height); less < s.h && less*w <= spare; less++ {
			try(w, s.h-less, strip{waste: less * w, upright: true})
		}
	}
	return best, ok
}

// leaves tells whether some pieces remain besides a block, and each of them fits
// w x h.
func (s *Search) leaves(c counts, w, h int) bool {
	s.table.work += int64(len(s.rest))
	left := 0
	for i, n := range s.rest {
		if c != nil && s.kindOf[i] >= 0 {
			if n -= s.table.fields.of(c, s.kindOf[i]); n < 0 {
				return false
			}
		}
		left += n
		if it := s.pr.Items[i]; n > 0 && (it.W > w || it.H > h) && !(it.Turn && it.H <= w && it.W <= h) {
			return false
		}
	}
	return c == nil || left >= fewest
}
