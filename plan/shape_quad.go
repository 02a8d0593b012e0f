package plan

import (
	"fmt"
	"math/big"

	"pinfold/pack"
	"pinfold/units"
)

// The corners of a four-sided piece follow from its measures by square roots. They
// are worked out in whole numbers, in parts of a tick so small that what is cut off
// the roots does not matter, and brought to ticks within the true shape.

// fineness is how many bits finer than a tick the parts are, and slack how many of
// them a place may be off.
const (
	fineness = 96
	slack    = 32
)

// fine is a place in parts of a tick.
type fine struct{ x, y *big.Int }

// quad is a four-sided shape: the corners by turns from the bottom left one.
type quad struct {
	at [4]fine
	// exact tells whether whole ticks are a corner, to the last bit.
	exact [4]func(p pack.Point, known [4]pack.Point) bool
}

func parts(n *big.Int) *big.Int { return new(big.Int).Lsh(n, fineness) }

func whole64(l units.Length) *big.Int { return big.NewInt(int64(l)) }

func square(l units.Length) *big.Int { n := whole64(l); return n.Mul(n, n) }

// triangle returns how far along a base of length d the place lies that is a from its
// beginning and b from its end, and how far from the base, in parts of a tick; false
// if there is no such place.
func triangle(a, b, d units.Length) (across, up *big.Int, ok bool) {
	// (a² + d² - b²) / 2d, and the root of what is left of a².
	twice := new(big.Int).Mul(big.NewInt(2), whole64(d))
	n := square(a)
	n.Add(n, square(d)).Sub(n, square(b))
	under := new(big.Int).Mul(twice, whole64(a))
	under.Mul(under, under).Sub(under, new(big.Int).Mul(n, n))
	if under.Sign() <= 0 {
		return nil, nil, false
	}
	across = new(big.Int).Quo(parts(n), twice)
	up = new(big.Int).Sqrt(under.Lsh(under, 2*fineness))
	return across, up.Quo(up, twice), true
}

func squaredDistance(p, q pack.Point) *big.Int {
	n := square(p.X - q.X)
	return n.Add(n, square(p.Y-q.Y))
}

// apart tells whether two places are exactly so far from each other.
func apart(p, q pack.Point, l units.Length) bool { return squaredDistance(p, q).Cmp(square(l)) == 0 }

func fromSides(bottom, right, top, left, diagonal units.Length, u units.Unit) (pack.Outline, error) {
	cx, cy, ok := triangle(diagonal, right, bottom)
	if !ok {
		return nil, fmt.Errorf("corner 3 (top right): bottom %s, right %s and a diagonal of %s do not meet: measure again, the diagonal from the bottom left to the top right",
			bottom.Number(u), right.Number(u), diagonal.Number(u))
	}
	along, up, ok := triangle(left, top, diagonal)
	if !ok {
		return nil, fmt.Errorf("corner 4 (top left): left %s, top %s and a diagonal of %s do not meet: measure again, the diagonal from the bottom left to the top right",
			left.Number(u), top.Number(u), diagonal.Number(u))
	}
	// Along the diagonal, then to its left.
	dx := func(a, b, c, d *big.Int, minus bool) *big.Int {
		p, q := new(big.Int).Mul(a, b), new(big.Int).Mul(c, d)
		if minus {
			q.Neg(q)
		}
		p.Add(p, q)
		return p.Quo(p, parts(whole64(diagonal)))
	}
	q := quad{at: [4]fine{
		{new(big.Int), new(big.Int)}, {parts(whole64(bottom)), new(big.Int)}, {cx, cy},
		{dx(along, cx, up, cy, true), dx(along, cy, up, cx, false)},
	}}
	q.exact[2] = func(p pack.Point, k [4]pack.Point) bool {
		return apart(p, k[0], diagonal) && apart(p, k[1], right)
	}
	q.exact[3] = func(p pack.Point, k [4]pack.Point) bool {
		return apart(p, k[0], left) && apart(p, k[2], top) && apart(k[2], k[0], diagonal) && apart(k[2], k[1], right)
	}
	return q.outline()
}

func fromHeights(bottom, top, left, right units.Length, u units.Unit) (pack.Outline, error) {
	far := square(top)
	far.Sub(far, square(left-right))
	if far.Sign() <= 0 {
		return nil, fmt.Errorf("corner 3 (top right): top %s does not reach from a left height of %s to a right height of %s: measure the heights square to the bottom edge",
			top.Number(u), left.Number(u), right.Number(u))
	}
	q := quad{at: [4]fine{
		{new(big.Int), new(big.Int)}, {parts(whole64(bottom)), new(big.Int)},
		{far.Sqrt(far.Lsh(far, 2*fineness)), parts(whole64(right))}, {new(big.Int), parts(whole64(left))},
	}}
	q.exact[2] = func(p pack.Point, k [4]pack.Point) bool {
		return p.Y == right && apart(p, pack.Point{X: 0, Y: left}, top)
	}
	return q.outline()
}

// cornerNames are the corners of a four-sided piece from the first.
var cornerNames = [4]string{"bottom left", "bottom right", "top right", "top left"}

// outline brings the corners to ticks.
func (q quad) outline() (pack.Outline, error) {
	for i := range q.at {
		if !q.turns(i, q.at[(i+1)%4], q.at[(i+2)%4]) {
			return nil, fmt.Errorf("corner %d (%s) would dent inwards: measure again, or write the corners, like 0, 0; 0, 9; 12, 8; 11, 0", (i+1)%4+1, cornerNames[(i+1)%4])
		}
	}
	var out [4]pack.Point
	for i := range q.at {
		p, ok := q.within(i, out)
		if !ok {
			return nil, fmt.Errorf("it is too thin to cut anything from at corner %d (%s)", i+1, cornerNames[i])
		}
		out[i] = p
	}
	return pack.Outline(out[:]), nil
}

// turns tells whether p lies clearly to the left of the line from corner i to to.
func (q quad) turns(i int, to, p fine) bool {
	a := q.at[i]
	ex, ey := new(big.Int).Sub(to.x, a.x), new(big.Int).Sub(to.y, a.y)
	px, py := new(big.Int).Sub(p.x, a.x), new(big.Int).Sub(p.y, a.y)
	cross := new(big.Int).Mul(ex, py)
	cross.Sub(cross, py.Mul(ey, px))
	margin := ex.Abs(ex)
	margin.Add(margin, ey.Abs(ey)).Lsh(margin, slack)
	return cross.Cmp(margin) > 0
}

// within returns the place in whole ticks nearest to corner i that lies within the
// true shape; known are the corners before it.
func (q quad) within(i int, known [4]pack.Point) (pack.Point, bool) {
	c := q.at[i]
	near := pack.Point{X: tick(c.x), Y: tick(c.y)}
	if i < 2 || q.exact[i] == nil || q.exact[i](near, known) {
		return near, true
	}
	const around = 8
	var best pack.Point
	var least *big.Int
	for dx := units.Length(-around); dx <= around; dx++ {
		for dy := units.Length(-around); dy <= around; dy++ {
			p := pack.Point{X: near.X + dx, Y: near.Y + dy}
			f := fine{parts(whole64(p.X)), parts(whole64(p.Y))}
			inside := true
			for k := range q.at {
				inside = inside && q.turns(k, q.at[(k+1)%4], f)
			}
			if !inside {
				continue
			}
			x, y := f.x.Sub(f.x, c.x), f.y.Sub(f.y, c.y)
			far := x.Mul(x, x)
			far.Add(far, y.Mul(y, y))
			if least == nil || far.Cmp(least) < 0 {
				best, least = p, far
			}
		}
	}
	return best, least != nil
}

// tick is the tick nearest to a coordinate.
func tick(v *big.Int) units.Length {
	half := new(big.Int).Lsh(big.NewInt(1), fineness-1)
	return units.Length(half.Rsh(half.Add(half, v), fineness).Int64())
}
