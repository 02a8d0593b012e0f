package ruin

import "pinfold/pack/internal/model"

// node is a piece, or a group of parts cut from one region. Sizes are tight: a
// group is no larger than its parts need. How far a node could grow without
// pushing anything off the sheet is kept beside its size.
type node struct {
	item  int32 // the piece's item, or groupX or groupY
	size  int32 // nodes of the subtree, this one included
	w, h  int32 // tight extents
	aw    int32 // extents the node may grow to, everything else staying
	ah    int32
	level int32 // groups above it
}

// A group's parts lie along one axis, and the parts of its parts along the
// other.
const (
	groupX int32 = -1 - int32(model.AxisX)
	groupY int32 = -1 - int32(model.AxisY)
)

// across is the group along the other axis.
func across(group int32) int32 { return groupX + groupY - group }

// spot is a place for one more piece: the rectangle it may take there. Spots
// overlap: taking one shrinks others.
type spot struct {
	w, h int32
}

// gate bounds the spots of a sheet: nothing larger fits any of them.
type gate struct {
	w, h int32
	area uint64
}

// sheet is the cut tree of one sheet: its nodes in preorder, so that removing
// or adding one is a move of memory and every pass over the tree a loop. Node i
// has spot i: at the end of a group, or a piece's side that its group does not
// run along. One spot more wraps the root.
type sheet struct {
	kind  int32 // stock, or closed
	w, h  int32
	nodes []node
	spots []spot
	area  int64 // of the pieces
	value int64 // of what is left, cut into the better rectangles
	gate  gate
	stamp uint32 // the step that saved a copy last
	dirty bool   // nodes changed since the last refresh
}

const closed int32 = -1

// copyFrom makes s equal to t, in s's own memory.
func (s *sheet) copyFrom(t *sheet) {
	nodes, spots := s.nodes, s.spots
	*s = *t
	s.nodes = append(nodes[:0], t.nodes...)
	s.spots = append(spots[:0], t.spots...)
}

// reset makes s an empty sheet of the kind.
func (s *sheet) reset(kind, w, h int32) {
	s.kind, s.w, s.h = kind, w, h
	s.nodes = s.nodes[:0]
	s.area, s.dirty = 0, true
}

// grow adds d to the sizes of the groups around node i and returns the innermost
// of them, or -1.
func (s *sheet) grow(i int, d int32) (parent int) {
	parent = -1
	for j := 0; j < i; {
		s.nodes[j].size += d
		parent = j
		k := j + 1
		for k+int(s.nodes[k].size) <= i {
			k += int(s.nodes[k].size)
		}
		j = k
	}
	return parent
}

// insert puts a piece into spot i.
func (s *sheet) insert(i int, item, w, h int32) {
	leaf := node{item: item, size: 1, w: w, h: h}
	n := len(s.nodes)
	s.area += int64(w) * int64(h)
	s.dirty = true
	switch {
	case n == 0:
		s.nodes = append(s.nodes, leaf)
	case i == n:
		group := groupY
		if s.nodes[0].item < 0 {
			group = across(s.nodes[0].item)
		}
		s.open(0, 1)
		s.nodes[0] = node{item: group, size: int32(n + 2)}
		s.nodes = append(s.nodes, leaf)
	case s.nodes[i].item < 0:
		s.grow(i, 1)
		s.nodes[i].size++
		end := i + int(s.nodes[i].size) - 1
		s.open(end, 1)
		s.nodes[end] = leaf
	default:
		group := groupX
		if p := s.grow(i, 2); p >= 0 {
			group = across(s.nodes[p].item)
		}
		old := s.nodes[i]
		s.open(i, 2)
		s.nodes[i] = node{item: group, size: 3}
		s.nodes[i+1] = old
		s.nodes[i+2] = leaf
	}
}

// open makes room for k nodes at i.
func (s *sheet) open(i, k int) {
	n := len(s.nodes)
	for range k {
		s.nodes = append(s.nodes, node{})
	}
	copy(s.nodes[i+k:], s.nodes[i:n])
}

// remove takes the subtree of node i away. A group left with one part gives way
// to it, and so does a part that then runs along its new group's axis.
func (s *sheet) remove(i int) {
	s.dirty = true
	k := int(s.nodes[i].size)
	for _, v := range s.nodes[i : i+k] {
		if v.item >= 0 {
			s.area -= int64(v.w) * int64(v.h)
		}
	}
	if i == 0 {
		s.nodes = s.nodes[:0]
		return
	}
	p := s.grow(i, int32(-k))
	s.close(i, k)
	if s.nodes[p].size != 1+s.nodes[p+1].size {
		return
	}
	lost := 1
	if p > 0 && s.nodes[p+1].item < 0 {
		lost = 2
	}
	s.grow(p, int32(-lost))
	s.close(p, lost)
}

// close drops k nodes at i.
func (s *sheet) close(i, k int) {
	n := copy(s.nodes[i:], s.nodes[i+k:])
	s.nodes = s.nodes[:i+n]
}

// refresh recomputes everything that follows from the nodes' order and the
// pieces' sizes. No spot makes the tree deeper than stages, if that is above 0.
func (s *sheet) refresh(v *values, stages int32) {
	s.dirty = false
	n := len(s.nodes)
	if cap(s.spots) <= n {
		s.spots = make([]spot, 2*n+8)
	}
	s.spots = s.spots[:n+1]
	if n == 0 {
		s.spots[0] = spot{s.w, s.h}
		s.gate = gate{s.w, s.h, uint64(s.w) * uint64(s.h)}
		s.value = v.of(s.w, s.h)
		return
	}
	s.value = s.tighten(v) + s.rootValue(v)
	s.slacken(stages)
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
		var w, h int32
		end := i + int(g.size)
		if g.item == groupX {
			for j := i + 1; j < end; j += int(nodes[j].size) {
				w += nodes[j].w
				h = max(h, nodes[j].h)
			}
		} else {
			for j := i + 1; j < end; j += int(nodes[j].size) {
				h += nodes[j].h
				w = max(w, nodes[j].w)
			}
		}
		g.w, g.h = w, h
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
	tight := s.beside(v, 0, r.w, r.h)
	if r.item == groupX {
		return max(max(first, second)+tight, v.of(right, s.h)+s.beside(v, 0, r.w, s.h))
	}
	return max(max(first, second)+tight, v.of(s.w, top)+s.beside(v, 0, s.w, r.h))
}

// slacken computes how far every node can grow, and from that the spots.
func (s *sheet) slacken(stages int32) {
	nodes, spots := s.nodes, s.spots
	n := len(nodes)
	r := &nodes[0]
	r.aw, r.ah, r.level = s.w, s.h, 0
	depth := int32(0)
	for i := range nodes {
		g := &nodes[i]
		if g.item >= 0 {
			continue
		}
		depth = max(depth, g.level+1)
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
	beside, above := spot{s.w - r.w, s.h}, spot{s.w, s.h - r.h}
	switch {
	case r.item >= 0:
		spots[0], spots[n] = beside, above
	case r.item == groupX:
		spots[n] = above
	default:
		spots[n] = beside
	}
	if r.item < 0 && stages > 0 && depth+1 > stages {
		spots[n] = spot{}
	}
	var g gate
	for _, p := range spots {
		if p.w > 0 && p.h > 0 {
			g.w, g.h = max(g.w, p.w), max(g.h, p.h)
			g.area = max(g.area, uint64(p.w)*uint64(p.h))
		}
	}
	s.gate = g
}
