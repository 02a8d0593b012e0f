package ruin

import (
	"cmp"
	"math"
	"slices"

	"pinfold/pack/internal/random"
)

// place is where a piece may go.
type place struct {
	cost   int64
	sheet  int32
	spot   int32
	turned bool
}

// best finds the cheapest place for an item: the one whose rectangle loses the
// least value by being cut into the piece and two rectangles. Each place better
// than those before it is overlooked with a chance of blink in 256.
func (s *state) best(it *item, rnd *random.Stream, blink uint64) (place, bool) {
	b := place{cost: math.MaxInt64}
	for i := range s.gates {
		g := &s.gates[i]
		if g.area < it.area {
			continue
		}
		if it.w <= g.w && it.h <= g.h {
			s.scan(&b, int32(i), it.w, it.h, false, rnd, blink)
		}
		if it.turn && it.h <= g.w && it.w <= g.h {
			s.scan(&b, int32(i), it.h, it.w, true, rnd, blink)
		}
	}
	s.work += int64(len(s.gates))
	return b, b.cost < math.MaxInt64
}

func (s *state) scan(b *place, i int32, w, h int32, turned bool, rnd *random.Stream, blink uint64) {
	spots := s.sheets[i].spots
	s.work += int64(len(spots)) + 3
	for k := range spots {
		p := &spots[k]
		if p.w < w || p.h < h {
			continue
		}
		if c := s.values.loss(p.w, p.h, w, h); c < b.cost && rnd.Next()&255 >= blink {
			*b = place{c, i, int32(k), turned}
		}
	}
}

// loss is what a W x H rectangle loses in value when a w x h piece is cut off
// its corner, with the better of the two first cuts.
func (v *values) loss(W, H, w, h int32) int64 {
	right := v.of(W-w, H) + v.of(w, H-h)
	top := v.of(W, H-h) + v.of(W-w, h)
	return v.of(W, H) - max(right, top)
}

// recreate gives each piece outside one chance to be put on a sheet, in the
// order arranged, opening new sheets while the limit allows. Of equal pieces the
// first to fail fails for all. As soon as what finds no place is worth more than
// bar it gives up and reports false.
func (s *state) recreate(bar int64, rnd *random.Stream, blink uint64) bool {
	var lost int64
	s.lineUp()
	for s.turn < len(s.list) {
		if lost += s.putNext(rnd, blink); lost > bar {
			return false
		}
	}
	s.trim()
	return true
}

// lineUp puts the list of items outside in order, the first one's turn next.
func (s *state) lineUp() {
	s.sortOut()
	s.turn = 0
}

// putNext puts one copy of the item whose turn it is on a sheet. If there is no
// place, the turn passes on, and what its copies outside are worth is returned.
func (s *state) putNext(rnd *random.Stream, blink uint64) (lost int64) {
	i := s.list[s.turn]
	if s.outs[i] == 0 {
		s.turn++
		return 0
	}
	it := &s.items[i]
	b, ok := s.best(it, rnd, blink)
	if !ok {
		b, ok = s.fresh(it, rnd)
	}
	if !ok {
		s.turn++
		return int64(s.outs[i]) * it.worth
	}
	s.putIn(i, b.sheet, int(b.spot), b.turned)
	return 0
}

// fresh opens a sheet of a random kind that holds the item.
func (s *state) fresh(it *item, rnd *random.Stream) (place, bool) {
	n := 0
	var pick place
	for k := range s.kinds {
		d := &s.kinds[k]
		up := it.w <= d.w && it.h <= d.h
		turned := it.turn && it.h <= d.w && it.w <= d.h
		if !up && !turned || !s.canOpen(int32(k)) {
			continue
		}
		n++
		if n == 1 || rnd.Below(n) == 0 {
			if up && turned {
				turned = rnd.Next()&1 == 0
			}
			pick = place{sheet: int32(k), turned: turned}
		}
	}
	if n == 0 {
		return pick, false
	}
	pick.sheet = s.openSheet(pick.sheet)
	return pick, true
}

// order is the sequence in which pieces are put back, the largest first.
type order uint8

const (
	byWorth order = iota
	byLongSide
	byWidth
	byHeight
	orders
)

// arrange sets the order, from what the items are worth now.
func (s *state) arrange(o order) {
	for i := range s.items {
		it := &s.items[i]
		switch o {
		case byWorth:
			it.key = it.worth
		case byLongSide:
			it.key = int64(max(it.w, it.h))<<31 + int64(min(it.w, it.h))
		case byWidth:
			it.key = int64(it.w)<<31 + int64(it.h)
		case byHeight:
			it.key = int64(it.h)<<31 + int64(it.w)
		}
	}
}

// sortOut puts the list of items outside in order. Mostly it is short, and much
// of it still in order from the last time.
func (s *state) sortOut() {
	if len(s.list) > 24 {
		slices.SortStableFunc(s.list, func(a, b int32) int { return cmp.Compare(s.items[b].key, s.items[a].key) })
		return
	}
	for k := 1; k < len(s.list); k++ {
		i := s.list[k]
		key := s.items[i].key
		j := k
		for ; j > 0 && s.items[s.list[j-1]].key < key; j-- {
			s.list[j] = s.list[j-1]
		}
		s.list[j] = i
	}
}
