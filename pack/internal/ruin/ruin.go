package ruin

import "slices"

// ruin takes about mu nodes, pieces or whole groups, off random sheets, and goes
// on while the cost is above the limit.
func (s *state) ruin(mu int, rnd *random) {
	for n := 1 + rnd.below(2*mu-1); s.open > 0 && (n > 0 || s.cost > s.limit); n-- {
		p := rnd.below(s.open)
		if f := s.Focus; f > 0 && len(s.touched) >= f {
			i := s.touched[rnd.below(f)]
			if s.sheets[i].kind == closed {
				continue
			}
			p = slices.Index(s.slots[:s.open], i)
		}
		if s.Focus == -1 || s.Focus == -2 && len(s.touched) == 0 {
			q := rnd.below(s.open)
			if s.sheets[s.slots[q]].value > s.sheets[s.slots[p]].value {
				p = q
			}
		}
		if s.Focus == -3 && len(s.touched) > 2 && rnd.next()&1 == 0 {
			i := s.touched[rnd.below(len(s.touched))]
			if s.sheets[i].kind == closed {
				continue
			}
			p = slices.Index(s.slots[:s.open], i)
		}
		i := s.slots[p]
		t := &s.sheets[i]
		if len(t.nodes) == 0 {
			s.closeSheet(p)
			continue
		}
		s.takeOut(i, rnd.below(len(t.nodes)))
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

// empty takes the sheet in slots[p] out of use, with all its pieces.
func (s *state) empty(p int) {
	i := s.slots[p]
	if len(s.sheets[i].nodes) > 0 {
		s.takeOut(i, 0)
	}
	s.closeSheet(p)
}
