package reports

import (
	"pinfold/pack"
	"pinfold/units"
)

// region is a part of a sheet, where it lies.
type region struct {
	node *pack.Node
	pack.Rect
}

// parts lists what the region's cuts make of it, from the left or the bottom.
func (r region) parts(kerf units.Length) []region {
	n := r.node
	out := make([]region, len(n.Parts))
	from := r.start(n.Axis)
	for i, p := range n.Parts {
		to := r.end(n.Axis)
		if i < len(n.At) {
			to = n.At[i]
		}
		rect := pack.Rect{X: from, Y: r.Y, W: to - from, H: r.H}
		if n.Axis == pack.Y {
			rect = pack.Rect{X: r.X, Y: from, W: r.W, H: to - from}
		}
		out[i] = region{p, rect}
		from = min(to+kerf, r.end(n.Axis))
	}
	return out
}

// start and end bound the region along an axis; width is what lies between.
func (r region) start(a pack.Axis) units.Length {
	if a == pack.Y {
		return r.Y
	}
	return r.X
}

func (r region) end(a pack.Axis) units.Length { return r.start(a) + r.width(a) }

func (r region) width(a pack.Axis) units.Length {
	if a == pack.Y {
		return r.H
	}
	return r.W
}

func (r region) size() units.Size { return units.Size{Along: r.H, Across: r.W} }

// congruent tells whether the two regions are cut alike into the same pieces.
func congruent(a, b region) bool {
	if a.W != b.W || a.H != b.H || a.node.Leaf != b.node.Leaf || a.node.Piece != b.node.Piece {
		return false
	}
	if a.node.Axis != b.node.Axis || len(a.node.Parts) != len(b.node.Parts) {
		return false
	}
	pa, pb := a.parts(0), b.parts(0)
	for i := range pa {
		if !congruent(pa[i], pb[i]) {
			return false
		}
	}
	return true
}

// congruentParts groups those of the parts from..to-1 that are cut further: the
// indices of congruent ones together, in order of first appearance.
func congruentParts(parts []region, from, to int) [][]int {
	var groups [][]int
next:
	for i := from; i < to; i++ {
		if parts[i].node.Leaf != pack.NoLeaf {
			continue
		}
		for g := range groups {
			if congruent(parts[groups[g][0]], parts[i]) {
				groups[g] = append(groups[g], i)
				continue next
			}
		}
		groups = append(groups, []int{i})
	}
	return groups
}
