package blocks

import "slices"

// rebuild copies the present tree to the one tried, less what is gone: all that
// is left over in a region is gathered at its end, and regions left with a
// single part become that part.
func (m *mender) rebuild() {
	t := &m.try
	t.nodes = t.nodes[:0]
	t.left = append(t.left[:0], m.now.left...)
	t.nodes = append(t.nodes, mendNode{})
	m.put(0, 0)
}

// taken reports whether node i is gone, counting the copies below it as off the
// sheet.
func (m *mender) taken(i int32) bool {
	n := m.now.nodes[i]
	if n.what == leftover {
		return true
	}
	if n.what < goneMark-8 {
		return false
	}
	m.drop(i)
	return true
}

func (m *mender) drop(i int32) {
	n := m.now.nodes[i]
	if n.what >= goneMark-8 {
		n.what -= goneMark
	}
	if n.what >= 0 {
		m.try.left[m.s.shapes[n.what].item]++
		return
	}
	for c := n.first; c != none; c = m.now.nodes[c].next {
		m.drop(c)
	}
}

// put writes node i of the present tree to place at of the new one.
func (m *mender) put(at, i int32) {
	n := m.now.nodes[i]
	t := &m.try
	if m.taken(i) {
		t.nodes[at] = mendNode{what: leftover, w: n.w, h: n.h, first: none, next: t.nodes[at].next}
		return
	}
	if n.what >= 0 {
		t.nodes[at] = mendNode{what: n.what, w: n.w, h: n.h, first: none, next: t.nodes[at].next}
		return
	}
	next := t.nodes[at].next
	t.nodes[at] = mendNode{what: n.what, w: n.w, h: n.h, first: none, next: next}
	last, rest := none, int32(0)
	m.parts(at, i, &last, &rest)
	switch {
	case last == none:
		t.nodes[at] = mendNode{what: leftover, w: n.w, h: n.h, first: none, next: next}
	case rest > 0:
		l := mendNode{what: leftover, w: rest, h: n.h, first: none, next: none}
		if n.what == cutY {
			l.w, l.h = n.w, rest
		}
		t.nodes[last].next = int32(len(t.nodes))
		t.nodes = append(t.nodes, l)
	case t.nodes[at].first == last:
		// One part fills the region.
		t.nodes[at] = t.nodes[last]
		t.nodes[at].next = next
		t.nodes[last] = mendNode{what: gone, next: none, first: none}
	}
}

// parts writes the parts of node i, those of parts cut along the same axis among
// them, as parts of place at; rest gathers what is left over.
func (m *mender) parts(at, i int32, last, rest *int32) {
	t := &m.try
	along := m.now.nodes[i].what
	for c := m.now.nodes[i].first; c != none; c = m.now.nodes[c].next {
		n := m.now.nodes[c]
		if n.what == along {
			m.parts(at, c, last, rest)
			continue
		}
		k := int32(len(t.nodes))
		t.nodes = append(t.nodes, mendNode{next: none})
		m.put(k, c)
		if t.nodes[k].what == leftover {
			t.nodes = t.nodes[:k]
			if along == cutX {
				*rest += n.w
			} else {
				*rest += n.h
			}
			continue
		}
		if *last == none {
			t.nodes[at].first = k
		} else {
			t.nodes[*last].next = k
		}
		*last = k
	}
}

// recreate puts copies off the sheet into what is left over, each where least of
// use is lost, in an order that is partly random.
func (m *mender) recreate() {
	way := m.below(3)
	for _, i := range m.order {
		it := m.s.pr.Items[i]
		var k uint64
		switch way {
		case 0:
			k = uint64(it.Area())
		case 1:
			k = uint64(m.value[i] * 1024 / int64(it.W+it.H))
		default:
			k = uint64(max(it.W, it.H))
		}
		// Up to a third more or less.
		m.key[i] = k * (192 + m.random()>>57)
	}
	slices.SortFunc(m.order, func(a, b int32) int {
		switch {
		case m.key[a] > m.key[b]:
			return -1
		case m.key[a] < m.key[b]:
			return 1
		}
		return int(a - b)
	})
	m.steps += int64(len(m.order)) * 30
	for _, i := range m.order {
		for m.try.left[i] > 0 && m.insert(i) {
		}
	}
}

// insert puts one copy of an item where it fits best; it tells whether it fits
// anywhere.
func (m *mender) insert(item int32) bool {
	nodes := m.try.nodes
	best, shape, axis, least := -1, 0, cutX, 0.0
	for k, q := range m.s.shapes {
		if q.item != item {
			continue
		}
		for i, n := range nodes {
			if n.what != leftover || n.w < q.w || n.h < q.h {
				continue
			}
			m.steps += 4
			if m.random()&31 == 0 {
				continue
			}
			whole := worthLeft(n.w, n.h)
			dw, dh := n.w-q.w, n.h-q.h
			if loss := whole - worthLeft(dw, n.h) - worthLeft(q.w, dh); best < 0 || loss < least {
				best, shape, axis, least = i, k, cutX, loss
			}
			if loss := whole - worthLeft(n.w, dh) - worthLeft(dw, q.h); loss < least {
				best, shape, axis, least = i, k, cutY, loss
			}
		}
	}
	m.steps += int64(len(nodes)+len(m.s.shapes)) * 2
	if best < 0 {
		return false
	}
	m.try.left[item]--
	m.place(int32(best), int32(shape), axis)
	return true
}

// place cuts a piece from leftover i, first along axis.
func (m *mender) place(i, shape, axis int32) {
	t := &m.try
	q := m.s.shapes[shape]
	for {
		n := t.nodes[i]
		if n.w == q.w && n.h == q.h {
			t.nodes[i].what = shape
			return
		}
		part, rest := n, n
		part.first, rest.first, rest.next = none, none, none
		if axis == cutX {
			part.w, rest.w = q.w, n.w-q.w
		} else {
			part.h, rest.h = q.h, n.h-q.h
		}
		if rest.w > 0 && rest.h > 0 {
			k := int32(len(t.nodes))
			part.next = k + 1
			t.nodes = append(t.nodes, part, rest)
			t.nodes[i].what, t.nodes[i].first = axis, k
			i = k
		}
		axis = cutX + cutY - axis
	}
}
