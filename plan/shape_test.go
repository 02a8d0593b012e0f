package plan

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// sixteenths makes an outline of x and y in sixteenths of an inch.
func sixteenths(xy ...units.Length) (o pack.Outline) {
	for i := 0; i < len(xy); i += 2 {
		o = append(o, pack.Point{X: xy[i] * units.Inch / 16, Y: xy[i+1] * units.Inch / 16})
	}
	return o
}

func TestParseShape(t *testing.T) {
	box := sixteenths(0, 0, 144, 0, 144, 192, 0, 192)
	for text, want := range map[string]pack.Outline{
		"0, 0; 0, 9; 12, 9; 12, 0":          box,
		"corners 0, 0; 0, 9; 12, 9; 12, 0;": box,
		"Corners: 0, 0;0, 9;12 in, 9;12, 0": box,
		// Measured from elsewhere, the other way round.
		"1, 2; 13, 2; 13, 11; 1, 11":                          sixteenths(0, 0, 0, 192, 144, 192, 144, 0),
		"0, 0; 0, 9 1/2; 12, 8":                               sixteenths(0, 0, 152, 0, 128, 192),
		"0, 0; 0, 9; 4, 9; 4, 6; 12, 6; 12, 0":                sixteenths(0, 0, 144, 0, 144, 64, 96, 64, 96, 192, 0, 192),
		"bottom 9, right 12, top 9, left 12, diagonal 15":     box, // 3 : 4 : 5
		"DIAGONAL 15; left 12; right 12; top: 9; bottom 9 in": box,
		"bottom 9, top 9, left height 12, right height 12":    box,
		"bottom 9, top 10, left height 12, right height 6":    sixteenths(0, 0, 144, 0, 128, 96, 0, 192), // 6 : 8 : 10
	} {
		got, err := parseShape(text, units.Inches)
		require.NoError(t, err, text)
		assert.Equal(t, want, got.outline, text)
	}
}

func TestFaultyShapes(t *testing.T) {
	for text, want := range map[string]string{
		"":                               `cannot read "": ` + shapeForm,
		"round":                          `cannot read "round": ` + shapeForm,
		"0, 0; 9, 0":                     "2 corners enclose nothing, a shape has 3 or more",
		"0, 0; 9 0; 9, 9":                `corner 2: cannot read "9 0": write along the selvage, then across, like 12, 8 1/2`,
		"0, 0; 9, 0; 9, l":               `corner 3: cannot read "l" as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
		"0, 0; 9, 0; -1, 4":              `corner 3: length "-1" is negative`,
		"0, 0; 9, 0; 9.3, 4":             `corner 3: length "9.3" is not exact: write 9 19/64 in or 9 5/16 in`,
		"0, 0; 9, 0; 9, 9; 9, 0":         "corner 4 lies on corner 2",
		"0, 0; 9, 9; 9, 0; 0, 9":         "the edge from corner 3 to corner 4 crosses the edge from corner 1 to corner 2",
		"0, 0; 9, 0; 4, 0; 4, 9":         "corner 3 lies on the edge from corner 1 to corner 2",
		"0, 0; 5, 5; 9, 9":               "corner 2 lies on the edge from corner 3 to corner 1",
		"0, 0; 20, 0; 20, 1/16":          "it is too thin to cut anything from",
		"0, 0; 0, 9; 200 yd, 9":          "it is more than 10000 cm long",
		strings.Repeat("0, 0; ", 101):    "101 corners are too many, the most is 100",
		"bottom 9, rihgt 8":              `cannot read "rihgt 8": did you mean "right"?`,
		"bottom 9, bottom 8":             "bottom stands twice: leave one of them out",
		"bottom 9, right":                "right: no length given: write a number like 10 1/2",
		"bottom 9, right 0":              "right: a side of 0 in is none",
		"bottom 9, right 8, top 7":       "left is missing: write bottom, right, top, left and diagonal, or bottom, top, left height and right height",
		"bottom 9, top 9, left height 4": "right height is missing: write bottom, right, top, left and diagonal, or bottom, top, left height and right height",
		"bottom 9, top 9, left 3, left height 4, right height 4": "sides and heights do not go together: write bottom, right, top, left and diagonal, or bottom, top, left height and right height",
		"bottom 9, right 2, top 9, left 12, diagonal 15":         "corner 3 (top right): bottom 9, right 2 and a diagonal of 15 do not meet: measure again, the diagonal from the bottom left to the top right",
		"bottom 9, right 12, top 1, left 12, diagonal 15":        "corner 4 (top left): left 12, top 1 and a diagonal of 15 do not meet: measure again, the diagonal from the bottom left to the top right",
		"bottom 9, right 6, top 9, left 6, diagonal 15":          "corner 3 (top right): bottom 9, right 6 and a diagonal of 15 do not meet: measure again, the diagonal from the bottom left to the top right",
		"bottom 5, right 9, top 9, left 5, diagonal 5":           "corner 1 (bottom left) would dent inwards: measure again, or write the corners, like 0, 0; 0, 9; 12, 8; 11, 0",
		"bottom 9, top 3, left height 12, right height 8":        "corner 3 (top right): top 3 does not reach from a left height of 12 to a right height of 8: measure the heights square to the bottom edge",
		"bottom 9, top 9.25, left height 12, right height 3":     "corner 3 (top right) would dent inwards: measure again, or write the corners, like 0, 0; 0, 9; 12, 8; 11, 0",
		"bottom 9, right 12, top 9, left 12.3, diagonal 15":      `left: length "12.3" is not exact: write 12 19/64 in or 12 5/16 in`,
	} {
		_, err := parseShape(text, units.Inches)
		assert.EqualError(t, err, want, text)
	}
}

// A four-sided piece that was measured: what is worked out lies within what there
// is, and no more than a hair is lost.
func TestMeasuredPieces(t *testing.T) {
	sixteenth := units.Inch / 16
	made := 0
	for seed := range 3000 {
		r := rand.New(rand.NewPCG(uint64(seed), 31))
		side := func() units.Length { return sixteenth * units.Length(32+r.IntN(300)) }
		b, rt, tp, l, d := side(), side(), side(), side(), side()
		var o pack.Outline
		var err error
		heights := r.IntN(2) == 0
		if heights {
			o, err = fromHeights(b, tp, l, rt, units.Inches)
		} else {
			o, err = fromSides(b, rt, tp, l, d, units.Inches)
		}
		if err != nil {
			continue
		}
		made++
		require.NoError(t, o.Validate(), "seed %d", seed)
		// In double precision a corner is off by less than a hundredth of a tick.
		far := func(i, j int) float64 {
			return math.Hypot(float64(o[i].X-o[j].X), float64(o[i].Y-o[j].Y))
		}
		const hair = 12 // ticks: 0.04 mm
		assert.Equal(t, pack.Point{}, o[0])
		assert.Equal(t, pack.Point{X: b}, o[1])
		assert.InDelta(t, float64(tp), far(2, 3), hair, "seed %d", seed)
		if heights {
			assert.Equal(t, pack.Point{Y: l}, o[3])
			assert.InDelta(t, float64(rt), float64(o[2].Y), hair)
		} else {
			assert.InDelta(t, float64(rt), far(1, 2), hair)
			assert.InDelta(t, float64(l), far(3, 0), hair)
			assert.InDelta(t, float64(d), far(0, 2), hair)
		}
		// The area by the formula for two triangles is never reached.
		if !heights {
			heron := func(a, b, c float64) float64 {
				s := (a + b + c) / 2
				return math.Sqrt(s * (s - a) * (s - b) * (s - c))
			}
			whole := heron(float64(b), float64(rt), float64(d)) + heron(float64(tp), float64(l), float64(d))
			assert.LessOrEqual(t, float64(o.Area()), whole*(1+1e-9)+1)
			assert.GreaterOrEqual(t, float64(o.Area()), whole-float64(b+rt+tp+l+d)*hair)
		}
	}
	assert.Greater(t, made, 300)
}

// A stash with shapes, beside sizes that only check them.
func TestStashWithShapes(t *testing.T) {
	p, err := withStash("id,fabric,size,shape,bad areas,squared\n" +
		"S1,navy dot,,\"1, 2; 1, 11; 13, 10; 12, 2\",\"hole 1 x 1 at 3, 4; 2 x 2 at top right\",\n" +
		"S2,navy dot,12 x 9,bottom 9; top 9; left height 12; right height 11.9375,,no\n" +
		"S3,navy dot,9 x 14,,,\n")
	require.NoError(t, err)
	in := units.Inch
	s := p.Stash[0]
	assert.Equal(t, sixteenths(0, 0, 144, 0, 128, 192, 0, 176), s.Shape)
	assert.Equal(t, units.Size{Along: 12 * in, Across: 9 * in}, s.Size)
	assert.Equal(t, []Bad{{X: 2 * in, Y: 2 * in, W: in, H: in, What: "hole"}, {X: 7 * in, Y: 10 * in, W: 2 * in, H: 2 * in}}, s.Bad)
	assert.Equal(t, "hole 1 x 1 at 3, 4; 2 x 2 at top right", s.BadAreas(units.Inches))
	assert.NotNil(t, p.Stash[1].Shape)
	assert.Nil(t, p.Stash[2].Shape)
	for i, sheet := range stockOf(p, p.Fabric("navy dot")).sheets[:3] {
		assert.Equal(t, p.Stash[i].Shape, sheet.Outline)
		assert.Equal(t, p.Stash[i].Shape != nil, sheet.Squared == pack.Margins{}, "nothing is squared off a shape")
	}
	_, err = withStash("id,fabric,size,shape\n" +
		"S1,navy dot,12 x 10,\"0, 0; 0, 9; 12, 8\"\n" +
		"S2,navy dot,,\n" +
		"S3,navy dot,,bottom 9\n" +
		"S4,navy dot,,\"0, 0; 9, 9; 9, 0; 0, 9\"\n")
	assert.EqualError(t, err, strings.Join([]string{
		`folder/stash.csv:2:13: size "12 x 10" is not that of the rectangle around the shape, 12 x 9 in: leave it out, or measure again`,
		`folder/stash.csv:3:1: stash piece 2 has no size: write along the selvage x across, like 9 x 14`,
		`folder/stash.csv:4:14: shape: right is missing: write bottom, right, top, left and diagonal, or bottom, top, left height and right height`,
		`folder/stash.csv:5:14: shape: the edge from corner 3 to corner 4 crosses the edge from corner 1 to corner 2`,
	}, "\n"))
}

// No text makes it fail in any other way than with an error.
func FuzzParseShape(f *testing.F) {
	for _, s := range []string{"0, 0; 0, 9; 12, 9; 12, 0", "bottom 9, right 12, top 9, left 12, diagonal 15", "bottom 9, top 5, left height 12, right height 8", "bottom ½, top"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		sh, err := parseShape(s, units.Inches)
		if err != nil {
			return
		}
		box := sh.outline.Box()
		sheet := pack.Sheet{ID: "s", W: box.W, H: box.H, Copies: 1, Free: true, Outline: sh.outline}
		if err := (pack.Problem{Sheets: []pack.Sheet{sheet}}).Validate(); err != nil {
			t.Fatalf("%q: %v", s, err)
		}
	})
}
