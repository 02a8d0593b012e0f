// Package units holds exact lengths and areas of cloth.
//
// A [Length] counts ticks of 3.125 micrometres, the largest unit in which both
// 1/64 inch and 1/10 millimetre are whole: 1 in = 8128 ticks, 1 mm = 320 ticks,
// 1 yd = 292608 ticks. Those follow from the international yard and pound
// agreement of 1959 (1 yd = 0.9144 m, so 1 in = 25.4 mm exactly).
//
// Start with [Parse], [ParseSize] and [Length.Format]. Floating point never holds a length;
// whatever cannot be written exactly is refused by [Parse] and rounded in a
// direction the caller names by [ParseRounded].
package units

import (
	"errors"
	"fmt"
	"math"
)

// Length is a distance in ticks of 3.125 micrometres. The zero value is no
// length at all. Lengths are never negative in a plan, but differences may be.
type Length int64

// The named lengths. All conversions between them are exact.
const (
	// Tick is the smallest length there is, 3.125 micrometres.
	Tick       Length = 1
	Inch       Length = 8128
	Foot              = 12 * Inch
	Yard              = 36 * Inch
	Millimetre Length = 320
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre

	// Inch64 is 1/64 in, the finest fraction of an inch that is printed.
	Inch64 = Inch / 64
	// MaxLength bounds every length that can be written (about 6.7 km), so that
	// the product of two lengths always fits an [Area].
	MaxLength Length = 1 << 31
)

// ErrOverflow is wrapped by every error about a number too large to hold.
var ErrOverflow = errors.New("too large")

// Unit says how bare numbers are read and how lengths are printed.
type Unit uint8

// The two units a plan can be written in.
const (
	Inches Unit = iota
	Centimetres
)

// String returns "in" or "cm".
func (u Unit) String() string {
	if u == Centimetres {
		return "cm"
	}
	return "in"
}

// Length returns the length of one unit.
func (u Unit) Length() Length {
	if u == Centimetres {
		return Centimetre
	}
	return Inch
}

// Grid returns the step to which worked-out lengths are rounded for cutting:
// 1/8 in or 1 mm.
func (u Unit) Grid() Length {
	if u == Centimetres {
		return Millimetre
	}
	return Inch / 8
}

// ParseUnit reads the name of a plan's unit: in, inch, inches, cm, centimetres.
func ParseUnit(s string) (Unit, error) {
	switch s {
	case "in", "inch", "inches":
		return Inches, nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetres, nil
	}
	return Inches, fmt.Errorf("unknown unit %q: write in or cm", s)
}

// Times returns n copies of l laid end to end, or an error that wraps
// [ErrOverflow].
func (l Length) Times(n int) (Length, error) {
	if l == 0 || n == 0 {
		return 0, nil
	}
	p := int64(l) * int64(n)
	if p/int64(n) != int64(l) || n == -1 && l == math.MinInt64 {
		return 0, fmt.Errorf("%d times %v: %w", n, l, ErrOverflow)
	}
	return Length(p), nil
}

// Plus returns l + m, or an error that wraps [ErrOverflow].
func (l Length) Plus(m Length) (Length, error) {
	s := l + m
	if (s > l) != (m > 0) && m != 0 {
		return 0, fmt.Errorf("%v + %v: %w", l, m, ErrOverflow)
	}
	return s, nil
}

// RoundUp returns the smallest multiple of step that is at least l. It panics
// unless step is positive.
func (l Length) RoundUp(step Length) Length {
	return -((-l).RoundDown(step))
}

// RoundDown returns the largest multiple of step that is at most l. It panics
// unless step is positive.
func (l Length) RoundDown(step Length) Length {
	if step <= 0 {
		panic("units: rounding step must be positive")
	}
	q := l / step
	if l%step < 0 {
		q--
	}
	return q * step
}
