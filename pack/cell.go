package pack

import (
	"encoding/binary"
	"slices"

	"pinfold/units"
)

// cell is a region that is cut in a certain way, wherever it lies: regions of
// equal measures cut alike are one cell, so that a sheet of many equal strips is
// a few cells. The order of its parts is left open, as [Arrange] chooses it
// later, unless fixed is set.
type cell struct {
	w, h  units.Length
	axis  Axis
	parts []int32 // in ascending order, unless fixed; what is empty is one part
	// A group is cut off in one, though its parts lie along the same axis as it,
	// to be stacked with others like it.
	group bool
	// A fixed cell keeps the order of its parts; of a leaf it means that it is
	// spoiled, and no offcut.
	fixed bool

	leaf   Leaf
	cloth  int // of a piece
	piece  int
	turned bool
	flat   bool    // the cloth is not folded
	own    crooked // of a region with an edge of an outline in it
}

func (c *cell) empty() bool { return c.leaf == WasteLeaf }

// along is the cell's extent along an axis.
func (c *cell) along(a Axis) units.Length {
	if a == X {
		return c.w
	}
	return c.h
}

// cellar keeps every cell once. A cell comes after its parts.
type cellar struct {
	kerf  units.Length
	cells []cell
	seen  map[string]int32
	key   []byte
	edges map[crooked]Outline // by cloth and sheet
}

// ground is what a region is cut from.
type ground struct {
	cloth, number int // number is the sheet's in the problem, or FromRoll
	flat          bool
	sheet         Sheet
}

// ground returns the cloth of a stock; what comes off the roll has no bad areas.
func (p Problem) ground(cloth int, from Stock) ground {
	g := ground{cloth: cloth, number: from.Sheet, flat: p.Rules.Flat}
	if from.Sheet != FromRoll {
		g.sheet = p.Sheets[from.Sheet]
	}
	return g
}

func newCellar(kerf units.Length) *cellar {
	return &cellar{kerf: kerf, seen: map[string]int32{}, edges: map[crooked]Outline{}}
}

// id returns the number of a cell, a new one if it has not been seen.
func (s *cellar) id(c cell) int32 {
	if !c.fixed {
		slices.Sort(c.parts)
	}
	k := s.key[:0]
	k = binary.AppendVarint(k, int64(c.w))
	k = binary.AppendVarint(k, int64(c.h))
	flags := int64(c.axis) | int64(c.leaf)<<1
	for i, b := range []bool{c.fixed, c.turned, c.flat, c.group} {
		if b {
			flags |= 1 << (4 + i)
		}
	}
	k = binary.AppendVarint(k, flags)
	k = binary.AppendVarint(k, int64(c.cloth))
	k = binary.AppendVarint(k, int64(c.piece))
	k = binary.AppendVarint(k, int64(c.own.cloth))
	k = binary.AppendVarint(k, int64(c.own.sheet))
	k = binary.AppendVarint(k, int64(c.own.x))
	k = binary.AppendVarint(k, int64(c.own.y))
	for _, p := range c.parts {
		k = binary.AppendVarint(k, int64(p))
	}
	s.key = k
	if id, ok := s.seen[string(k)]; ok {
		return id
	}
	id := int32(len(s.cells))
	s.seen[string(k)] = id
	s.cells = append(s.cells, c)
	return id
}

// void is the cell for what is empty.
func (s *cellar) void(w, h units.Length) int32 {
	return s.id(cell{w: w, h: h, leaf: WasteLeaf})
}

// cut returns the cell of a region with such parts, in no order: parts cut along
// the same axis are taken apart into their own parts, unless they are groups of
// which there are several, and what is empty is joined.
func (s *cellar) cut(w, h units.Length, axis Axis, flat bool, parts []int32) int32 {
	var out []int32
	var left units.Length
	voids := 0
	add := func(p int32) {
		if c := &s.cells[p]; c.empty() {
			left += c.along(axis)
			voids++
			return
		}
		out = append(out, p)
	}
	for apart := true; apart; {
		apart = false
		var next []int32
		for _, p := range parts {
			c := &s.cells[p]
			if c.group && c.axis != axis {
				p = s.ungrouped(p)
				c = &s.cells[p]
			}
			if c.leaf != NoLeaf || c.axis != axis || c.fixed || c.group && count(parts, p) > 1 {
				next = append(next, p)
				continue
			}
			next = append(next, c.parts...)
			apart = true
		}
		parts = next
	}
	for _, p := range parts {
		add(p)
	}
	if voids > 0 {
		left += units.Length(voids-1) * s.kerf
		if len(out) == 0 {
			return s.void(w, h)
		}
		if axis == X {
			out = append(out, s.void(left, h))
		} else {
			out = append(out, s.void(w, left))
		}
	}
	if len(out) == 1 {
		return out[0]
	}
	return s.id(cell{w: w, h: h, axis: axis, flat: flat, parts: out})
}

// count is how often a cell is among parts.
func count(parts []int32, id int32) int {
	n := 0
	for _, p := range parts {
		if p == id {
			n++
		}
	}
	return n
}

// grouped returns a cell as a group, which it is where it lies in a region cut
// along the same axis.
func (s *cellar) grouped(id int32) int32 {
	c := s.cells[id]
	c.group = true
	c.parts = slices.Clone(c.parts)
	return s.id(c)
}

func (s *cellar) ungrouped(id int32) int32 {
	c := s.cells[id]
	c.group = false
	c.parts = slices.Clone(c.parts)
	return s.id(c)
}

// of returns the cell of a tree. A region whose parts do not add up to it, since
// a kerf hangs over its edge, or that is not sound, is fixed.
func (s *cellar) of(n *Node, r Rect, g ground) int32 {
	switch n.Leaf {
	case PieceLeaf:
		return s.id(cell{w: r.W, h: r.H, leaf: PieceLeaf, cloth: g.cloth, piece: n.Piece, turned: n.Turned})
	case WasteLeaf, OffcutLeaf:
		if !g.sheet.Sound(r) {
			return s.id(cell{w: r.W, h: r.H, leaf: WasteLeaf, fixed: true})
		}
		return s.void(r.W, r.H)
	}
	parts := make([]int32, len(n.Parts))
	sum := s.kerf * units.Length(len(n.At))
	empty := true
	for i, p := range n.Parts {
		sub := n.part(i, r, s.kerf)
		parts[i] = s.of(p, sub, g)
		if c := &s.cells[parts[i]]; c.leaf == NoLeaf && c.axis == n.Axis && !c.fixed {
			parts[i] = s.grouped(parts[i])
		}
		empty = empty && s.cells[parts[i]].empty()
		sum += sub.along(n.Axis)
	}
	if empty {
		return s.of(&Node{Leaf: WasteLeaf}, r, g)
	}
	if sum != r.along(n.Axis) || !g.sheet.Sound(r) {
		c := cell{w: r.W, h: r.H, axis: n.Axis, flat: g.flat, parts: parts, fixed: true}
		if o := g.sheet.Outline; o != nil && !o.Holds(r) {
			c.own = crooked{g.cloth + 1, g.number + 1, r.X, r.Y}
			s.edges[crooked{cloth: c.own.cloth, sheet: c.own.sheet}] = o
		}
		return s.id(c)
	}
	return s.cut(r.W, r.H, n.Axis, g.flat, parts)
}

// node writes a cell down as a tree at r, its parts in the order they have.
func (s *cellar) node(id int32, r Rect, keep units.Size) *Node {
	c := &s.cells[id]
	switch {
	case c.empty() && !c.fixed && keeps(keep, r):
		return &Node{Leaf: OffcutLeaf}
	case c.leaf != NoLeaf:
		return &Node{Leaf: c.leaf, Piece: c.piece, Turned: c.turned}
	}
	parts := slices.Clone(c.parts)
	if c.fixed {
		return s.laid(c, parts, r, keep)
	}
	slices.SortStableFunc(parts, func(p, q int32) int {
		switch a, b := s.cells[p].empty(), s.cells[q].empty(); {
		case a == b:
			return 0
		case a:
			return 1
		}
		return -1
	})
	return s.laid(c, parts, r, keep)
}

// laid is the node of a cell with its parts in an order.
func (s *cellar) laid(c *cell, parts []int32, r Rect, keep units.Size) *Node {
	n := &Node{Axis: c.axis}
	at, _ := r.span(c.axis)
	for i, p := range parts {
		if i > 0 {
			n.At = append(n.At, at-s.kerf)
		}
		end := at + s.cells[p].along(c.axis)
		n.Parts = append(n.Parts, s.node(p, r.slice(c.axis, at, end), keep))
		at = end + s.kerf
	}
	return n
}
