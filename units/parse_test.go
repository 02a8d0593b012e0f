package units

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		want Length
	}{
		{"0", 0}, {"7", 7 * Inch}, {"10 1/2", 21 * Inch / 2}, {"10-1/2", 21 * Inch / 2}, {"10 - 1/2", 21 * Inch / 2},
		{"10.5", 21 * Inch / 2}, {"10,5", 21 * Inch / 2}, {".5", Inch / 2}, {"10½", 21 * Inch / 2}, {"10 ½", 21 * Inch / 2},
		{"½", Inch / 2}, {"1/2", Inch / 2}, {"10 1⁄2", 21 * Inch / 2}, {"3/64", 3 * Inch64}, {"2 13/16", 45 * Inch / 16},
		{"10 1/2 in", 21 * Inch / 2}, {`10 1/2"`, 21 * Inch / 2}, {"10½″", 21 * Inch / 2}, {"10½”", 21 * Inch / 2},
		{"10 1/2 INCHES", 21 * Inch / 2}, {"3''", 3 * Inch}, {"3in", 3 * Inch},
		{"26.7 cm", 267 * Millimetre}, {"26,7 cm", 267 * Millimetre}, {"267 mm", 267 * Millimetre}, {"0.1mm", Millimetre / 10},
		{"0.5 m", 500 * Millimetre}, {"2 metres", 2 * Metre}, {"1 1/4 cm", 125 * Millimetre / 10},
		{"1/2 yd", 18 * Inch}, {"1 1/4 yd", 45 * Inch}, {"1¼ yards", 45 * Inch}, {"2 yds", 72 * Inch}, {"⅓ yd", 12 * Inch},
		{"1.5 yard", 54 * Inch}, {"3 ft", Yard}, {"1 foot", Foot}, {"1/2 feet", 6 * Inch},
		{"  4 \t", 4 * Inch}, {"10\u00a01/2", 21 * Inch / 2}, {"26,7\u202fcm", 267 * Millimetre}, {"6\u2009cm", 6 * Centimetre},
		{"⅛", Inch / 8}, {"1⅜", 11 * Inch / 8}, {"2⅝", 21 * Inch / 8}, {"3⅞", 31 * Inch / 8}, {"4¾", 19 * Inch / 4}, {"⅔ yd", 24 * Inch},
		{"1/127 in", 64}, {"6710 m", 6710 * Metre},
	} {
		got, err := Parse(c.text, Inches)
		if assert.NoError(t, err, c.text) {
			assert.Equal(t, c.want, got, c.text)
		}
	}
}

func TestBareNumbersTakeThePlansUnit(t *testing.T) {
	l, err := Parse("6,5", Centimetres)
	require.NoError(t, err)
	assert.Equal(t, 65*Millimetre, l)
	l, err = Parse("2 1/2 in", Centimetres)
	require.NoError(t, err)
	assert.Equal(t, 5*Inch/2, l)
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                       "no length given: write a number like 10 1/2",
		" \t":                    "no length given: write a number like 10 1/2",
		"-2":                     `length "-2" is negative`,
		"−2 in":                  `length "−2 in" is negative`,
		"wide":                   `cannot read "wide" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"in":                     `cannot read "in" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"1/2/3":                  `cannot read "1/2/3" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"½½":                     `cannot read "½½" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"10.5 1/2":               `cannot read "10.5 1/2" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"1.2.3":                  `cannot read "1.2.3" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"2, 4":                   `cannot read "2, 4" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		",5":                     `cannot read ",5" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"5,":                     `cannot read "5," as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"1e3":                    `unknown unit "e3" in "1e3": write in, cm, mm, m, yd or ft`,
		"3 ells":                 `unknown unit "ells" in "3 ells": write in, cm, mm, m, yd or ft`,
		"1/0":                    `"1/0" divides by 0`,
		"0.3333 yd":              `length "0.3333 yd" is not exact: write 11 63/64 in or 12 in`,
		"10.4":                   `length "10.4" is not exact: write 10 25/64 in or 10 13/32 in`,
		"0.01 mm":                `length "0.01 mm" is not exact: write 0 cm or 0.01 cm`,
		"99999 yd":               `length "99999 yd" is too large: the most is 6710 m`,
		"6710.001 m":             `length "6710.001 m" is too large: the most is 6710 m`,
		strings.Repeat("9", 100): `cannot read "99999999999999999999"... as a length: it is too long`,
	} {
		_, err := Parse(text, Inches)
		assert.EqualError(t, err, want, text)
	}
	_, err := Parse("99999 yd", Inches)
	assert.ErrorIs(t, err, ErrOverflow)
}

func TestParseRounded(t *testing.T) {
	for _, c := range []struct {
		text     string
		down, up Length
	}{
		{"10.4", 10*Inch + 25*Inch64, 10*Inch + 26*Inch64},
		{"0.3333 yd", 12*Inch - Inch64, 12 * Inch},
		{"1/3", 21 * Inch64, 22 * Inch64},
		{"0.25 mm", 80, 80},
		{"0.26 mm", 2 * Millimetre / 10, 3 * Millimetre / 10},
		{"10 1/2", 21 * Inch / 2, 21 * Inch / 2},
	} {
		down, err := ParseRounded(c.text, Inches, Down)
		require.NoError(t, err)
		up, err := ParseRounded(c.text, Inches, Up)
		require.NoError(t, err)
		assert.Equal(t, []Length{c.down, c.up}, []Length{down, up}, c.text)
	}
}

func TestParseSize(t *testing.T) {
	for text, want := range map[string]Size{
		"2 x 4":             {2 * Inch, 4 * Inch},
		"2x4 in":            {2 * Inch, 4 * Inch},
		"2 in x 4":          {2 * Inch, 4 * Inch},
		"2 1/2 in x 6 cm":   {5 * Inch / 2, 6 * Centimetre},
		`2" × 4"`:           {2 * Inch, 4 * Inch},
		"50 X 55 cm":        {50 * Centimetre, 55 * Centimetre},
		"1/2 yd x 42 in":    {18 * Inch, 42 * Inch},
		"2½×2½":             {5 * Inch / 2, 5 * Inch / 2},
		"4,5 x 26,7 cm":     {45 * Millimetre, 267 * Millimetre},
		" 2 1/4  x  1-3/4 ": {9 * Inch / 4, 7 * Inch / 4},
	} {
		got, err := ParseSize(text, Inches)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, got, text)
		}
	}
	got, err := ParseSizeRounded("10.4 x 1/3", Inches, Down)
	require.NoError(t, err)
	assert.Equal(t, Size{10*Inch + 25*Inch64, 21 * Inch64}, got)
}

func TestParseSizeRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":        `cannot read "" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		"2":       `cannot read "2" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		"2 x 3 x": `cannot read "2 x 3 x" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		"2 xx 3":  `cannot read "2 xx 3" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		"2 x":     "no length given: write a number like 10 1/2",
		"x 2":     "no length given: write a number like 10 1/2",
		"2 x no":  `cannot read " no" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"0 x 2":   `size "0 x 2" has a side of 0`,
		"2.3 x 2": `length "2.3 " is not exact: write 2 19/64 in or 2 5/16 in`,
		"2 x 2.3": `length " 2.3" is not exact: write 2 19/64 in or 2 5/16 in`,
	} {
		_, err := ParseSize(text, Inches)
		assert.EqualError(t, err, want, text)
	}
}

func TestNearestRoundsToATick(t *testing.T) {
	for text, want := range map[string]Length{"2.8": 22758, "1/3 mm": 107, "10 1/2": 21 * Inch / 2, "0.00005": 0, "0.00007": 1} {
		l, err := ParseRounded(text, Inches, Nearest)
		require.NoError(t, err, text)
		assert.Equal(t, want, l, text)
	}
}

// Yard fractions of the cutting counter: a yard is sold in eighths and thirds.
// Source: "Fraction conversions", quilting blog, 2014,
// https://catbirdquilts.wordpress.com/2014/02/07/fraction-conversions/ (inches);
// the centimetres follow from 1 in = 2.54 cm.
func TestYardFractions(t *testing.T) {
	for _, c := range []struct{ yards, inches, centimetres string }{
		{"1/8 yd", "4.5 in", "11.43 cm"},
		{"1/6 yd", "6 in", "15.24 cm"},
		{"1/4 yd", "9 in", "22.86 cm"},
		{"1/3 yd", "12 in", "30.48 cm"},
		{"3/8 yd", "13.5 in", "34.29 cm"},
		{"1/2 yd", "18 in", "45.72 cm"},
		{"5/8 yd", "22.5 in", "57.15 cm"},
		{"2/3 yd", "24 in", "60.96 cm"},
		{"3/4 yd", "27 in", "68.58 cm"},
		{"7/8 yd", "31.5 in", "80.01 cm"},
		{"1 yd", "36 in", "91.44 cm"},
	} {
		yards, err := Parse(c.yards, Inches)
		require.NoError(t, err)
		inches, err := Parse(c.inches, Inches)
		require.NoError(t, err)
		centimetres, err := Parse(c.centimetres, Inches)
		require.NoError(t, err)
		assert.Equal(t, inches, yards, c.yards)
		assert.Equal(t, centimetres, yards, c.yards)
		if c.yards != "1/6 yd" {
			assert.Equal(t, c.yards, yards.Yards())
		}
	}
}

// Whatever length is printed can be read again, in the unit of the print and
// in any plan.
func TestPrintedLengthsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grid := rapid.SampledFrom([]Length{Inch64, Centimetre / 100, Inch / 8, Millimetre, Yard / 8}).Draw(t, "grid")
		l := Length(rapid.Int64Range(0, int64(longest/grid)).Draw(t, "n")) * grid
		u := rapid.SampledFrom([]Unit{Inches, Centimetres}).Draw(t, "unit")
		for _, text := range []string{l.Format(u), l.Number(u), l.Vulgar(u), l.Yards(), l.Metres()} {
			got, err := Parse(text, u)
			if err != nil || got != l {
				t.Fatalf("%d ticks print as %q, which reads as %d, %v", l, text, got, err)
			}
		}
		s := Size{Along: l + grid, Across: 3 * grid}
		for _, text := range []string{s.Format(u), s.Number(u)} {
			got, err := ParseSize(text, u)
			if err == nil && got == s || errors.Is(err, ErrOverflow) {
				continue
			}
			t.Fatalf("%v prints as %q, which reads as %v, %v", s, text, got, err)
		}
	})
}

// Needs are never rounded down and stock never up, by more than one grid step.
func TestRoundedParsingBracketsTheNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{1,3}[.,][0-9]{1,7} ?(in|cm|mm|yd|m)|[0-9]{1,3} [0-9]{1,2}/[1-9][0-9]? ?(in|cm|ft)`).Draw(t, "text")
		down, err := ParseRounded(text, Inches, Down)
		require.NoError(t, err)
		up, err := ParseRounded(text, Inches, Up)
		require.NoError(t, err)
		exact, err := Parse(text, Inches)
		switch {
		case err == nil && (down != exact || up != exact):
			t.Fatalf("%q is %d exactly, but %d down and %d up", text, exact, down, up)
		case err != nil && up-down != Inch64 && up-down != Millimetre/10:
			t.Fatalf("%q is %d down and %d up", text, down, up)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"10 1/2", "10½ in", "26,7 cm", "1/3 yd", "0.3333 yd", "1 1/0", "−2", "5\u202fm", "9999999999", "\xff", "1/2/3"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, metric bool) {
		u := Inches
		if metric {
			u = Centimetres
		}
		up, errUp := ParseRounded(s, u, Up)
		down, errDown := ParseRounded(s, u, Down)
		if (errUp == nil) != (errDown == nil) || errUp == nil && (down > up || up < 0 || up > MaxLength) {
			t.Fatalf("%q: %d, %v up and %d, %v down", s, up, errUp, down, errDown)
		}
		l, err := Parse(s, u)
		if err != nil {
			return
		}
		if l != up || l != down {
			t.Fatalf("%q is %d, but %d up and %d down", s, l, up, down)
		}
		text := l.Format(u)
		if strings.HasPrefix(text, "about ") {
			return
		}
		if again, err := Parse(text, u); err != nil || again != l {
			t.Fatalf("%q is printed as %q, which reads as %d, %v", s, text, again, err)
		}
	})
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"2 x 4", `2" × 4"`, "2 1/2 in x 6 cm", "xx", "1x", "x1", "0x0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		size, err := ParseSize(s, Inches)
		if err == nil && (size.Along <= 0 || size.Across <= 0 || size.Area() <= 0) {
			t.Fatalf("%q is %v", s, size)
		}
	})
}
