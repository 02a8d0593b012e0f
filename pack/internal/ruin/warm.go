package ruin

import "pinfold/pack/internal/model"

// load opens the sheets of a solution and takes what they hold from the pieces
// outside. Copies beyond the demand are left off, and sheets that cannot be had.
func (s *state) load(pr *model.Problem, sol *model.Solution) {
	kinds := make(map[int]int32)
	for k, d := range s.kinds {
		kinds[int(d.stock)] = int32(k)
	}
	for n, p := range sol.Patterns {
		k, ok := kinds[p.Stock]
		if !ok {
			continue
		}
		st := pr.Stocks[p.Stock]
		t, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
		if err != nil {
			continue
		}
		for range sol.Copies[n] {
			if !s.canOpen(k) {
				break
			}
			i := s.openSheet(k)
			s.plant(&s.sheets[i], t, p.Placed, 0)
			if len(s.sheets[i].nodes) == 0 {
				s.closeSheet(s.open - 1)
				continue
			}
			s.refresh(i)
		}
	}
	s.trim()
}

// plant appends a cut tree's pieces and groups to the sheet's nodes, as part of
// a group. Leftovers and groups of one are not kept, and a group of its
// parent's axis gives its parts to it. It returns how many parts it made.
func (s *state) plant(t *sheet, tree *model.Tree, placed []model.Placed, group int32) (parts int) {
	if tree.Leaf {
		if tree.Empty() || s.outs[placed[tree.Piece].Item] == 0 {
			return 0
		}
		q := placed[tree.Piece]
		w, h := s.items[q.Item].w, s.items[q.Item].h
		if q.Turned {
			w, h = h, w
		}
		t.nodes = append(t.nodes, node{item: q.Item, size: 1, w: w, h: h})
		t.area += int64(w) * int64(h)
		s.outs[q.Item]--
		s.worth -= s.items[q.Item].worth
		return 1
	}
	own := -1 - int32(tree.Axis)
	if own == group {
		for _, part := range tree.Parts {
			parts += s.plant(t, part, placed, group)
		}
		return parts
	}
	head := len(t.nodes)
	t.nodes = append(t.nodes, node{item: own})
	for _, part := range tree.Parts {
		parts += s.plant(t, part, placed, own)
	}
	switch {
	case parts == 0:
		t.nodes = t.nodes[:head]
		return 0
	case parts > 1:
		t.nodes[head].size = int32(len(t.nodes) - head)
		return 1
	}
	// One part: it takes the group's place, and joins the group above if it
	// runs along the same axis.
	t.close(head, 1)
	if only := t.nodes[head]; only.item < 0 && only.item == group {
		parts = 0
		for j := head + 1; j < head+int(only.size); j += int(t.nodes[j].size) {
			parts++
		}
		t.close(head, 1)
	}
	return parts
}
