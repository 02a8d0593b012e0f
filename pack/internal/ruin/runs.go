package ruin

// runSpots computes the spots across the last parts of groups: two parts or
// more, not all. A run is worth having if it leaves more room across than every
// longer one; parts are inserted in falling order for that.
func (s *sheet) runSpots(stages int32) {
	nodes := s.nodes
	for i := range nodes {
		g := &nodes[i]
		if g.item >= 0 || g.size < 4 {
			continue
		}
		// First what each run takes along the axis, and its first part across.
		base := len(s.runs)
		first, end := i+1+int(nodes[i+1].size), i+int(g.size)
		long, wide := g.w-nodes[i+1].w, g.aw-g.w
		if g.item == groupY {
			long, wide = g.h-nodes[i+1].h, g.ah-g.h
		}
		for j := first; j < end; j += int(nodes[j].size) {
			s.runs = append(s.runs, int32(j))
			if g.item == groupX {
				s.spots = append(s.spots, spot{long + wide, nodes[j].h})
				long -= nodes[j].w
			} else {
				s.spots = append(s.spots, spot{nodes[j].w, long + wide})
				long -= nodes[j].h
			}
		}
		s.spots = s.spots[:len(s.spots)-len(s.runs)+base+s.pickRuns(g, base, stages)]
		s.runs = s.runs[:len(s.spots)-len(nodes)-1]
	}
}

// pickRuns replaces the runs from base on, all of group g, by those worth
// having, with the room across each, and returns how many there are.
func (s *sheet) pickRuns(g *node, base int, stages int32) int {
	runs, spots := s.runs[base:], s.spots[len(s.spots)-len(s.runs)+base:]
	deep := int32(0)
	high := spot{}
	for k := len(runs) - 1; k >= 0; k-- {
		p := &spots[k]
		high.w, high.h = max(high.w, p.w), max(high.h, p.h)
		if g.item == groupX {
			p.h = high.h
		} else {
			p.w = high.w
		}
		// The parts of a run come two groups deeper.
		if deep = max(deep, s.nodes[runs[k]].deep); stages > 0 && g.level+3+deep > stages {
			runs[k] = -1
		}
	}
	n, last := 0, g.h
	if g.item == groupY {
		last = g.w
	}
	for k := range len(runs) - 1 {
		p := spots[k]
		switch {
		case runs[k] < 0:
			continue
		case g.item == groupX && p.h < last:
			last, p.h = p.h, g.ah-p.h
		case g.item == groupY && p.w < last:
			last, p.w = p.w, g.aw-p.w
		default:
			continue
		}
		runs[n], spots[n] = runs[k], p
		n++
	}
	return n
}
