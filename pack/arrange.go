package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// Arrange puts the parts of every region in the order that is easiest to cut:
// cuts along one axis are one row of parts, unless several equal parts are cut
// further along it, which may be stacked; equal parts lie together, in all
// regions that may be stacked the same measures come first, and what is left over
// lies last, in one. The layouts of every cloth are replaced; pieces, cloth and cost
// stay what they are. A region with a bad area or an outer edge in it, or whose last cut hangs over its
// edge, keeps its order.
func Arrange(cloths []Cloth) {
	for ci := range cloths {
		c := &cloths[ci]
		rules := c.Problem.Rules
		c.Layouts = slices.Clone(c.Layouts)
		cells := newCellar(rules.Kerf)
		for i := range c.Layouts {
			l := &c.Layouts[i]
			r := Rect{W: l.W, H: l.H}
			l.Cuts = cells.node(cells.of(l.Cuts, r, c.Problem.ground(0, l.Stock)), r, rules.Keep)
		}
	}
	a := arranger{count: map[cutting]int{}}
	for _, c := range cloths {
		for _, l := range c.Layouts {
			a.tally(l.Cuts, Rect{W: l.W, H: l.H}, c.Problem.Rules.Kerf, l.Copies)
		}
	}
	for _, c := range cloths {
		a.rules = c.Problem.Rules
		for i := range c.Layouts {
			l := &c.Layouts[i]
			a.sheet = c.Problem.ground(0, l.Stock).sheet
			l.Cuts = a.node(l.Cuts, Rect{W: l.W, H: l.H}, Rect{W: l.W, H: l.H})
		}
	}
	for i := range cloths {
		cloths[i].Layouts = gathered(cloths[i].Layouts)
	}
}

// gathered returns the layouts with equal ones made one.
func gathered(ls []Layout) []Layout {
	var out []Layout
	for _, l := range ls {
		if l.Copies <= 0 {
			continue
		}
		at := slices.IndexFunc(out, func(o Layout) bool { return o.Stock == l.Stock && o.Cuts.equal(l.Cuts) })
		if at < 0 {
			out = append(out, l)
		} else {
			out[at].Copies += l.Copies
		}
	}
	return out
}

// equal tells whether two trees are equal cut by cut.
func (n *Node) equal(m *Node) bool {
	return n.Axis == m.Axis && n.Leaf == m.Leaf && n.Piece == m.Piece && n.Turned == m.Turned &&
		slices.Equal(n.At, m.At) && slices.EqualFunc(n.Parts, m.Parts, (*Node).equal)
}

// empty tells whether the node is a leaf without a piece.
func (n *Node) empty() bool { return n.Leaf == WasteLeaf || n.Leaf == OffcutLeaf }

// cutting is a measure that comes off regions that may be stacked.
type cutting struct {
	axis    Axis
	cut     units.Length // how far the cut goes
	measure units.Length
}

type arranger struct {
	count map[cutting]int // how often each comes off
	rules Rules
	sheet Sheet
}

func (a *arranger) tally(n *Node, r Rect, kerf units.Length, copies int) {
	for i, p := range n.Parts {
		sub := n.part(i, r, kerf)
		if !p.empty() {
			a.count[cuttingOf(n.Axis, sub)] += copies
		}
		a.tally(p, sub, kerf, copies)
	}
}

func cuttingOf(axis Axis, part Rect) cutting {
	return cutting{axis, part.along(1 - axis), part.along(axis)}
}

// part is a part of a region on its way to a new place.
type part struct {
	node *Node
	was  Rect
	size units.Length
	key  string
}

func (p part) empty() bool { return p.node.empty() }

// node returns the tree of region was with its parts in order, lying at now.
func (a *arranger) node(n *Node, was, now Rect) *Node {
	if n.Leaf != NoLeaf {
		return n
	}
	kerf := a.rules.Kerf
	parts := make([]part, len(n.Parts))
	sum := kerf * units.Length(len(n.At))
	for i, p := range n.Parts {
		r := n.part(i, was, kerf)
		parts[i] = part{node: p, was: r, size: r.along(n.Axis)}
		sum += parts[i].size
	}
	if sum == was.along(n.Axis) && a.sheet.Sound(was) {
		for i := range parts {
			parts[i].key = a.key(parts[i].node, parts[i].was)
		}
		slices.SortStableFunc(parts, func(p, q part) int { return a.compare(n.Axis, p, q) })
		parts = a.joined(parts)
	}
	if len(parts) == 1 {
		return a.rules.left(now, a.sheet)
	}
	out := &Node{Axis: n.Axis}
	at, _ := now.span(n.Axis)
	for i, p := range parts {
		if i > 0 {
			out.At = append(out.At, at-kerf)
		}
		r := now.slice(n.Axis, at, at+p.size)
		if p.empty() {
			out.Parts = append(out.Parts, a.rules.left(r, a.sheet))
		} else {
			out.Parts = append(out.Parts, a.node(p.node, p.was, r))
		}
		at += p.size + kerf
	}
	return out
}

// compare orders the parts of a region: what comes off most often among all that
// may be stacked first, of equals the larger; equal parts together; the empty last.
func (a *arranger) compare(axis Axis, p, q part) int {
	if p.empty() != q.empty() {
		if p.empty() {
			return 1
		}
		return -1
	}
	return cmp.Or(
		cmp.Compare(a.count[cuttingOf(axis, q.was)], a.count[cuttingOf(axis, p.was)]),
		cmp.Compare(q.size, p.size),
		cmp.Compare(p.key, q.key),
	)
}

// key tells cut trees apart, wherever they lie, in whatever order their parts and
// however what is left over is divided.
func (a *arranger) key(n *Node, r Rect) string {
	if n.Leaf != NoLeaf {
		return fmt.Sprintf("%d.%d.%t", n.Leaf, n.Piece, n.Turned)
	}
	var keys []string
	for i, p := range n.Parts {
		if sub := n.part(i, r, a.rules.Kerf); !p.empty() {
			keys = append(keys, fmt.Sprintf("%dx%d:%s", sub.W, sub.H, a.key(p, sub)))
		}
	}
	slices.Sort(keys)
	return n.Axis.String() + "(" + strings.Join(keys, " ") + ")"
}

// joined makes one part of the empty ones at the end.
func (a *arranger) joined(parts []part) []part {
	first := slices.IndexFunc(parts, part.empty)
	if first < 0 {
		return parts
	}
	for _, p := range parts[first+1:] {
		parts[first].size += a.rules.Kerf + p.size
	}
	return parts[:first+1]
}
