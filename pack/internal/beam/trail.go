package beam

import (
	"slices"

	"pinfold/pack/internal/model"
)

// record is one decision; the records of a node lead back to the root.
type record struct {
	parent int32 // index of the record before, -1 for none
	move   move
}

// move packs a shape: shape index, depth, and for a new sheet its kind and axis.
type move struct {
	shape int32
	kind  int16
	depth depth
	axis  uint8
}

// patterns replays the moves that end in rec.
func (s *Search) patterns(rec int32) []model.Pattern {
	moves := s.pass.moves[:0]
	for r := rec; r >= 0; r = s.pass.trail[r].parent {
		moves = append(moves, s.pass.trail[r].move)
	}
	s.pass.moves = moves
	slices.Reverse(moves)
	var out []model.Pattern
	var f front
	for _, mv := range moves {
		sh := &s.shapes[mv.axis][mv.shape]
		var x, y int32
		switch mv.depth {
		case newSheet:
			out = append(out, model.Pattern{Stock: s.kinds[mv.kind].stock})
			f = front{x1c: sh.a, y2c: sh.b, x3: sh.a}
		case newStrip:
			x = f.x1c
			f = front{x1p: x, x1c: x + sh.a, y2c: sh.b, x3: x + sh.a}
		case newRow:
			x, y = f.x1p, f.y2c
			f.y2p, f.y2c, f.x3 = y, y+sh.b, x+sh.a
			f.x1c = max(f.x1c, f.x3)
		case sameRow:
			x, y = f.x3, f.y2p
			f.x3 += sh.a
			f.x1c = max(f.x1c, f.x3)
			f.y2c = max(f.y2c, y+sh.b)
		}
		if mv.axis == 1 {
			x, y = y, x
		}
		last := &out[len(out)-1]
		last.Placed = append(last.Placed, model.Placed{Item: sh.item, X: x, Y: y, Turned: sh.turned})
	}
	return out
}

// solution gathers equal patterns.
func (s *Search) solution(patterns []model.Pattern) *model.Solution {
	sol := &model.Solution{}
	seen := map[uint64][]int{}
next:
	for _, p := range patterns {
		h := uint64(p.Stock)
		for _, q := range p.Placed {
			h = mix(h ^ uint64(uint32(q.Item))<<40 ^ uint64(uint32(q.X))<<20 ^ uint64(uint32(q.Y)))
		}
		for _, i := range seen[h] {
			if sol.Patterns[i].Stock == p.Stock && slices.Equal(sol.Patterns[i].Placed, p.Placed) {
				sol.Copies[i]++
				continue next
			}
		}
		seen[h] = append(seen[h], len(sol.Patterns))
		sol.Add(p, 1)
	}
	return sol
}

// height is how far up the pieces reach.
func (s *Search) height(p model.Pattern) int64 {
	var top int64
	for _, q := range p.Placed {
		_, h := s.pr.Items[q.Item].Sides(q.Turned)
		top = max(top, int64(q.Y)+int64(h))
	}
	return top
}

// offer hands patterns to the sink.
func (s *Search) offer(patterns []model.Pattern) {
	if s.sink == nil {
		return
	}
	for _, p := range patterns {
		s.sink.Offer(p)
	}
}
