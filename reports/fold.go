package reports

import (
	"math"

	"pinfold/plan"
	"pinfold/units"
)

// globe maps one half of a foam ball onto paper as it is seen from its pole:
// every distance from the pole along the surface is true to scale, and so is
// every direction from it (the azimuthal equidistant projection).
type globe struct {
	x, y   units.Length // the pole on paper
	at     scale
	radius float64 // of the ball, in ticks
	edge   float64 // pole to equator, in ticks
}

func newGlobe(x, y units.Length, ball units.Length, at scale) globe {
	r := float64(ball) / 2
	return globe{x, y, at, r, r * math.Pi / 2}
}

// paper is a distance from the pole on paper, no further than the middle.
func (g globe) paper(arc float64) float64 {
	return 2 * min(arc, g.edge) / float64(g.at)
}

// spot is the point so far from the pole along the surface, clockwise by an
// angle from the top; what lies beyond the ball's middle is moved back to it.
func (g globe) spot(arc, turn float64) Spot {
	r := g.paper(arc)
	return Spot{g.x + tick(r*math.Sin(turn)), g.y - tick(r*math.Cos(turn))}
}

func tick(v float64) units.Length { return units.Length(math.Round(v)) }

// vector is a point of the unit ball, its pole at z, the top at x and what is
// clockwise of it at y.
type vector struct{ x, y, z float64 }

// place is the spot of a point, turned from the top.
func (g globe) place(v vector, turn float64) Spot {
	return g.spot(g.radius*math.Atan2(math.Hypot(v.x, v.y), v.z), turn+math.Atan2(v.y, v.x))
}

// sideSteps is in how many straight parts a side of a triangle is drawn.
const sideSteps = 8

// fold is the outline of a piece on the ball. A folded one is a triangle: its
// point at its distance from the pole, half as high as the piece's longer side
// along the meridian, and as wide at its foot as the shorter side, for it is the
// longer one that is folded in two. Its sides are the shortest ways on the ball.
func (g globe) fold(size units.Size, p plan.Pinned) []Spot {
	long, short := max(size.Along, size.Across), min(size.Along, size.Across)
	if p.Flat {
		return g.flat(size, p.Turn)
	}
	from := float64(p.From) / g.radius
	// Beyond the middle nothing is drawn, so that a piece too large for its ball
	// may end before it comes round to the other side.
	foot := min(from+float64(long)/2/g.radius, from+3)
	half := min(float64(short)/2/g.radius, 1.5)
	tip := vector{math.Sin(from), 0, math.Cos(from)}
	left := vector{math.Cos(half) * math.Sin(foot), -math.Sin(half), math.Cos(half) * math.Cos(foot)}
	right := vector{left.x, -left.y, left.z}
	corners := []vector{tip, right, left}
	var out []Spot
	for i, a := range corners {
		b := corners[(i+1)%3]
		for k := range sideSteps {
			t := float64(k) / sideSteps
			// Points between two of a great circle lie on it; place only asks for
			// their direction.
			out = append(out, g.place(vector{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y), a.z + t*(b.z-a.z)}, p.Turn))
		}
	}
	return out
}

// flat is a piece that lies over the pole, its corners as far from it as they
// are on the table.
func (g globe) flat(size units.Size, turn float64) []Spot {
	w, h := float64(size.Across)/2, float64(size.Along)/2
	reach := math.Hypot(w, h)
	a := math.Atan2(w, h)
	var out []Spot
	for _, corner := range []float64{a, math.Pi - a, math.Pi + a, 2*math.Pi - a} {
		out = append(out, g.spot(reach, turn+corner))
	}
	return out
}

// circle is the outline of all that is no further from the pole.
func (g globe) circle(arc float64) []Spot {
	const steps = 120
	out := make([]Spot, steps)
	for i := range out {
		out[i] = g.spot(arc, 2*math.Pi*float64(i)/steps)
	}
	return out
}
