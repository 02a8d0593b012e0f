package plan

import (
	"math/big"

	"pinfold/units"
)

// Sphere is the geometry of a foam ball, worked out from its diameter alone.
type Sphere struct {
	Ball units.Length // the diameter
}

// piLow and piHigh bracket pi to 40 decimals (A000796 of the On-Line
// Encyclopedia of Integer Sequences; the tests work it out again).
var (
	piLow  = ratio("3.1415926535897932384626433832795028841971")
	piHigh = ratio("3.1415926535897932384626433832795028841972")
)

func ratio(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("plan: bad constant " + s)
	}
	return r
}

// RoundTheMiddle returns the ball's circumference, pi x ball, to the nearest
// tick.
func (s Sphere) RoundTheMiddle() units.Length { return nearest(s.arc(1)) }

// PoleToEquator returns the way from a pole to the middle along the surface,
// pi x ball / 4, to the nearest tick.
func (s Sphere) PoleToEquator() units.Length { return nearest(s.arc(4)) }

// Surface returns pi x ball squared, to the nearest square tick.
func (s Sphere) Surface() units.Area {
	a := new(big.Rat).Mul(piLow, new(big.Rat).SetInt64(int64(s.Ball)))
	return units.Area(nearest(a.Mul(a, new(big.Rat).SetInt64(int64(s.Ball)))))
}

// arc returns pi x ball / parts, below the true value by less than any tick
// could show.
func (s Sphere) arc(parts int64) *big.Rat {
	return new(big.Rat).Mul(piLow, big.NewRat(int64(s.Ball), parts))
}

// BandLength returns how long the band of a ball is cut: pi x ball + overlap,
// rounded up to 1/8 in or 1 mm. It is never shorter than that, and the next
// shorter step would be too short.
func BandLength(ball, overlap units.Length, unit units.Unit) units.Length {
	grid := unit.Grid()
	steps := func(pi *big.Rat) int64 {
		l := new(big.Rat).Mul(pi, new(big.Rat).SetInt64(int64(ball)))
		l.Add(l, new(big.Rat).SetInt64(int64(overlap)))
		return ceil(l.Quo(l, new(big.Rat).SetInt64(int64(grid))))
	}
	// pi x ball is irrational, so with 40 decimals both ends of the bracket
	// round up to the same step; the upper one is safe in any case.
	return units.Length(max(steps(piLow), steps(piHigh))) * grid
}

func ceil(r *big.Rat) int64 {
	q, m := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() > 0 {
		return q.Int64() + 1
	}
	return q.Int64()
}

func nearest(r *big.Rat) units.Length {
	twice := new(big.Int).Mul(r.Num(), big.NewInt(2))
	twice.Add(twice, r.Denom())
	return units.Length(twice.Quo(twice, new(big.Int).Mul(r.Denom(), big.NewInt(2))).Int64())
}

// Decimals prints a length in u without its unit, rounded half away from zero
// to the given number of decimals: what the sphere gives is no cutting measure.
func Decimals(l units.Length, u units.Unit, places int) string {
	return big.NewRat(int64(l), int64(u.Length())).FloatString(places)
}

// bandSize returns the rectangle that is cut for a band. The band lies round
// the ball's middle, so its width stands upright on the ball: it is the width
// that runs along the selvage, and a one-way print stands upright all round.
func bandSize(o *Ornament, unit units.Unit) units.Size {
	return units.Size{
		Along:  o.Band.Width,
		Across: BandLength(o.Ball, o.Band.Overlap, unit),
	}
}
