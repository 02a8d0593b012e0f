package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack"
	"pinfold/units"
)

func TestParseScrap(t *testing.T) {
	in := units.Inch
	size := func(a, b units.Length) units.Size { return units.Size{Along: a, Across: b} }
	corner := Bad{X: 7 * in, Y: 4 * in, W: 2 * in, H: 2 * in, What: "missing"}
	for text, want := range map[string]StashPiece{
		"5x7":                                 {Size: size(5*in, 7*in), Count: 1},
		" 5 X 7 x 3 ":                         {Size: size(5*in, 7*in), Count: 3},
		"4 1/2 × 11 x3":                       {Size: size(9*in/2, 11*in), Count: 3},
		"6x9 less 2x2 corner":                 {Size: size(6*in, 9*in), Count: 1, Bad: []Bad{corner}},
		"6x9 less 2x2":                        {Size: size(6*in, 9*in), Count: 1, Bad: []Bad{corner}},
		"6 x 9 less corner 2 x 2 x4":          {Size: size(6*in, 9*in), Count: 4, Bad: []Bad{corner}},
		"6x9 less 2x2 corner x12":             {Size: size(6*in, 9*in), Count: 12, Bad: []Bad{corner}},
		"6x9 LESS 2x2 corner at top right x2": {Size: size(6*in, 9*in), Count: 2, Bad: []Bad{corner}},
		"6x9 less 2x3 at bottom left and 1x1/2 hole at 3 up 4 right": {Size: size(6*in, 9*in), Count: 1, Bad: []Bad{
			{W: 3 * in, H: 2 * in, What: "missing"}, {X: 4 * in, Y: 3 * in, W: in / 2, H: in, What: "hole"},
		}},
		"6x9 less 1x1 stain at middle": {Size: size(6*in, 9*in), Count: 1, Bad: []Bad{{X: 4 * in, Y: 5 * in / 2, W: in, H: in, What: "stain"}}},
	} {
		got, err := ParseScrap(text, units.Inches)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestFaultyScraps(t *testing.T) {
	for text, want := range map[string]string{
		"":                                "cannot read \"\" as a size: write two lengths with x between them, like 2 1/2 x 4; " + scrapForm,
		"6":                               "cannot read \"6\" as a size: write two lengths with x between them, like 2 1/2 x 4; " + scrapForm,
		"6 x 9 x 0":                       `how many in "6 x 9 x 0": 0 is too few: write a whole number from 1`,
		"6 x 9 less":                      `unknown unit "less" in " 9 less": write in, cm, mm, m, yd or ft; ` + scrapForm,
		"6 x 9 less 2":                    `cannot read "2" as a size: write two lengths with x between them, like 2 1/2 x 4`,
		"6 x 9 less 1x1 less 2x2":         `"6 x 9 less 1x1 less 2x2" says less twice: part what is missing with and`,
		"6 x 9 less 1x1 hole":             `"1x1 hole" does not say where: write one like 1 x 1 hole at 3 up 4 right`,
		"6 x 9 less 1x1 and 2x2":          `"2x2" does not say which corner: write one like 2 x 2 at top left`,
		"6 x 9 less 1x1 at 7 up 1 right":  `"1x1 at 7 up 1 right" lies outside a piece of 6 x 9 in`,
		"6 x 9 less 1x1 at the far end":   `cannot read the place "the far end": write one like 2 x 3 at 0, 4 or 2 x 3 at top left`,
		"6 x 9 less 1x1 corner x99999999": `how many in "6 x 9 less 1x1 corner x99999999": 99999999 is too many: write a whole number up to 10000`,
	} {
		_, err := ParseScrap(text, units.Inches)
		assert.EqualError(t, err, want, text)
	}
}

// No text makes it fail in any other way than with an error.
func FuzzParseScrap(f *testing.F) {
	for _, s := range []string{"6x9 less 2x2 corner x3", "x x x", "6 x 9 less and x2", "6x9 less 2x2 at x3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := ParseScrap(s, units.Centimetres)
		if err == nil && (p.Count < 1 || p.Size.Along <= 0 || p.Size.Across <= 0) {
			t.Fatalf("%q became %+v", s, p)
		}
	})
}

// What is written of bad areas is read back as the same.
func TestBadAreasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := units.Unit(rapid.IntRange(0, 1).Draw(t, "unit"))
		grid := units.Inch64
		if u == units.Centimetres {
			grid = units.Millimetre / 10
		}
		n := rapid.Custom(func(t *rapid.T) units.Length { return grid * units.Length(rapid.IntRange(0, 500).Draw(t, "n")) })
		p := StashPiece{Size: units.Size{Along: 600 * grid, Across: 700 * grid}}
		for range rapid.IntRange(1, 3).Draw(t, "areas") {
			p.Bad = append(p.Bad, Bad{
				X: n.Draw(t, "x"), Y: n.Draw(t, "y"), W: n.Draw(t, "w") + grid, H: n.Draw(t, "h") + grid,
				What: rapid.SampledFrom([]string{"", "hole", "stain", "missing"}).Draw(t, "what"),
			})
		}
		r := reader{plan: &Plan{Unit: u}, broken: map[string]bool{}}
		got := r.badAreas(cell{text: p.BadAreas(u)}, p.Size, pack.Point{})
		require.Empty(t, r.faults, p.BadAreas(u))
		require.Equal(t, p.Bad, got, p.BadAreas(u))
	})
}
