package reports

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// A square of 2 1/2 in, its point at the pole of a 3 in ball, at 1 : 1. By hand:
// the foot lies 1.25 in from the pole, which is 1.25 / 1.5 = 5/6 of a radian; its
// corners lie 5/6 to either side of that. By Napier's rules (spherical
// trigonometry, any textbook) the corner's distance c has cos c = cos 5/6 cos 5/6
// = 0.672412 squared = 0.452138, so c = 1.101640 rad = 1.652460 in; its angle
// at the pole has tan = tan 5/6 / sin 5/6 = 1 / cos 5/6 = 1.487183, so it is
// 0.978787 rad = 56.08 degrees.
func TestFoldOfASquareAtThePole(t *testing.T) {
	size := units.Size{Along: 5 * in / 2, Across: 5 * in / 2}
	g := newGlobe(0, 0, 3*in, 2)
	shape := g.fold(size, plan.Pinned{})
	require.Len(t, shape, 3*sideSteps)
	polar := func(s Spot) (r, turn float64) {
		return math.Hypot(float64(s.X), float64(s.Y)) / float64(in), math.Atan2(float64(s.X), -float64(s.Y))
	}
	assert.Equal(t, Spot{}, shape[0], "the point lies at the pole")
	r, turn := polar(shape[sideSteps])
	assert.InDelta(t, 1.652460, r, 0.0005)
	assert.InDelta(t, 0.978787, turn, 0.0005)
	r, turn = polar(shape[2*sideSteps])
	assert.InDelta(t, 1.652460, r, 0.0005)
	assert.InDelta(t, -0.978787, turn, 0.0005)
	// The middle of the foot is half the longer side from the point, straight up.
	r, turn = polar(shape[sideSteps+sideSteps/2])
	assert.InDelta(t, 1.25, r, 0.0005)
	assert.InDelta(t, 0, turn, 0.0005)
}

// Distances from the pole along the ball are true whatever the scale: a point
// that starts 1 in out lies 1/2 in from the pole at 1 : 2, in its direction, and
// the foot of a 2 x 3 in piece 1 1/2 in further.
func TestFoldKeepsDistances(t *testing.T) {
	g := newGlobe(10*in, 10*in, 6*in, 4)
	shape := g.fold(units.Size{Along: 2 * in, Across: 3 * in}, plan.Pinned{From: in, Turn: math.Pi / 2})
	assert.Equal(t, Spot{10*in + in/2, 10 * in}, shape[0], "a quarter clockwise is to the right")
	assert.Equal(t, Spot{10*in + 5*in/4, 10 * in}, shape[sideSteps+sideSteps/2])
}

// What lies beyond the middle is drawn up to it, and a piece larger than its
// ball comes out as a shape.
func TestFoldEndsAtTheMiddle(t *testing.T) {
	for _, size := range []units.Length{4 * in, 40 * in} {
		g := newGlobe(0, 0, 3*in, 2)
		edge := math.Pi * 3 / 4 * float64(in)
		for _, from := range []units.Length{0, in, 4 * in} {
			for _, s := range g.fold(units.Size{Along: size, Across: size}, plan.Pinned{From: from}) {
				assert.LessOrEqual(t, math.Hypot(float64(s.X), float64(s.Y)), edge+1)
			}
		}
	}
}

func TestPatternsStayWithinTheirShape(t *testing.T) {
	shape := []Spot{{0, 0}, {100 * point, 20 * point}, {60 * point, 90 * point}, {30 * point, 40 * point}}
	seen := map[int]bool{}
	for p := blank; p < patterns; p++ {
		var d Drawing
		d.shade(shape, swatch{colour: white, pattern: p, gap: 5 * point})
		for _, m := range d.Marks[1:] {
			if m.Shape == CircleShape {
				assert.True(t, within(shape, m.X, m.Y))
				continue
			}
			for k := 1; k < 10; k++ {
				x, y := m.X+(m.X2-m.X)*units.Length(k)/10, m.Y+(m.Y2-m.Y)*units.Length(k)/10
				if max(m.X, m.X2)-min(m.X, m.X2)+max(m.Y, m.Y2)-min(m.Y, m.Y2) > 20 {
					assert.True(t, within(shape, x, y), "pattern %d: %+v", p, m)
				}
			}
		}
		seen[len(d.Marks)] = true
		assert.Equal(t, p == blank, len(d.Marks) == 1)
	}
	assert.GreaterOrEqual(t, len(seen), 5)
}

func TestFabricsLookDifferent(t *testing.T) {
	p := &plan.Plan{}
	for _, n := range []string{"navy dot", "a", "b", "rusty nail", "Old ROSE", "c", "d", "e", "f", "g", "h"} {
		p.Fabrics = append(p.Fabrics, plan.Fabric{Name: n})
	}
	looks := swatches(p)
	assert.Equal(t, colourWords["navy"], looks["navy dot"].colour)
	assert.Equal(t, colourWords["rose"], looks["Old ROSE"].colour)
	assert.Equal(t, otherColours[2], looks["rusty nail"].colour, "rusty is no colour word")
	type grey struct {
		pattern
		gap units.Length
	}
	seen := map[grey]bool{}
	for _, s := range looks {
		seen[grey{s.pattern, s.gap}] = true
	}
	assert.Len(t, seen, 11, "also in black and white, up to three times the patterns but plain")
}

func TestFaces(t *testing.T) {
	r := fair(t)
	f := NewFaces(r.Plan, r.Gathered)
	require.Len(t, f.Looks, 2)
	require.Len(t, f.Outlines, 2)
	assert.Equal(t, Look{Ornament: "harbour star", Fabrics: "ground night water", Count: 6, bag: f.Looks[0].bag}, f.Looks[0])
	var b bytes.Buffer
	require.NoError(t, f.WriteSVG(&b, 0))
	golden(t, "face.svg", b.Bytes())
	for i := range f.Looks {
		inside(t, f.picture(f.Looks[i], true))
		inside(t, f.picture(f.Outlines[i], false))
		b.Reset()
		require.NoError(t, f.WriteOutlines(&b, i))
		wellFormed(t, b.Bytes())
	}
}

// All pieces of the ornament are drawn, and the outlines are those of the
// picture.
func TestFacesDrawEveryPiece(t *testing.T) {
	r := fair(t)
	f := NewFaces(r.Plan, r.Gathered)
	count := func(d *Drawing) (n int) {
		for _, m := range d.Marks {
			if m.Shape == PolygonShape && m.Style.Stroke == ink && len(m.Corners) != 4 {
				n++
			}
		}
		return n
	}
	// Of 18 pieces two are flat squares. Round by round the front's 4 and 8 are
	// drawn again: 4, then 8, and 8 under the band. The lamp has 24 folded ones,
	// and one round needs no pictures.
	assert.Equal(t, 16+4+8+8, count(f.picture(f.Looks[0], true)))
	assert.Equal(t, 16, count(f.picture(f.Outlines[0], false)))
	assert.Equal(t, 24, count(f.picture(f.Looks[1], true)))
}

func TestFacesOfHostileNames(t *testing.T) {
	for _, name := range []string{`<script>"x" & 'y'</script>`, "]]><b>", "\x00\x1b[31m", strings.Repeat("W", 300)} {
		r := renamed(t, name)
		f := NewFaces(r.Plan, r.Gathered)
		for i := range f.Looks {
			var b bytes.Buffer
			require.NoError(t, f.WriteSVG(&b, i))
			wellFormed(t, b.Bytes())
			assert.NotContains(t, b.String(), "<script")
			assert.NotContains(t, b.String(), "\x1b")
			inside(t, f.picture(f.Looks[i], true))
		}
	}
}
