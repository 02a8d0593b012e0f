package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack"
	"pinfold/units"
)

// One fabric with everything it can be had as; the expected sheets below are
// worked out by hand.
const everyStock = `ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 x 3, count: 10, role: ground}]}
make: [{ornament: star, count: 5, colourway: {ground: navy dot}}]
fabrics:
  navy dot:
    bolt: {width: 44, usable: 40}
    shrinks: {length: 10%, width: 5%}
    buy:
      - {fat quarter: 3.25}
      - {fat quarter: 3.00, size: 18 x 21, available: 2}
      - {cut: 2, name: ten inch square, size: 10 x 10}
      - {yard: 12, step: 1/8 yd, least: 1/4 yd, most: 2 yd}
      - {metre: 13.20, step: 25 cm}
stash:
  - {id: fat quarter, fabric: navy dot, size: 9 x 14, count: 3, bad areas: 2 x 3 at bottom left; 1 x 1 at top right}
  - {fabric: navy dot, size: 9 x 14, squared: yes, bad areas: "1 x 2 at 4, 5"}
  - {fabric: navy dot, size: 1/2 x 14}
  - {fabric: sail white, size: 20 x 20}
cutting: {squaring: 1/4, kerf: 1/16, stages: 3, layers: 6, spare: 10%}
`

func TestFabricProblem(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(everyStock), nil)
	require.NoError(t, err)
	assert.Empty(t, p.Warnings)
	g, err := Gather(p)
	require.NoError(t, err)
	problem, stocks, bolts, err := FabricProblem(p, g.Fabrics[0])
	require.NoError(t, err)

	in := func(n float64) units.Length { return units.Length(n * float64(units.Inch)) }
	q := in(0.25)
	all := pack.Margins{Left: q, Right: q, Bottom: q, Top: q}
	ends := pack.Margins{Bottom: q, Top: q}
	half := pack.Margins{Right: q, Bottom: q, Top: q}
	assert.Equal(t, pack.Problem{
		Pieces: []pack.Piece{{ID: "A", W: in(3), H: in(2), Demand: 55, Turn: true}},
		Sheets: []pack.Sheet{
			{ID: "fat quarter", W: in(14), H: in(9), Squared: all, Copies: 3, Free: true, Scrap: true, Bad: []pack.Rect{
				{X: 0, Y: 0, W: in(2.75), H: in(1.75)},
				{X: in(12.75), Y: in(7.75), W: in(0.75), H: in(0.75)},
			}},
			{ID: "stash 2", W: in(14), H: in(9), Copies: 1, Free: true, Scrap: true, Bad: []pack.Rect{{X: in(5), Y: in(4), W: in(2), H: in(1)}}},
			// 20 in less 5%, 18 in less 10%.
			{ID: "fat quarter (2)", W: in(19), H: 131673, Squared: half, Selvages: 1, Copies: pack.Unlimited, Price: 325},
			// 21 in less 5% = 162153.6 ticks, rounded down.
			{ID: "fat quarter (3)", W: 162153, H: 131673, Squared: half, Selvages: 1, Copies: 2, Price: 300},
			{ID: "ten inch square", W: in(9.5), H: in(9), Squared: all, Copies: pack.Unlimited, Price: 200},
		},
		Roll: &pack.Roll{
			ID: "yard", W: in(38), Squared: ends, Selvages: 2,
			Step: in(4.5), Least: in(9), Most: in(72), Price: 1200, Per: units.Yard, Shrinks: 1000,
			Also: []pack.Terms{{ID: "metre", Step: 25 * units.Centimetre, Price: 1320, Per: units.Metre}},
		},
		Rules: pack.Rules{Kerf: in(0.0625), Stages: 3, Layers: 6, Ruler: in(24), Keep: units.Size{Along: in(2), Across: in(3)}},
		Goal:  pack.LeastPrice,
	}, problem)
	require.Len(t, stocks, len(problem.Sheets))
	assert.Same(t, &p.Stash[0], stocks[0].Stash)
	assert.Same(t, &p.Stash[1], stocks[1].Stash)
	assert.Same(t, &p.Fabrics[0].Buy[0], stocks[2].Offer)
	assert.Same(t, &p.Fabrics[0].Buy[2], stocks[4].Offer)
	require.Len(t, bolts, 2)
	assert.Same(t, &p.Fabrics[0].Buy[3], bolts[0].Offer)
	assert.Same(t, &p.Fabrics[0].Buy[4], bolts[1].Offer)
}

// Without prices the area bought is what counts.
func TestGoalWithoutPrices(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(strings.Replace(base, "{fat quarter: 3.25}", "fat quarter", 1)), nil)
	require.NoError(t, err)
	g, err := Gather(p)
	require.NoError(t, err)
	problem, _, bolts, err := FabricProblem(p, g.Fabrics[0])
	require.NoError(t, err)
	assert.Equal(t, pack.LeastArea, problem.Goal)
	assert.Empty(t, bolts)
}

func TestFabricProblemRefuses(t *testing.T) {
	_, _, _, err := FabricProblem(&Plan{}, FabricNeed{Fabric: "x"})
	assert.EqualError(t, err, `plan: fabric "x" is not defined`)
}

// Bad areas stay within the usable cloth and cover whatever of them lies there.
func TestClip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Custom(func(t *rapid.T) units.Length { return units.Length(rapid.IntRange(0, 12).Draw(t, "n")) })
		b := Bad{X: n.Draw(t, "x"), Y: n.Draw(t, "y"), W: n.Draw(t, "w"), H: n.Draw(t, "h")}
		m := pack.Margins{Left: n.Draw(t, "left") / 4, Bottom: n.Draw(t, "bottom") / 4}
		w, h := n.Draw(t, "usable w"), n.Draw(t, "usable h")
		got, ok := clip(b, m, w, h)
		for x := range w {
			for y := range h {
				bad := b.X <= x+m.Left && x+m.Left < b.X+b.W && b.Y <= y+m.Bottom && y+m.Bottom < b.Y+b.H
				covered := ok && got.Meets(pack.Rect{X: x, Y: y, W: 1, H: 1})
				if bad != covered {
					t.Fatalf("cell %d, %d: bad %v, covered %v by %v", x, y, bad, covered, got)
				}
			}
		}
		if ok && (got.X < 0 || got.Y < 0 || got.X+got.W > w || got.Y+got.H > h) {
			t.Fatalf("%v leaves %d x %d", got, w, h)
		}
	})
}

// What reads without a fault states a sound problem in which every piece fits
// some cloth.
func TestReadPlansStateSoundProblems(t *testing.T) {
	for _, file := range []string{"testdata/harbour.yaml", "testdata/published/S2.yaml", "testdata/published/S8.yaml"} {
		p, err := Read(file)
		require.NoError(t, err)
		g, err := Gather(p)
		require.NoError(t, err)
		for _, need := range g.Fabrics {
			problem, stocks, bolts, err := FabricProblem(p, need)
			require.NoError(t, err)
			require.NoError(t, problem.Validate())
			assert.Len(t, stocks, len(problem.Sheets))
			assert.Equal(t, problem.Roll == nil, len(bolts) == 0)
			for _, n := range need.Sizes {
				assert.True(t, stockOf(p, p.Fabric(need.Fabric)).fits(n.Size, n.Turn))
			}
		}
	}
}
