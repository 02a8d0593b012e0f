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
	out := make([]region, len(r.node.Parts))
	for i, p := range r.node.Parts {
		out[i] = region{p, r.part(i, kerf)}
	}
	return out
}

// part is where the i-th part lies; the region may lack the parts before it.
func (r region) part(i int, kerf units.Length) pack.Rect {
	n := r.node
	from, to := r.start(n.Axis), r.end(n.Axis)
	if i > 0 {
		from = min(n.At[i-1]+kerf, to)
	}
	if i < len(n.At) {
		to = n.At[i]
	}
	if n.Axis == pack.Y {
		return pack.Rect{X: r.X, Y: from, W: r.W, H: to - from}
	}
	return pack.Rect{X: from, Y: r.Y, W: to - from, H: r.H}
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
