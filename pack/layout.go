package pack

import "pinfold/units"

// Rect is an axis-parallel rectangle; X and Y are its lower left corner.
type Rect struct {
	X, Y, W, H units.Length
}

// Meets tells whether the insides of r and s have a point in common.
func (r Rect) Meets(s Rect) bool {
	return r.X < s.X+s.W && s.X < r.X+r.W && r.Y < s.Y+s.H && s.Y < r.Y+r.H
}

// span returns where the rectangle begins and ends along an axis.
func (r Rect) span(a Axis) (from, to units.Length) {
	if a == Y {
		return r.Y, r.Y + r.H
	}
	return r.X, r.X + r.W
}

// along is the rectangle's extent along an axis.
func (r Rect) along(a Axis) units.Length {
	if a == Y {
		return r.H
	}
	return r.W
}

// slice returns what lies between two places along an axis.
func (r Rect) slice(a Axis, from, to units.Length) Rect {
	if a == Y {
		return Rect{r.X, from, r.W, to - from}
	}
	return Rect{from, r.Y, to - from, r.H}
}

// Axis is the axis a cut divides: cuts that divide X run along the selvage and
// part their region side by side.
type Axis uint8

// The two axes.
const (
	X Axis = iota
	Y
)

// String returns "x" or "y".
func (a Axis) String() string {
	if a == Y {
		return "y"
	}
	return "x"
}

// Leaf says what a part that is not cut further is.
type Leaf uint8

// The kinds of leaves. NoLeaf marks a region that is cut.
const (
	NoLeaf Leaf = iota
	PieceLeaf
	OffcutLeaf
	WasteLeaf
)

// Node is a region of a sheet in the cut tree: cut from edge to edge at the
// positions At (from the sheet's corner, ascending) into len(At)+1 Parts, or a
// leaf. A cut at p destroys p .. p+kerf; parts and kerfs fill the region.
type Node struct {
	Axis  Axis
	At    []units.Length
	Parts []*Node

	Leaf   Leaf
	Piece  int  // index into Problem.Pieces, for a PieceLeaf
	Turned bool // the piece's W lies along y
}

// Stock tells what a layout is cut from.
type Stock struct {
	// Sheet is the index into Problem.Sheets, or FromRoll.
	Sheet int
	// Length is the length bought, for FromRoll.
	Length units.Length
}

// FromRoll as Stock.Sheet means the problem's roll.
const FromRoll = -1

// Layout is a way to cut one sheet, repeated Copies times.
type Layout struct {
	Stock  Stock
	W, H   units.Length // the usable area that Cuts divides
	Copies int
	Cuts   *Node
}

// Placement is one piece of a layout where it lies.
type Placement struct {
	Piece  int
	Turned bool
	Rect
}

// Solution answers a [Problem].
type Solution struct {
	Layouts []Layout
	// Missing counts, for each piece of the problem, the copies no layout holds.
	Missing []int
	Status  Status
	// Cost is what the goal makes least: the price in the smallest coin, or the
	// area bought in square ticks. Bound is a proved lower bound on it for any
	// plan that cuts every piece; it equals Cost when Status is Proved.
	Cost, Bound int64
	// FromScraps is the area of the pieces cut from scraps, MostScraps an upper
	// bound on it for any plan; both are 0 unless the problem says UseUp. Then
	// Status and ProvedBy speak of this goal alone, and Cost and Bound of what is
	// bought for the pieces that these scraps do not give.
	FromScraps, MostScraps units.Area
	// ProvedBy names the bound that proves Cost, "" unless Status is Proved.
	ProvedBy string
	// Price and Area are those of everything bought. AreaBound is a lower bound
	// on the area any plan must buy.
	Price           int64
	Area, AreaBound units.Area
	// SheetBound is a lower bound on the number of sheets any plan cuts.
	SheetBound int
	// Stopped is set when the context ended the search early.
	Stopped bool
	// Nodes counts the work done, in the engines' own unit.
	Nodes int64
}

// Status says how good a solution is known to be, in the goal alone.
type Status uint8

// The statuses.
const (
	Found  Status = iota // complete; Bound tells by how much it might be beaten
	Proved               // complete, and no plan can do with less
	Short                // pieces are missing: the stock does not hold them all, or none was found
)

// String returns the words used in files and print.
func (s Status) String() string {
	switch s {
	case Proved:
		return "proved best"
	case Short:
		return "short"
	}
	return "best found"
}

// Walk calls visit for every leaf of the layout with the rectangle it occupies,
// parts in order. kerf is the problem's.
func (l Layout) Walk(kerf units.Length, visit func(leaf *Node, r Rect)) {
	walk(l.Cuts, Rect{0, 0, l.W, l.H}, kerf, visit)
}

func walk(n *Node, r Rect, kerf units.Length, visit func(*Node, Rect)) {
	if n.Leaf != NoLeaf {
		visit(n, r)
		return
	}
	for i, part := range n.Parts {
		walk(part, n.part(i, r, kerf), kerf, visit)
	}
}

// part returns the rectangle of the i-th part of region r. The last cut's kerf
// may hang over the region's edge.
func (n *Node) part(i int, r Rect, kerf units.Length) Rect {
	from, to := r.span(n.Axis)
	if i > 0 {
		from = min(n.At[i-1]+kerf, to)
	}
	if i < len(n.At) {
		to = n.At[i]
	}
	return r.slice(n.Axis, from, to)
}

// Placements lists the pieces of the layout, in the order of the tree.
func (l Layout) Placements(kerf units.Length) []Placement {
	var out []Placement
	l.Walk(kerf, func(n *Node, r Rect) {
		if n.Leaf == PieceLeaf {
			out = append(out, Placement{n.Piece, n.Turned, r})
		}
	})
	return out
}

// Offcuts lists what the layout leaves to keep.
func (l Layout) Offcuts(kerf units.Length) []Rect {
	var out []Rect
	l.Walk(kerf, func(n *Node, r Rect) {
		if n.Leaf == OffcutLeaf {
			out = append(out, r)
		}
	})
	return out
}

// CutCount is the number of edge-to-edge cuts in the tree, squaring not
// included: each parts one region in two.
func (l Layout) CutCount() int { return l.Cuts.cutCount() }

func (n *Node) cutCount() int {
	c := len(n.At)
	for _, p := range n.Parts {
		c += p.cutCount()
	}
	return c
}

// Better tells whether s answers the same problem better than t: fewer copies
// missing, then more from scraps, then the smaller cost, then a proof or the larger bound.
func (s Solution) Better(t Solution) bool {
	a, b := s.lacks(), t.lacks()
	switch {
	case a != b:
		return a < b
	case s.FromScraps != t.FromScraps:
		return s.FromScraps > t.FromScraps
	case s.Cost != t.Cost:
		return s.Cost < t.Cost
	}
	return s.Bound > t.Bound
}

func (s Solution) lacks() int {
	n := 0
	for _, m := range s.Missing {
		n += m
	}
	return n
}
