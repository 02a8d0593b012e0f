package beam

import (
	"cmp"
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// shape is one way to lay an item, seen from the first cut.
type shape struct {
	a, b   int32 // extent along the axis the first cut divides, and across it
	item   int32
	turned bool
	area   int64
	value  int64
}

// kind is a kind of sheet.
type kind struct {
	stock  int
	long   [2]int32 // extent along the axis, by the axis of the first cut
	area   int64
	cost   int64
	copies int32
	weight float64 // how dear its area is; the cheapest is 1
}

const plenty = math.MaxInt32 // copies of an unlimited kind

// setKinds lists the usable stocks. Costs enter the guides as weights of the
// area: the cheapest area that must be paid for weighs 1, dearer area in
// proportion; if some area is free, all of that is doubled, and free area weighs
// 1, so that filling a free sheet well still counts.
func (s *Search) setKinds() {
	cheapest, free := math.Inf(1), false
	stocks := s.pr.Stocks
	if s.goal != Pack && len(stocks) > 1 {
		stocks = stocks[:1]
	}
	for i, st := range stocks {
		if st.Copies == 0 || len(st.Bad) > 0 {
			continue
		}
		k := kind{stock: i, long: [2]int32{int32(st.W), int32(st.H)}, area: st.Area(), cost: st.Cost, copies: plenty}
		if st.Copies != model.Unlimited {
			k.copies = int32(min(st.Copies, plenty))
		}
		if s.goal != Pack {
			k.cost, k.copies = 0, 1
		}
		if k.cost > 0 {
			cheapest = min(cheapest, float64(k.cost)/float64(k.area))
		} else {
			free = true
		}
		s.kinds = append(s.kinds, k)
	}
	for i := range s.kinds {
		k := &s.kinds[i]
		k.weight = 1
		if k.cost > 0 {
			k.weight = float64(k.cost) / float64(k.area) / cheapest
			if free {
				k.weight *= 2
			}
		}
	}
}

// setAreas gives every shape of an item the least area it takes, and adds them up.
func (s *Search) setAreas() {
	s.areas = make([]int64, s.m)
	for _, sh := range s.shapes[0] {
		a := int64(sh.a) * int64(sh.b)
		if s.areas[sh.item] == 0 || a < s.areas[sh.item] {
			s.areas[sh.item] = a
		}
	}
	for axis := range s.shapes {
		for j := range s.shapes[axis] {
			sh := &s.shapes[axis][j]
			sh.area = s.areas[sh.item]
		}
	}
	for i, it := range s.pr.Items {
		s.area += s.areas[i] * int64(it.Demand)
	}
	s.density = make([]int, s.m)
	for i := range s.density {
		s.density[i] = i
	}
	slices.SortStableFunc(s.density, func(i, j int) int {
		a, b := float64(s.pr.Items[i].Value)/float64(s.areas[i]), float64(s.pr.Items[j].Value)/float64(s.areas[j])
		return cmp.Compare(b, a)
	})
}

// setShapes lists the ways to lay each item, and adds up the pieces.
func (s *Search) setShapes() {
	for i, it := range s.pr.Items {
		s.pieces += it.Demand
		for _, turned := range []bool{false, true} {
			if turned && !it.Turn {
				continue
			}
			w, h := it.Sides(turned)
			if it.Demand == 0 || !s.fitsSome(w, h) {
				continue
			}
			sh := shape{int32(w), int32(h), int32(i), turned, 0, it.Value}
			s.shapes[0] = append(s.shapes[0], sh)
			sh.a, sh.b = sh.b, sh.a
			s.shapes[1] = append(s.shapes[1], sh)
		}
	}
}

func (s *Search) fitsSome(w, h int) bool {
	for _, k := range s.kinds {
		if w <= int(k.long[0]) && h <= int(k.long[1]) {
			return true
		}
	}
	return false
}

// setTies draws the numbers that counts are hashed with: the hash of a node is
// the sum of one number a packed piece and one a limited sheet used, so that it
// depends on the counts alone and is kept up to date by one addition.
func (s *Search) setTies() {
	x := s.seed
	s.zob = make([]uint64, s.m+len(s.kinds))
	for i := range s.zob {
		x += 0x9e3779b97f4a7c15
		s.zob[i] = mix(x)
	}
}

// mix scrambles 64 bits (the finalizer of SplitMix64).
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// firsts is the default choice of first-cut directions: all three, but only one
// if turning the sheets changes nothing.
func (s *Search) firsts(asked []First) []First {
	switch {
	case asked != nil:
		return asked
	case s.symmetric():
		return []First{FirstX}
	case s.goal == Strip:
		return []First{FirstY, FirstX}
	case s.goal == Fill:
		return []First{FirstX, FirstY}
	}
	return []First{FirstEither, FirstX, FirstY}
}

func (s *Search) symmetric() bool {
	for _, k := range s.kinds {
		if k.long[0] != k.long[1] {
			return false
		}
	}
	for _, it := range s.pr.Items {
		if it.W != it.H && !it.Turn {
			return false
		}
	}
	return s.goal != Strip
}

// limit makes the strip lower than height.
func (s *Search) limit(height int64) {
	k := &s.kinds[0]
	k.long[1] = int32(min(height-1, math.MaxInt32))
	k.area = int64(k.long[0]) * int64(k.long[1])
}

// setWaste derives from the cost to beat how much area may be lost.
func (s *Search) setWaste() {
	s.maxWaste = math.MaxInt64
	if s.goal == Fill {
		return
	}
	budget := s.bestCost - 1
	if s.goal == Strip {
		budget = 0
	}
	if s.bestCost < math.MaxInt64 || s.goal == Strip {
		s.maxWaste = s.buyable(s.sheetAreas(), budget) - s.area
	}
}

// sheetAreas is the area of each kind of sheet.
func (s *Search) sheetAreas() []int64 {
	areas := make([]int64, len(s.kinds))
	for i, k := range s.kinds {
		areas[i] = k.area
	}
	return areas
}

// setLevels divides the area of all pieces into levels about half a piece apart.
func (s *Search) setLevels() {
	var most int64
	for _, a := range s.areas {
		most = max(most, a)
	}
	s.stride = max(1, s.area/int64(max(1, levelsPerPiece*s.pieces)), most/maxAhead)
	s.ahead = int(most/s.stride) + 1
	s.levels = int(s.area/s.stride) + s.pieces
}

const levelsPerPiece = 4

const maxAhead = 64
