package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		l                      Length
		in, cm, number, vulgar string
	}{
		{0, "0 in", "0 cm", "0", "0"},
		{21 * Inch / 2, "10 1/2 in", "26.67 cm", "10 1/2", "10½"},
		{Inch / 2, "1/2 in", "1.27 cm", "1/2", "½"},
		{7 * Inch / 8, "7/8 in", "7/8 in", "7/8", "⅞"},
		{2*Inch + 3*Inch/16, "2 3/16 in", "2 3/16 in", "2 3/16", "2 3/16"},
		{2*Inch + 11*Inch64, "2 11/64 in", "2 11/64 in", "2 11/64", "2 11/64"},
		{6 * Centimetre, "6 cm", "6 cm", "6 cm", "6 cm"},
		{267 * Millimetre, "26.7 cm", "26.7 cm", "26.7 cm", "26.7 cm"},
		{1, "about 0 in", "about 0 cm", "about 0 in", "about 0 in"},
		{100, "about 1/64 in", "about 0.03 cm", "about 1/64 in", "about 1/64 in"},
		{-Inch, "-1 in", "-2.54 cm", "-1", "-1"},
		{-100, "about -1/64 in", "about -0.03 cm", "about -1/64 in", "about -1/64 in"},
	} {
		assert.Equal(t, c.in, c.l.Format(Inches), "%d", c.l)
		assert.Equal(t, c.in, c.l.String(), "%d", c.l)
		assert.Equal(t, c.cm, c.l.Format(Centimetres), "%d", c.l)
		assert.Equal(t, c.number, c.l.Number(Inches), "%d", c.l)
		assert.Equal(t, c.vulgar, c.l.Vulgar(Inches), "%d", c.l)
	}
}

// Errors print the lengths that did not fit, so printing must hold out there.
func TestFormatOfTheExtremes(t *testing.T) {
	assert.Equal(t, "1134765260439810 1/64 in", Length(math.MaxInt64).Format(Inches))
	assert.Equal(t, "-2882303761517117.44 cm", Length(math.MinInt64).Format(Centimetres))
	assert.Equal(t, "-2882303761517117.44 cm", Length(math.MinInt64).Yards())
}

func TestYardsAndMetres(t *testing.T) {
	for want, l := range map[string]Length{
		"0 yd": 0, "1 yd": Yard, "3 yd": 3 * Yard, "1/8 yd": Yard / 8, "2/3 yd": 24 * Inch, "1 1/4 yd": 45 * Inch,
		"7 in": 7 * Inch, "25 cm": 25 * Centimetre, "-18 in": -Yard / 2,
	} {
		assert.Equal(t, want, l.Yards())
	}
	for want, l := range map[string]Length{
		"0 m": 0, "1 m": Metre, "0.75 m": 75 * Centimetre, "1.2 m": 120 * Centimetre, "12.34 m": 1234 * Centimetre,
		"12.5 cm": 125 * Millimetre, "45.72 cm": Yard / 2,
	} {
		assert.Equal(t, want, l.Metres())
	}
}

func TestSizeFormat(t *testing.T) {
	s := Size{Along: 5 * Inch / 2, Across: 4 * Inch}
	assert.Equal(t, "2 1/2 x 4 in", s.Format(Inches))
	assert.Equal(t, "2 1/2 x 4", s.Number(Inches))
	mixed := Size{Along: 5 * Inch / 2, Across: 6 * Centimetre}
	assert.Equal(t, "2 1/2 in x 6 cm", mixed.Format(Inches))
	assert.Equal(t, "6.35 x 6 cm", mixed.Format(Centimetres))
	assert.Equal(t, "2 1/2 in x 6 cm", mixed.Number(Inches))
}
