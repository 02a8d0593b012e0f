package ruin

import "pinfold/pack/internal/random"

// ruin takes up to most nodes, pieces or whole groups, off random sheets, those
// with more left over more often. Sheets that become empty are given back.
func (s *state) ruin(most int, rnd *random.Stream) {
	for n := 1 + rnd.Below(most); n > 0 && s.open > 0; n-- {
		p := rnd.Below(s.open)
		if q := rnd.Below(s.open); s.sheets[s.slots[q]].value > s.sheets[s.slots[p]].value {
			p = q
		}
		i := s.slots[p]
		t := &s.sheets[i]
		s.takeOut(i, rnd.Below(len(t.nodes)))
		if len(t.nodes) == 0 {
			s.closeSheet(p)
		}
	}
	for _, i := range s.touched {
		if t := &s.sheets[i]; t.kind != closed && t.dirty {
			s.refresh(i)
		}
	}
}

// shrink empties random sheets until the cost is within the limit.
func (s *state) shrink(rnd *random.Stream) {
	for s.cost > s.limit && s.open > 0 {
		p := rnd.Below(s.open)
		if i := s.slots[p]; s.kinds[s.sheets[i].kind].cost > 0 {
			s.takeOut(i, 0)
			s.closeSheet(p)
		}
	}
}
