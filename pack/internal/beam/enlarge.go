package beam

import (
	"math"
	"math/bits"
	"slices"
)

// enlargeWork bounds the words of bit sets that enlarging may touch.
const enlargeWork = 4 << 20

// enlarge grows the sides of shapes by what must be lost beside them: in any
// line along the sheet through a piece, the other pieces reach only sums of
// their sides, and if no sum reaches the far edge, the piece may as well take
// the gap. Done to one shape after another, each time with the grown sides of
// the others, this excludes no layout, and makes the waste that is
// unavoidable visible from the start. With several kinds of sheet a side grows
// by the least of what each allows. The open side of a strip has no far edge.
func (s *Search) enlarge() {
	work := 0
	for axis := range uint8(2) {
		if s.goal == Strip && axis == 1 {
			continue
		}
		for j := range s.shapes[0] {
			grow := int32(-1)
			for _, k := range s.kinds {
				sh := s.shapes[0][j]
				if sh.a > k.long[0] || sh.b > k.long[1] {
					continue
				}
				gap := s.gap(j, axis, k.long[axis], &work)
				if grow < 0 || gap < grow {
					grow = gap
				}
			}
			if work > enlargeWork {
				return
			}
			if axis == 0 {
				s.shapes[0][j].a += grow
				s.shapes[1][j].b += grow
			} else {
				s.shapes[0][j].b += grow
				s.shapes[1][j].a += grow
			}
		}
	}
}

// gap is the least that is lost beside each copy of shape j along an axis of the
// sheet of the given extent: several copies in one line share what is lost there.
func (s *Search) gap(j int, axis uint8, extent int32, work *int) int32 {
	self := &s.shapes[axis][j]
	room, copies := int(extent-self.a), s.pr.Items[self.item].Demand
	if room <= 0 {
		return 0
	}
	words := room/64 + 1
	reach, old := make([]uint64, words), make([]uint64, words)
	reach[0] = 1
	shapes := s.shapes[axis]
	for i := 0; i < len(shapes); {
		end := i + 1
		for end < len(shapes) && shapes[end].item == shapes[i].item {
			end++
		}
		n, others := s.pr.Items[shapes[i].item].Demand, shapes[i:end]
		if shapes[i].item == self.item {
			n--
			others = slices.Delete(slices.Clone(others), j-i, j-i+1)
		}
		least := int32(math.MaxInt32)
		for _, sh := range others {
			least = min(least, sh.a)
		}
		for range min(n, room/int(least)) {
			copy(old, reach)
			for _, sh := range others {
				orShifted(reach, old, int(sh.a))
			}
			*work += words
		}
		if *work > enlargeWork || reach[room/64]>>(room%64)&1 != 0 {
			return 0
		}
		i = end
	}
	grow := int32(room)
	for n := 1; n <= copies && room >= 0 && grow > 0; n++ {
		grow = min(grow, int32((room-highest(reach, room))/n))
		room -= int(self.a)
	}
	return grow
}

// highest is the last number up to most that is in the set; 0 always is.
func highest(set []uint64, most int) int {
	mask := ^uint64(0) >> (63 - most%64)
	for w := most / 64; ; w-- {
		if v := set[w] & mask; v != 0 {
			return w*64 + 63 - bits.LeadingZeros64(v)
		}
		mask = ^uint64(0)
	}
}

// orShifted sets in dst the bits of src moved up by n.
func orShifted(dst, src []uint64, n int) {
	q, r := n/64, uint(n%64)
	for i := len(dst) - 1; i >= q; i-- {
		v := src[i-q] << r
		if r > 0 && i > q {
			v |= src[i-q-1] >> (64 - r)
		}
		dst[i] |= v
	}
}
