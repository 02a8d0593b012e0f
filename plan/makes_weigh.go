package plan

import (
	"context"
	"math"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// weighed is how many sheets of one fabric are filled to see how much of their
// area pieces can cover; of the others the area itself counts.
const weighed = 40

// area is what a rectangle takes up with a kerf at two of its sides.
func area(w, h, kerf units.Length) int64 { return int64(w+kerf) * int64(h+kerf) }

// weigh works out the areas of the pieces and the most that the sheets hold.
func (pl *pile) weigh(ctx context.Context, o MakesOptions) error {
	kerf := pl.problem.Rules.Kerf
	for _, q := range pl.problem.Pieces {
		pl.area = append(pl.area, area(q.W, q.H, kerf))
	}
	for i, s := range pl.problem.Sheets {
		w, h := s.Usable()
		holds := area(w, h, kerf)
		if i < weighed {
			most, err := pl.fullest(ctx, i, o)
			if err != nil {
				return err
			}
			holds = min(holds, most)
		}
		if holds > 0 && int64(s.Copies) > (math.MaxInt64/2-pl.room)/holds {
			pl.room = math.MaxInt64 / 2
			return nil
		}
		pl.room += int64(s.Copies) * holds
	}
	return nil
}

// fullest is the most area that pieces can cover of the i-th sheet, however many
// there are of each size. No stage limit makes that less than is said.
func (pl *pile) fullest(ctx context.Context, i int, o MakesOptions) (int64, error) {
	p := pl.problem
	p.Sheets = p.Sheets[i : i+1]
	p.Rules.Stages = 0
	p.Pieces = nil
	for k, q := range pl.problem.Pieces {
		q.Demand, q.Value = pack.MaxPieces/len(pl.problem.Pieces), pl.area[k]
		q.Demand = min(q.Demand, pack.MaxDemand)
		p.Pieces = append(p.Pieces, q)
	}
	f, err := pack.Fill(ctx, p, pack.Options{Effort: o.Effort, Seed: o.Seed, Workers: o.Workers, Share: firstLook})
	return f.Bound, err
}

// space is area that ornaments share: weight is what one of each line takes up at
// least, room what there is.
type space struct {
	weight []int64
	room   int64
}

// measure lists the spaces: each pile with the pieces that no other may fill, and
// piles that lists join together with all their pieces.
func (m *maker) measure() {
	pool := make([]int, len(m.piles)) // the first pile it is joined with
	for i := range pool {
		pool[i] = i
	}
	pileOf := func(fabric string) int {
		return slices.IndexFunc(m.piles, func(pl *pile) bool { return pl.fabric == fabric })
	}
	join := func(a, b int) {
		from, to := max(pool[a], pool[b]), min(pool[a], pool[b])
		for i := range pool {
			if pool[i] == from {
				pool[i] = to
			}
		}
	}
	own, pooled := make([]space, len(m.piles)), make([]space, len(m.piles))
	for i := range m.piles {
		own[i] = space{make([]int64, len(m.lines)), m.piles[i].room}
		pooled[i].weight = make([]int64, len(m.lines))
	}
	// add weighs one part of a line for a pile.
	add := func(s *space, line, pile int, q part) {
		w := int64(q.per) * area(q.size.Across, q.size.Along, m.piles[pile].problem.Rules.Kerf)
		// Spares are rounded up, so they are no less than their percentage.
		s.weight[line] += w + w/10000*int64(m.plan.Cutting.Spare)
	}
	for line := range m.lines {
		l := &m.lines[line]
		for _, q := range m.plan.Ornament(l.Ornament).parts(m.plan.Unit) {
			f := l.filling(q.role)
			first := pileOf(f.Fabric)
			if len(f.Or) == 0 {
				add(&own[first], line, first, q)
			}
			for _, one := range f.Or {
				// A fabric that holds none of its pieces has no pile.
				if k := pileOf(one.Name); k >= 0 && first >= 0 {
					join(first, k)
				} else if k >= 0 {
					first = k
				}
			}
			if first >= 0 {
				add(&pooled[first], line, first, q)
			}
		}
	}
	m.spaces = append(m.spaces, own...)
	if m.lists == 0 {
		return
	}
	for i := range pooled {
		s := space{weight: make([]int64, len(m.lines))}
		for k := range pooled {
			if pool[k] != i {
				continue
			}
			s.room = min(s.room+m.piles[k].room, math.MaxInt64/2)
			for line, w := range pooled[k].weight {
				s.weight[line] += w
			}
		}
		if s.room > 0 || slices.ContainsFunc(s.weight, func(w int64) bool { return w > 0 }) {
			m.spaces = append(m.spaces, s)
		}
	}
}

// overfull tells whether n ornaments have more area than a space has.
func (m *maker) overfull(n []int) bool {
	return slices.ContainsFunc(m.spaces, func(s space) bool {
		left := s.room
		for i, k := range n {
			w := s.weight[i]
			if w > 0 && int64(k) > left/w {
				return true
			}
			left -= int64(k) * w
		}
		return false
	})
}

// ceiling is the most of one line that areas and the limits of a plan allow.
func (m *maker) ceiling(line int) int {
	most := int64(pack.MaxDemand)
	for _, s := range m.spaces {
		if w := s.weight[line]; w > 0 {
			most = min(most, s.room/w)
		}
	}
	all := 0
	for _, q := range m.plan.Ornament(m.lines[line].Ornament).parts(m.plan.Unit) {
		all += q.per
	}
	// With spares it is at most twice as many, and one size may be in every part.
	return int(min(most, int64(pack.MaxDemand/2/max(all, 1))))
}
