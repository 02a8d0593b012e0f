package ruin

// refresh recomputes everything that follows from the nodes' order and the
// pieces' sizes. No spot makes the tree deeper than stages, if that is above 0.
func (s *sheet) refresh(v *values, stages int32) {
	s.dirty = false
	s.runs = s.runs[:0]
	n := len(s.nodes)
	if cap(s.spots) <= n {
		s.spots = make([]spot, 2*n+8)
	}
	s.spots = s.spots[:n+1]
	if n == 0 {
		s.spots[0] = spot{s.w, s.h}
		s.gate = gate{s.w, s.h, int64(s.w) * int64(s.h)}
		s.value = v.of(s.w, s.h)
		return
	}
	s.value = s.tighten(v) + s.rootValue(v)
	s.slacken(stages)
	s.rootSpots(stages)
	s.runSpots(stages)
	s.gate = gate{}
	g := &s.gate
	for _, p := range s.spots {
		if p.w > 0 && p.h > 0 {
			g.w, g.h = max(g.w, p.w), max(g.h, p.h)
			g.area = max(g.area, int64(p.w)*int64(p.h))
		}
	}
}

// tighten computes the sizes of groups from those of their parts, and returns
// the value of what the groups below the root leave beside their parts.
func (s *sheet) tighten(v *values) (value int64) {
	nodes := s.nodes
	for i := len(nodes) - 1; i >= 0; i-- {
		g := &nodes[i]
		if g.item >= 0 {
			continue
		}
		var w, h, deep int32
		end := i + int(g.size)
		if g.item == groupX {
			for j := i + 1; j < end; j += int(nodes[j].size) {
				w += nodes[j].w
				h = max(h, nodes[j].h)
				deep = max(deep, nodes[j].deep)
			}
		} else {
			for j := i + 1; j < end; j += int(nodes[j].size) {
				h += nodes[j].h
				w = max(w, nodes[j].w)
				deep = max(deep, nodes[j].deep)
			}
		}
		g.w, g.h, g.deep = w, h, deep+1
		if i > 0 {
			value += s.beside(v, i, w, h)
		}
	}
	return value
}

// beside is the value of what lies between the parts of group i and a region of
// w x h, across its axis.
func (s *sheet) beside(v *values, i int, w, h int32) (value int64) {
	nodes := s.nodes
	end := i + int(nodes[i].size)
	if nodes[i].item == groupX {
		for j := i + 1; j < end; j += int(nodes[j].size) {
			value += v.of(nodes[j].w, h-nodes[j].h)
		}
		return value
	}
	for j := i + 1; j < end; j += int(nodes[j].size) {
		value += v.of(w-nodes[j].w, nodes[j].h)
	}
	return value
}

// rootValue is the value of what is left around the root and beside its parts,
// cut in the best of the ways there are.
func (s *sheet) rootValue(v *values) int64 {
	r := &s.nodes[0]
	right, top := s.w-r.w, s.h-r.h
	first := v.of(right, s.h) + v.of(r.w, top)
	second := v.of(right, r.h) + v.of(s.w, top)
	if r.item >= 0 {
		return max(first, second)
	}
	tight := max(first, second) + s.beside(v, 0, r.w, r.h)
	if r.item == groupX {
		return max(tight, v.of(right, s.h)+s.beside(v, 0, r.w, s.h))
	}
	return max(tight, v.of(s.w, top)+s.beside(v, 0, s.w, r.h))
}

// slacken computes how far every node can grow, and from that the spots but for
// the root's and those of runs.
func (s *sheet) slacken(stages int32) {
	nodes, spots := s.nodes, s.spots
	r := &nodes[0]
	r.aw, r.ah, r.level = s.w, s.h, 0
	for i := range nodes {
		g := &nodes[i]
		if g.item >= 0 {
			continue
		}
		split := stages == 0 || g.level+2 <= stages
		end := i + int(g.size)
		if g.item == groupX {
			slack := g.aw - g.w
			spots[i] = spot{slack, g.ah}
			for j := i + 1; j < end; j += int(nodes[j].size) {
				c := &nodes[j]
				c.aw, c.ah, c.level = c.w+slack, g.ah, g.level+1
				if c.item >= 0 {
					spots[j] = spot{}
					if split {
						spots[j] = spot{c.aw, c.ah - c.h}
					}
				}
			}
			continue
		}
		slack := g.ah - g.h
		spots[i] = spot{g.aw, slack}
		for j := i + 1; j < end; j += int(nodes[j].size) {
			c := &nodes[j]
			c.aw, c.ah, c.level = g.aw, c.h+slack, g.level+1
			if c.item >= 0 {
				spots[j] = spot{}
				if split {
					spots[j] = spot{c.aw - c.w, c.ah}
				}
			}
		}
	}
}

// rootSpots computes the spots beside and above all there is.
func (s *sheet) rootSpots(stages int32) {
	r := &s.nodes[0]
	n := len(s.nodes)
	beside, above := spot{s.w - r.w, s.h}, spot{s.w, s.h - r.h}
	switch {
	case r.item >= 0:
		s.spots[0], s.spots[n] = beside, above
		return
	case r.item == groupX:
		s.spots[n] = above
	default:
		s.spots[n] = beside
	}
	if stages > 0 && r.deep+1 > stages {
		s.spots[n] = spot{}
	}
}
