package pack

import (
	"fmt"

	"pinfold/units"
)

// Point is a place on a sheet, x across and y along the selvage.
type Point struct {
	X, Y units.Length
}

// Outline is the true edge of a piece of cloth that is no rectangle: the corners
// of a simple polygon in order, either way round, the last joined to the first.
// Everything about it is decided in whole numbers, exactly.
type Outline []Point

// MaxOutline bounds the coordinates of an outline (about 839 m), so that no
// product of two differences overflows, and MostCorners the corners.
const (
	MaxOutline  units.Length = 1 << 28
	MostCorners              = 100
)

// Validate tells, by the numbers of the corners from 1, what keeps the outline
// from being a simple polygon.
func (o Outline) Validate() error {
	n := len(o)
	if n < 3 {
		return fmt.Errorf("%d corners enclose nothing, a shape has 3 or more", n)
	}
	if n > MostCorners {
		return fmt.Errorf("%d corners are too many, the most is %d", n, MostCorners)
	}
	for i, p := range o {
		if max(p.X, -p.X, p.Y, -p.Y) > MaxOutline {
			return fmt.Errorf("corner %d is too far away", i+1)
		}
		for j, q := range o[:i] {
			if p == q {
				return fmt.Errorf("corner %d lies on corner %d", i+1, j+1)
			}
		}
	}
	for i, p := range o {
		for j := range o {
			a, b := o.edge(j)
			if j != i && (j+1)%n != i && onSegment(p, a, b) {
				return fmt.Errorf("corner %d lies on the edge from corner %d to corner %d", i+1, j+1, (j+1)%n+1)
			}
		}
	}
	for i := range o {
		for j := range i {
			a, b := o.edge(j)
			c, d := o.edge(i)
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return fmt.Errorf("the edge from corner %d to corner %d crosses the edge from corner %d to corner %d", i+1, (i+1)%n+1, j+1, (j+1)%n+1)
			}
		}
	}
	return nil
}

// edge returns the ends of the edge that leaves corner i.
func (o Outline) edge(i int) (a, b Point) { return o[i], o[(i+1)%len(o)] }

// side tells on which side of the line from a to b the point p lies: 1 on the
// left, -1 on the right, 0 on it.
func side(a, b, p Point) int {
	switch c := (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X); {
	case c > 0:
		return 1
	case c < 0:
		return -1
	}
	return 0
}

// onSegment tells whether p lies on the segment from a to b, ends included.
func onSegment(p, a, b Point) bool {
	return side(a, b, p) == 0 &&
		min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// slanted tells whether an edge runs neither across nor along.
func (o Outline) slanted() bool {
	for i := range o {
		if a, b := o.edge(i); a.X != b.X && a.Y != b.Y {
			return true
		}
	}
	return false
}

// Box is the smallest rectangle around the outline.
func (o Outline) Box() Rect {
	low, high := o[0], o[0]
	for _, p := range o {
		low.X, low.Y = min(low.X, p.X), min(low.Y, p.Y)
		high.X, high.Y = max(high.X, p.X), max(high.Y, p.Y)
	}
	return Rect{low.X, low.Y, high.X - low.X, high.Y - low.Y}
}

// Moved returns the outline with every corner moved by dx and dy.
func (o Outline) Moved(dx, dy units.Length) Outline {
	out := make(Outline, len(o))
	for i, p := range o {
		out[i] = Point{p.X + dx, p.Y + dy}
	}
	return out
}

// Area is what the outline encloses, half a square tick rounded up.
func (o Outline) Area() units.Area {
	var twice units.Area
	for i := range o {
		a, b := o.edge(i)
		// Seen from the first corner, so that the terms stay small.
		twice += units.AreaOf(a.X-o[0].X, b.Y-o[0].Y) - units.AreaOf(b.X-o[0].X, a.Y-o[0].Y)
	}
	return (max(twice, -twice) + 1) / 2
}

// Holds tells whether the rectangle lies inside the outline; its edges may touch.
// A rectangle without area lies nowhere.
func (o Outline) Holds(r Rect) bool {
	if r.W <= 0 || r.H <= 0 {
		return false
	}
	if box := o.Box(); r.X < box.X || r.Y < box.Y || r.X+r.W > box.X+box.W || r.Y+r.H > box.Y+box.H {
		return false
	}
	// Where no edge comes into the rectangle, it is all inside or all outside.
	for i := range o {
		if a, b := o.edge(i); enters(a, b, r) {
			return false
		}
	}
	return o.around(r)
}

// enters tells whether the segment from a to b has a point within r, not only on
// its edges: two convex shapes are apart exactly if one of the directions of
// their edges parts them.
func enters(a, b Point, r Rect) bool {
	if max(a.X, b.X) <= r.X || min(a.X, b.X) >= r.X+r.W || max(a.Y, b.Y) <= r.Y || min(a.Y, b.Y) >= r.Y+r.H {
		return false
	}
	low, high := 1, -1
	for _, c := range [4]Point{{r.X, r.Y}, {r.X + r.W, r.Y}, {r.X, r.Y + r.H}, {r.X + r.W, r.Y + r.H}} {
		s := side(a, b, c)
		low, high = min(low, s), max(high, s)
	}
	return low < 0 && high > 0
}

// around tells whether the middle of r, which no edge comes into, is inside: then
// a ray to the right crosses an odd number of edges. Coordinates are doubled, so
// that the middle is whole.
func (o Outline) around(r Rect) bool {
	m := Point{2*r.X + r.W, 2*r.Y + r.H}
	in := false
	for i := range o {
		a, b := o.edge(i)
		a, b = Point{2 * a.X, 2 * a.Y}, Point{2 * b.X, 2 * b.Y}
		if (a.Y > m.Y) == (b.Y > m.Y) {
			continue
		}
		if a.Y > b.Y {
			a, b = b, a
		}
		in = in != (side(a, b, m) > 0)
	}
	return in
}
