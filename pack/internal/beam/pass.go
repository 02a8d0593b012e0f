package beam

// pass is one run of the beam with a fixed width, guide and first direction.
type pass struct {
	running  bool
	width    int
	guideNo  int
	level    int  // whose nodes are being expanded
	at       int  // next of them
	cut      bool // something was turned away for lack of width
	improved bool
	deepest  int32 // trail of the best node of the last level with nodes

	ring   []stage // by level modulo the length
	chains chains
	trail  []record
	moves  []move
}

// stage is a level of the search: first the pool of what may come into it, then
// its nodes.
type stage struct {
	level
	pool pool
	seen seenSet
}

// guide rates a partial solution, lower being better: used is the weighted area
// used up, covered the area of the pieces, n their number, value their value.
func (p *pass) guide(used, covered, n, value float64) float64 {
	switch p.guideNo {
	case 1:
		rate := 1 - covered/used
		if rate < 0.02 {
			rate = 0.01 + rate/2
		}
		return rate * n / covered
	case 2:
		return (0.1 + max(0, 1-covered/used)) * n / covered
	case 4:
		return used / value
	case 5:
		return used / value * n / covered
	}
	return used / covered
}

// levelOf is the level of a child of a node of the current level: by the area
// packed, but always a later one.
func (s *Search) levelOf(covered int64) int {
	return max(s.pass.level+1, int(covered/s.stride))
}

func (s *Search) beginPass() {
	p, c := &s.pass, &s.configs[s.turn]
	p.running, p.cut, p.improved = true, false, false
	p.width, p.guideNo = c.width, c.guide
	p.level, p.at = 0, 0
	p.trail, p.deepest = p.trail[:0], -1
	if p.ring == nil {
		p.ring = make([]stage, s.ahead+1)
	}
	for i := range p.ring {
		st := &p.ring[i]
		st.nodes, st.left = st.nodes[:0], st.left[:0]
		st.clear(p.width)
	}
	root := &p.ring[0]
	root.nodes = append(root.nodes, node{front: front{kind: -1}, trail: -1})
	for _, it := range s.pr.Items {
		root.left = append(root.left, int32(it.Demand))
	}
	for _, k := range s.kinds {
		root.left = append(root.left, k.copies)
	}
	s.spent += 1000
}

// clear empties the pool for the next level that takes its place.
func (st *stage) clear(width int) {
	st.pool.reset(max(16, 2*width))
	st.seen.reset()
}

// endLevel moves on to the next level.
func (s *Search) endLevel() {
	p := &s.pass
	p.level++
	p.at = 0
	s.spent += 20
	if p.level > s.levels || len(p.trail)+p.width > maxTrail {
		s.endPass()
		return
	}
	st := &p.ring[p.level%len(p.ring)]
	s.take(st)
	st.clear(p.width)
	if len(st.nodes) > 0 {
		p.deepest = st.nodes[0].trail
	}
}

// take moves the best candidates of a level that no better one dominates into
// it.
func (s *Search) take(st *stage) {
	p := &s.pass
	st.nodes, st.left = st.nodes[:0], st.left[:0]
	if len(st.pool.keys) == 0 {
		return
	}
	p.chains.reset(p.width)
	row := s.m + len(s.kinds)
	s.spent += int64(len(st.pool.keys)) * 60
	ordered := 0
	for i := range st.pool.keys {
		if len(st.nodes) == p.width {
			p.cut = true
			break
		}
		if i == ordered {
			ordered = st.pool.sorted(i, p.width-len(st.nodes))
		}
		c := &st.pool.slots[st.pool.keys[i].slot]
		home := &p.ring[c.level]
		par := &home.nodes[c.parent]
		n := s.child(c, par)
		slot := p.chains.find(c.hash)
		if s.dominated(&n, st.nodes, slot.head) {
			continue
		}
		p.chains.push(slot, int32(len(st.nodes)))
		n.trail = int32(len(p.trail))
		p.trail = append(p.trail, record{par.trail, s.move(c)})
		st.nodes = append(st.nodes, n)
		from := int(c.parent) * row
		at := len(st.left)
		st.left = append(st.left, home.left[from:from+row]...)
		st.left[at+int(s.shapes[c.axis][c.shape].item)]--
		if c.depth == newSheet && s.kinds[c.kind].copies != plenty {
			st.left[at+s.m+int(c.kind)]--
		}
		s.spent += int64(60 + row/2)
	}
}

// child works out the node of a candidate, all but its trail.
func (s *Search) child(c *candidate, par *node) node {
	sh := &s.shapes[c.axis][c.shape]
	n := *par
	n.front, n.hash = c.front, c.hash
	n.covered += sh.area
	n.value += sh.value
	n.packed++
	if c.depth == newSheet {
		if par.kind >= 0 {
			k := &s.kinds[par.kind]
			n.gone += k.area
			n.goneDear += k.weight * float64(k.area)
		}
		n.cost += s.kinds[c.kind].cost
	}
	return n
}

func (s *Search) move(c *candidate) move {
	return move{shape: c.shape, kind: c.kind, depth: c.depth, axis: c.axis}
}

// dominated tells whether one of the nodes chained from head, which have packed
// the same pieces, makes n needless.
func (s *Search) dominated(n *node, nodes []node, head int32) bool {
	for i := head; i >= 0; i = s.pass.chains.next[i] {
		a := &nodes[i]
		if a.cost > n.cost {
			continue
		}
		if a.kind == n.kind && a.axis == n.axis && a.inside(&n.front) {
			return true
		}
		k := &s.kinds[n.kind]
		if a.cost+k.cost <= n.cost && k.copies == plenty {
			return true
		}
	}
	return false
}

// endPass offers what a pass without success came to, and widens the
// configuration. A pass that turned nothing away is complete: wider ones of the
// same direction would find nothing else.
func (s *Search) endPass() {
	p, c := &s.pass, &s.configs[s.turn]
	p.running = false
	if s.goal == Pack && !p.improved && p.deepest >= 0 {
		s.offer(s.patterns(p.deepest))
		s.spent += int64(s.pieces) * 20
	}
	full := len(p.trail)+p.width > maxTrail
	c.width += max(1, c.width/2)
	c.done = full
	if !p.cut && !full {
		s.complete(c.first)
	}
	s.next()
}

// complete notes that a first direction has been searched to the end.
func (s *Search) complete(f First) {
	all := true
	for i := range s.configs {
		c := &s.configs[i]
		if c.first == f || f == FirstEither {
			c.done, c.proved = true, true
		}
		all = all && c.proved
	}
	if all || f == FirstEither {
		s.closed, s.exhausted = true, true
	}
}

// found records a solution that ends with candidate c.
func (s *Search) found(fam *family, c candidate, worth int64) {
	if s.goal == Pack && worth >= s.bestCost {
		return
	}
	p := &s.pass
	p.trail = append(p.trail, record{fam.trail, s.move(&c)})
	patterns := s.patterns(int32(len(p.trail) - 1))
	p.trail = p.trail[:len(p.trail)-1]
	s.spent += int64(s.pieces) * 20
	if s.goal == Strip {
		worth = s.height(patterns[0])
		if worth >= s.bestCost {
			return
		}
	}
	s.best = s.solution(patterns)
	p.improved = true
	s.offer(patterns)
	s.beat(worth)
}
