package units

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The definitions 1 yd = 0.9144 m and so 1 in = 25.4 mm: international yard and
// pound agreement of 1959, effective 1 July 1959 (US Federal Register 24 FR 5348,
// "Refinement of Values for the Yard and the Pound", 1959; number of the notice
// from memory).
func TestYardAndInchAreDefinedByTheMetre(t *testing.T) {
	assert.Equal(t, Metre*9144/10000, Yard)
	assert.Zero(t, Metre*9144%10000, "0.9144 m is a whole number of ticks")
	assert.Equal(t, Millimetre*254/10, Inch)
	assert.Zero(t, Millimetre*254%10, "25.4 mm is a whole number of ticks")
	assert.Equal(t, 36*Inch, Yard)
	assert.Equal(t, 12*Inch, Foot)
	assert.Equal(t, Inch, 64*Inch64)
	assert.Equal(t, Centimetre, 10*Millimetre)
	assert.Equal(t, Metre, 1000*Millimetre)
}

// A tick is the largest unit in which 1/64 in and 1/10 mm are both whole.
func TestTickIsTheLargestCommonUnit(t *testing.T) {
	assert.EqualValues(t, 1, new(big.Int).GCD(nil, nil, big.NewInt(int64(Inch64)), big.NewInt(int64(Millimetre/10))).Int64())
}

func TestRounding(t *testing.T) {
	for _, c := range []struct{ l, step, down, up Length }{
		{0, 8, 0, 0}, {7, 8, 0, 8}, {8, 8, 8, 8}, {9, 8, 8, 16},
		{-1, 8, -8, 0}, {-8, 8, -8, -8}, {-9, 8, -16, -8},
	} {
		assert.Equal(t, c.down, c.l.RoundDown(c.step), "%d down to %d", c.l, c.step)
		assert.Equal(t, c.up, c.l.RoundUp(c.step), "%d up to %d", c.l, c.step)
	}
	assert.PanicsWithValue(t, "units: rounding step must be positive", func() { Inch.RoundDown(0) })
}

func TestRoundingKeepsItsDirection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "l"))
		step := Length(rapid.Int64Range(1, 1<<20).Draw(t, "step"))
		down, up := l.RoundDown(step), l.RoundUp(step)
		if down%step != 0 || up%step != 0 || down > l || up < l || up-down > step || l-down >= step || up-l >= step {
			t.Fatalf("%d to %d: down %d, up %d", l, step, down, up)
		}
	})
}

// Sums and products are right or an error, never wrapped round. The oracle is
// arithmetic of unlimited size.
func TestOverflowIsAnError(t *testing.T) {
	edges := []int64{0, 1, -1, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, math.MinInt64 + 1, int64(MaxLength), 1 << 32}
	ints := rapid.OneOf(rapid.Int64(), rapid.SampledFrom(edges))
	rapid.Check(t, func(t *rapid.T) {
		a, b := ints.Draw(t, "a"), ints.Draw(t, "b")
		sum := new(big.Int).Add(big.NewInt(a), big.NewInt(b))
		product := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		check := func(what string, want *big.Int, got int64, err error) {
			if want.IsInt64() {
				if err != nil || got != want.Int64() {
					t.Fatalf("%d %s %d: got %d, %v", a, what, b, got, err)
				}
			} else {
				require.ErrorIs(t, err, ErrOverflow)
			}
		}
		l, err := Length(a).Plus(Length(b))
		check("+", sum, int64(l), err)
		l, err = Length(a).Times(int(b))
		check("*", product, int64(l), err)
		s, err := Area(a).Plus(Area(b))
		check("+", sum, int64(s), err)
		if a >= 0 && b >= 0 {
			s, err = Area(a).Times(int(b))
			check("*", product, int64(s), err)
		}
	})
}

// What is one too much for 64 bits is refused, and said.
func TestOverflowIsSaid(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{second(Length(math.MaxInt64).Plus(1)), "1134765260439810 1/64 in + about 0 in: too large"},
		{second(Length(math.MinInt64).Times(-1)), "-1 times -2882303761517117.44 cm: too large"},
		{second(MaxLength.Times(1 << 32)), "4294967296 times 671088.64 cm: too large"},
		{second(Area(math.MaxInt64).Plus(1)), "9223372036854775807 + 1 square ticks: too large"},
		{second(AreaOf(MaxLength, MaxLength).Times(2)), "2 areas of 4611686018427387904 square ticks: too large"},
	} {
		require.ErrorIs(t, c.err, ErrOverflow, c.want)
		assert.EqualError(t, c.err, c.want)
	}
	l, err := MaxLength.Times(1<<32 - 1)
	require.NoError(t, err)
	assert.Equal(t, Length(1<<63-1<<31), l)
}

func second[T any](_ T, err error) error { return err }

func TestParseUnit(t *testing.T) {
	for text, want := range map[string]Unit{
		"in": Inches, "inch": Inches, "inches": Inches,
		"cm": Centimetres, "centimetre": Centimetres, "centimeters": Centimetres,
	} {
		u, err := ParseUnit(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, u, text)
	}
	_, err := ParseUnit("ell")
	assert.EqualError(t, err, `unknown unit "ell": write in or cm`)
}

func TestUnit(t *testing.T) {
	assert.Equal(t, Inch, Inches.Length())
	assert.Equal(t, Centimetre, Centimetres.Length())
	assert.Equal(t, Inch/8, Inches.Grid())
	assert.Equal(t, Millimetre, Centimetres.Grid())
	assert.Equal(t, "in", Inches.String())
	assert.Equal(t, "cm", Centimetres.String())
}

func TestArea(t *testing.T) {
	assert.Equal(t, 396*SquareInch, AreaOf(18*Inch, 22*Inch))
	assert.Equal(t, 396*SquareInch, Size{18 * Inch, 22 * Inch}.Area())
	assert.Equal(t, "396.0 sq in", AreaOf(18*Inch, 22*Inch).Format(Inches))
	assert.Equal(t, "2750.0 sq cm", AreaOf(50*Centimetre, 55*Centimetre).Format(Centimetres))
	// 1 sq in = 6.4516 sq cm follows from 1 in = 2.54 cm.
	assert.InDelta(t, 6.4516, SquareInch.In(Centimetres), 1e-12)
	assert.Positive(t, AreaOf(MaxLength, MaxLength), "the largest area fits")
	_, err := Area(-1).Times(2)
	assert.EqualError(t, err, "negative area or count")
}
