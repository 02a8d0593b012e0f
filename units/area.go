package units

import (
	"fmt"
	"math/bits"
)

// Area is a region's content in square ticks. One square inch is 66064384
// square ticks, so an Area holds a little more than 90 square kilometres.
type Area int64

// The named areas.
const (
	SquareInch       Area = Area(Inch) * Area(Inch)
	SquareCentimetre Area = Area(Centimetre) * Area(Centimetre)
)

// AreaOf returns the area of a w x h rectangle. Sides up to [MaxLength] never
// overflow.
func AreaOf(w, h Length) Area { return Area(w) * Area(h) }

// Times returns n times a, or an error that wraps [ErrOverflow]. A negative area or
// count is an error as well.
func (a Area) Times(n int) (Area, error) {
	if a < 0 || n < 0 {
		return 0, fmt.Errorf("negative area or count")
	}
	hi, lo := bits.Mul64(uint64(a), uint64(n))
	if hi != 0 || lo > 1<<63-1 {
		return 0, fmt.Errorf("%d areas of %d square ticks: %w", n, a, ErrOverflow)
	}
	return Area(lo), nil
}

// Plus returns a + b, or an error that wraps [ErrOverflow].
func (a Area) Plus(b Area) (Area, error) {
	s := a + b
	if (s > a) != (b > 0) && b != 0 {
		return 0, fmt.Errorf("%d + %d square ticks: %w", a, b, ErrOverflow)
	}
	return s, nil
}

// In returns the area in square inches or square centimetres, for printing
// only.
func (a Area) In(u Unit) float64 {
	if u == Centimetres {
		return float64(a) / float64(SquareCentimetre)
	}
	return float64(a) / float64(SquareInch)
}

// Format prints the area with one decimal, "396.0 sq in" or "2475.0 sq cm".
func (a Area) Format(u Unit) string {
	return fmt.Sprintf("%.1f sq %s", a.In(u), u)
}
