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
	deep  int32 // groups one within another, this one included
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
	area int64
}

// sheet is the cut tree of one sheet: its nodes in preorder, so that removing
// or adding one is a move of memory and every pass over the tree a loop. Node i
// has spot i: in a group, beside its parts, or at the side of a piece that its
// group does not run along. Then comes one that wraps the root, then one for
// each of runs: across the parts of a group from that node to the last.
type sheet struct {
	kind  int32 // stock, or closed
	w, h  int32
	nodes []node
	spots []spot
	runs  []int32 // nodes
	area  int64   // of the pieces
	value int64   // of what is left, cut into the better rectangles
	gate  gate
	stamp uint32 // the mark a copy was saved after
	dirty bool   // nodes changed since the last refresh
}

const closed int32 = -1

// copyFrom makes s equal to t, in s's own memory.
func (s *sheet) copyFrom(t *sheet) {
	nodes, spots, runs := s.nodes, s.spots, s.runs
	*s = *t
	s.runs = append(runs[:0], t.runs...)
	s.nodes = append(nodes[:0], t.nodes...)
	s.spots = append(spots[:0], t.spots...)
}

// reset makes s an empty sheet of a kind.
func (s *sheet) reset(kind, w, h int32) {
	s.kind, s.w, s.h = kind, w, h
	s.nodes = s.nodes[:0]
	s.area, s.value, s.dirty = 0, 0, true
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
	case i > n:
		i = int(s.runs[i-n-1])
		p := s.grow(i, 3)
		group, end := s.nodes[p].item, p+int(s.nodes[p].size)-3
		k := int32(end - i)
		s.open(i, 2)
		s.nodes[i] = node{item: across(group), size: k + 3}
		s.nodes[i+1] = node{item: group, size: k + 1}
		s.open(end+2, 1)
		s.nodes[end+2] = leaf
	case s.nodes[i].item < 0:
		s.grow(i, 1)
		at := s.among(i, w, h)
		s.nodes[i].size++
		s.open(at, 1)
		s.nodes[at] = leaf
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

// among is where a part of w x h goes in group i: after those as wide across.
func (s *sheet) among(i int, w, h int32) int {
	j, end := i+1, i+int(s.nodes[i].size)
	if s.nodes[i].item == groupX {
		for j < end && s.nodes[j].h >= h {
			j += int(s.nodes[j].size)
		}
		return j
	}
	for j < end && s.nodes[j].w >= w {
		j += int(s.nodes[j].size)
	}
	return j
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

// open makes room for k nodes at i.
func (s *sheet) open(i, k int) {
	n := len(s.nodes)
	for range k {
		s.nodes = append(s.nodes, node{})
	}
	copy(s.nodes[i+k:], s.nodes[i:n])
}

// close drops k nodes at i.
func (s *sheet) close(i, k int) {
	n := copy(s.nodes[i:], s.nodes[i+k:])
	s.nodes = s.nodes[:i+n]
}
