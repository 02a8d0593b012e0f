package plan

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/units"
)

// Pi again, by Machin's formula pi/4 = 4 atan 1/5 - atan 1/239 (1706), summed
// until the terms are below 10^-50. An alternating series lies between any two
// of its partial sums in turn.
func TestPiBracket(t *testing.T) {
	atan := func(n int64) (low, high *big.Rat) {
		sum, power := new(big.Rat), big.NewRat(1, n)
		square := big.NewRat(1, n*n)
		tiny, _ := new(big.Rat).SetString("1e-50")
		for k := int64(0); ; k++ {
			term := new(big.Rat).Quo(power, big.NewRat(2*k+1, 1))
			before := new(big.Rat).Set(sum)
			if k%2 == 0 {
				sum.Add(sum, term)
			} else {
				sum.Sub(sum, term)
			}
			if term.Cmp(tiny) < 0 {
				if k%2 == 0 {
					return before, sum
				}
				return sum, before
			}
			power.Mul(power, square)
		}
	}
	low5, high5 := atan(5)
	low239, high239 := atan(239)
	pi := func(a, b *big.Rat) *big.Rat {
		r := new(big.Rat).Mul(big.NewRat(4, 1), a)
		return r.Mul(r.Sub(r, b), big.NewRat(4, 1))
	}
	assert.Negative(t, piLow.Cmp(pi(low5, high239)), "piLow is below pi")
	assert.Positive(t, piHigh.Cmp(pi(high5, low239)), "piHigh is above pi")
}

// Sphere geometry: pole to equator = pi d / 4, round the middle = pi d, surface
// = pi d^2; the last column is the band with 1 in or 2.5 cm of overlap before
// rounding. The figures were worked out from these formulas apart from this
// program.
var spheres = []struct {
	ball                        string
	pole, middle, surface, band string
}{
	{"1.5 in", "1.178", "4.712", "7.07", "5.71"},
	{"2 in", "1.571", "6.283", "12.57", "7.28"},
	{"2.5 in", "1.963", "7.854", "19.63", "8.85"},
	{"2.8 in", "2.199", "8.796", "24.63", "9.80"},
	{"3 in", "2.356", "9.425", "28.27", "10.42"},
	{"4 in", "3.142", "12.566", "50.27", "13.57"},
	{"5 in", "3.927", "15.708", "78.54", "16.71"},
	{"6 in", "4.712", "18.850", "113.10", "19.85"},
	{"4 cm", "3.14", "12.57", "50.3", "15.1"},
	{"5 cm", "3.93", "15.71", "78.5", "18.2"},
	{"6 cm", "4.71", "18.85", "113.1", "21.3"},
	{"7 cm", "5.50", "21.99", "153.9", "24.5"},
	{"7.5 cm", "5.89", "23.56", "176.7", "26.1"},
	{"8 cm", "6.28", "25.13", "201.1", "27.6"},
	{"10 cm", "7.85", "31.42", "314.2", "33.9"},
	{"12 cm", "9.42", "37.70", "452.4", "40.2"},
	{"15 cm", "11.78", "47.12", "706.9", "49.6"},
}

func TestSphere(t *testing.T) {
	for _, c := range spheres {
		unit, places, overlap, half := units.Inches, 3, units.Inch, 0.00501
		if c.ball[len(c.ball)-2:] == "cm" {
			unit, places, overlap, half = units.Centimetres, 2, 25*units.Millimetre, 0.0501
		}
		ball, err := units.ParseRounded(c.ball, unit, units.Nearest)
		require.NoError(t, err)
		s := Sphere{ball}
		assert.Equal(t, c.pole, Decimals(s.PoleToEquator(), unit, places), c.ball)
		assert.Equal(t, c.middle, Decimals(s.RoundTheMiddle(), unit, places), c.ball)
		want, _ := new(big.Rat).SetString(c.surface)
		got, _ := want.Float64()
		assert.InDelta(t, got, s.Surface().In(unit), half, c.ball)
		band, _ := new(big.Rat).SetString(c.band)
		least, _ := band.Float64()
		cut := float64(BandLength(ball, overlap, unit)) / float64(unit.Length())
		step := float64(unit.Grid()) / float64(unit.Length())
		assert.GreaterOrEqual(t, cut, least-half, c.ball)
		assert.Less(t, cut, least+half+step, c.ball)
	}
}

// Common practice, no source: the band for a 3 in ball with about 1 in of
// overlap is about 10 1/2 in.
func TestBandOfAThreeInchBall(t *testing.T) {
	assert.Equal(t, 21*units.Inch/2, BandLength(3*units.Inch, units.Inch, units.Inches))
}

// The band is never shorter than pi x ball + overlap, and a step less would be.
// Here pi is bracketed by the convergents 103993/33102 and 104348/33215 of its
// continued fraction.
func TestBandLengthIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ball := units.Length(rapid.Int64Range(1, int64(maxBall)).Draw(t, "ball"))
		overlap := units.Length(rapid.Int64Range(0, int64(maxBall)).Draw(t, "overlap"))
		unit := rapid.SampledFrom([]units.Unit{units.Inches, units.Centimetres}).Draw(t, "unit")
		got := BandLength(ball, overlap, unit)
		if got%unit.Grid() != 0 {
			t.Fatalf("%v is no whole number of steps", got)
		}
		low := big.NewRat(103993, 33102)
		high := big.NewRat(104348, 33215)
		need := func(pi *big.Rat) *big.Rat {
			r := new(big.Rat).Mul(pi, big.NewRat(int64(ball), 1))
			return r.Add(r, big.NewRat(int64(overlap), 1))
		}
		if big.NewRat(int64(got), 1).Cmp(need(low)) < 0 {
			t.Fatalf("%v is too short", got)
		}
		if big.NewRat(int64(got-unit.Grid()), 1).Cmp(need(high)) >= 0 {
			t.Fatalf("%v is a step too long", got)
		}
	})
}

// The band's width runs along the selvage, so that a one-way print stands
// upright on the ball.
func TestBandSize(t *testing.T) {
	o := &Ornament{Ball: 3 * units.Inch, Band: &Band{Width: 7 * units.Inch / 4, Overlap: units.Inch}}
	assert.Equal(t, "1 3/4 x 10 1/2 in", bandSize(o, units.Inches).Format(units.Inches))
}

// Common practice, no source: a second round of 2 x 3 in pieces started 1 1/4 in
// from the pole of a 3 in ball reaches past its middle, 2 3/4 against 2.36 in.
func TestReachPastTheMiddle(t *testing.T) {
	from := 5 * units.Inch / 4
	size := units.Size{Along: 2 * units.Inch, Across: 3 * units.Inch}
	assert.Equal(t, 11*units.Inch/4, reachOf(from, size))
	assert.Equal(t, "2.36", Decimals(Sphere{3 * units.Inch}.PoleToEquator(), units.Inches, 2))
	o := Ornament{Name: "star", Ball: 3 * units.Inch, Pieces: []Round{{Name: "round 2", Size: size, From: &from}}}
	assert.Equal(t, []Reach{{Ornament: "star", Round: "round 2", Side: Both, Length: 11 * units.Inch / 4, Past: true}}, o.Reaches())
}

func TestReaches(t *testing.T) {
	at := func(l units.Length) *units.Length { return &l }
	square := units.Size{Along: 2 * units.Inch, Across: 2 * units.Inch}
	ball := 4 * units.Inch // pole to equator 3.1416 in
	for _, c := range []struct {
		name   string
		band   *Band
		rounds []Round
		want   []Reach
	}{
		{"nothing known", nil, []Round{{Name: "a", Size: square}}, nil},
		{"the furthest counts", nil, []Round{
			{Name: "a", Size: square, From: at(2 * units.Inch)},
			{Name: "b", Size: square, From: at(units.Inch)},
		}, []Reach{{Round: "a", Length: 3 * units.Inch, Bare: 1151}}}, // 0.14159 in
		{"the band hides the rest", &Band{Shows: units.Inch}, []Round{
			{Name: "a", Size: square, From: at(2 * units.Inch)},
		}, []Reach{{Round: "a", Length: 3 * units.Inch}}},
		{"a later round without from may cover it", nil, []Round{
			{Name: "a", Size: square, From: at(units.Inch)},
			{Name: "b", Size: square},
		}, nil},
		{"sides differ", nil, []Round{
			{Name: "a", Size: square, From: at(3 * units.Inch), Side: Front},
			{Name: "b", Size: square, From: at(2 * units.Inch), Side: Back},
		}, []Reach{
			{Round: "a", Side: Front, Length: 4 * units.Inch, Past: true},
			{Round: "b", Side: Back, Length: 3 * units.Inch, Bare: 1151},
		}},
	} {
		o := Ornament{Ball: ball, Band: c.band, Pieces: c.rounds}
		assert.Equal(t, c.want, o.Reaches(), c.name)
	}
}
