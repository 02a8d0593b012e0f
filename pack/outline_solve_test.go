package pack_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// withOutlines puts scraps of any shape beside a random problem's cloth, some of
// them with bad areas as well.
func withOutlines(r *rand.Rand, p pack.Problem) pack.Problem {
	step := []units.Length{1, units.Inch / 8}[r.IntN(2)]
	for i := range 1 + r.IntN(4) {
		s := pack.Sheet{
			ID: fmt.Sprint("crooked ", i), W: units.Length(10+r.IntN(150)) * units.Inch / 8, H: units.Length(10+r.IntN(150)) * units.Inch / 8,
			Copies: 1 + r.IntN(2), Free: true,
		}
		s.Outline = randomOutline(r, s.W/step, s.H/step)
		if r.IntN(2) == 0 {
			// As scraps mostly are: four corners, each somewhat off.
			w, h := int64(s.W/step), int64(s.H/step)
			off := func(side int64) units.Length { return units.Length(r.Int64N(side/4 + 1)) }
			s.Outline = pack.Outline{{X: 0, Y: off(h)}, {X: units.Length(w) - off(w), Y: 0}, {X: units.Length(w), Y: units.Length(h) - off(h)}, {X: off(w), Y: units.Length(h)}}
		}
		for k := range s.Outline {
			s.Outline[k].X, s.Outline[k].Y = s.Outline[k].X*step, s.Outline[k].Y*step
		}
		box := s.Outline.Box()
		s.W, s.H = box.W, box.H
		if r.IntN(3) == 0 {
			s.Bad = append(s.Bad, pack.Rect{X: s.W / 3, Y: s.H / 4, W: units.Inch, H: units.Inch})
		}
		p.Sheets = append(p.Sheets, s)
	}
	return p
}

// Nothing that is placed or kept reaches out of an outline, and the rectangles
// that stand for the outside cover all of it and nothing that is used.
func TestNothingReachesOutOfAnOutline(t *testing.T) {
	problems := 120
	if testing.Short() {
		problems = 30
	}
	placed, kept := 0, 0
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 25))
		p := withOutlines(r, randomProblem(r))
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 4})
		require.NoError(t, err, "seed %d", seed)
		cloths := []pack.Cloth{{Problem: p, Layouts: s.Layouts}}
		pack.Arrange(cloths)
		for _, l := range slices.Concat(s.Layouts, cloths[0].Layouts) {
			if l.Stock.Sheet == pack.FromRoll || p.Sheets[l.Stock.Sheet].Outline == nil {
				continue
			}
			sheet := p.Sheets[l.Stock.Sheet]
			off := sheet.Forbidden(l, p.Rules.Kerf)
			l.Walk(p.Rules.Kerf, func(n *pack.Node, q pack.Rect) {
				if n.Leaf == pack.WasteLeaf {
					return
				}
				if n.Leaf == pack.PieceLeaf {
					placed++
				} else {
					kept++
				}
				require.True(t, insideSlowly(sheet.Outline, q), "seed %d: %v in %v", seed, q, sheet.Outline)
				require.False(t, slices.ContainsFunc(off, q.Meets), "seed %d: %v of %v", seed, q, off)
			})
			for range 50 {
				q := pack.Rect{X: units.Length(r.Int64N(int64(l.W))), Y: units.Length(r.Int64N(int64(l.H))), W: 1, H: 1}
				if !insideSlowly(sheet.Outline, q) {
					require.True(t, slices.ContainsFunc(off, q.Meets), "seed %d: %v of %v is not covered", seed, q, sheet.Outline)
				}
			}
		}
	}
	t.Logf("%d pieces and %d offcuts on crooked cloth", placed, kept)
	assert.Greater(t, placed, problems)
}

// A piece that reaches out of an outline, by a tick or across a corner that comes
// in from the side, does not pass.
func TestCheckFindsWhatReachesOut(t *testing.T) {
	// A rectangle of 10 x 10 with a notch from the right.
	notched := pack.Outline{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4}, {X: 6, Y: 5}, {X: 10, Y: 6}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	for want, w := range map[string]units.Length{
		"": 6,
		"check: layout 0 has about 0 in x about 0 in at 0 in, 0 in, which is not all cloth": 7,
	} {
		p := pack.Problem{
			Pieces: []pack.Piece{{ID: "a", W: w, H: 10, Demand: 1}},
			Sheets: []pack.Sheet{{ID: "s", W: 10, H: 10, Copies: 1, Free: true, Outline: notched}},
		}
		s := pack.Solution{
			Layouts: []pack.Layout{{W: 10, H: 10, Copies: 1, Cuts: &pack.Node{
				At: []units.Length{w}, Parts: []*pack.Node{{Leaf: pack.PieceLeaf}, {Leaf: pack.WasteLeaf}},
			}}},
			Missing: []int{0}, Status: pack.Proved, ProvedBy: "area",
		}
		err := pack.Check(p, s)
		if want == "" {
			assert.NoError(t, err)
		} else {
			assert.EqualError(t, err, want)
		}
	}
}

// Crooked cloths lie in one stack only with their like; what is straight about
// them lies with everything.
func TestCrookedClothsAreStackedWithTheirLikeOnly(t *testing.T) {
	cut := func() *pack.Node {
		return &pack.Node{At: []units.Length{4}, Parts: []*pack.Node{
			{Leaf: pack.WasteLeaf},
			{At: []units.Length{6}, Parts: []*pack.Node{{Leaf: pack.PieceLeaf}, {Leaf: pack.PieceLeaf, Piece: 1}}},
		}}
	}
	slanted := pack.Outline{{X: 4, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 8}, {X: 0, Y: 8}}
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "a", W: 2, H: 8, Demand: 3}, {ID: "b", W: 4, H: 8, Demand: 3}},
		Sheets: []pack.Sheet{
			{ID: "straight", W: 10, H: 8, Copies: 1, Free: true},
			{ID: "crooked", W: 10, H: 8, Copies: 2, Free: true, Outline: slanted},
		},
		Rules: pack.Rules{Layers: 4},
	}
	layouts := []pack.Layout{
		{Stock: pack.Stock{Sheet: 0}, W: 10, H: 8, Copies: 1, Cuts: cut()},
		{Stock: pack.Stock{Sheet: 1}, W: 10, H: 8, Copies: 2, Cuts: cut()},
	}
	s := pack.NewSession([]pack.Cloth{{Problem: p, Layouts: layouts}})
	// The first cut of the straight cloth, that of the crooked two together, the
	// second of all three.
	assert.Equal(t, 3, s.Passes)
	p.Sheets[1].Outline = nil
	assert.Equal(t, 2, p.Passes(layouts))
}
