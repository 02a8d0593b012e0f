package pack_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// By hand: 16 squares in one strip take 15 passes one after another. Halved, the
// halves laid on each other and halved, the quarters cut in a stack of 4: 1 + 1 + 3.
func TestTidyOfOneStrip(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "A", W: 5 * in / 2, H: 5 * in / 2, Demand: 16, Turn: true}},
		Sheets: []pack.Sheet{{ID: "strip", W: 40 * in, H: 5 * in / 2, Copies: 1, Free: true}},
		Rules:  pack.Rules{Layers: 4, Ruler: 24 * in},
	}
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	given := []pack.Cloth{{Problem: p, Layouts: s.Layouts}}
	pack.Arrange(given)
	assert.Equal(t, 15, p.Passes(given[0].Layouts))
	got := pack.Tidy(context.Background(), given, pack.FewerPasses, pack.Options{Effort: pack.Quick})
	assert.Equal(t, 5, p.Passes(got[0].Layouts))
	require.NoError(t, pack.Check(p, s.Laid(p, got[0].Layouts)))
}

// By hand: 5 strips of 4 squares, one layer. 4 cuts take them apart and 2 stacks
// of them are cut by 3: 10 passes. Across first, 3 cuts make 4 columns, which lie
// in one stack for 4 more: 7. There may be ways with less.
func TestTidyCutsAcross(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "A", W: 4 * in, H: 4 * in, Demand: 20, Turn: true}},
		Sheets: []pack.Sheet{{ID: "s", W: 16 * in, H: 20 * in, Copies: 1, Free: true}},
		Rules:  pack.Rules{Layers: 4},
	}
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	given := []pack.Cloth{{Problem: p, Layouts: s.Layouts}}
	pack.Arrange(given)
	assert.Equal(t, 10, p.Passes(given[0].Layouts))
	got := pack.Tidy(context.Background(), given, pack.FewerPasses, pack.Options{Effort: pack.Quick})
	assert.LessOrEqual(t, p.Passes(got[0].Layouts), 7)
}

// What is left counts by the square of its area in the smallest size worth
// keeping: 12 x 6 in is twelve times 2 x 3, and twice 12 x 3 in is 6 times each.
func TestUseful(t *testing.T) {
	in := units.Inch
	p := pack.Problem{Rules: pack.Rules{Keep: units.Size{Along: 2 * in, Across: 3 * in}}}
	one := pack.Layout{W: 12 * in, H: 6 * in, Copies: 1, Cuts: &pack.Node{Leaf: pack.OffcutLeaf}}
	assert.EqualValues(t, 144, p.Useful([]pack.Layout{one}))
	half := pack.Layout{W: 12 * in, H: 3 * in, Copies: 2, Cuts: &pack.Node{Leaf: pack.OffcutLeaf}}
	assert.EqualValues(t, 72, p.Useful([]pack.Layout{half}))
}

// Whatever the preference, the layouts pass the check, hold the same pieces, cost
// no more, are no worse, and are the same on one core and on several.
func TestTidyOfRandomProblems(t *testing.T) {
	problems := 48
	if testing.Short() {
		problems = 12
	}
	ctx := context.Background()
	improved := 0
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 21))
		var given []pack.Cloth
		var solved []pack.Solution
		rules := randomProblem(r).Rules
		for range 1 + seed%2 {
			p := randomProblem(r)
			p.Rules = rules
			p.Rules.Flat = r.IntN(4) == 0
			s, err := pack.Solve(ctx, p, pack.Options{Effort: pack.Quick, Share: 4})
			require.NoError(t, err, "seed %d", seed)
			given, solved = append(given, pack.Cloth{Problem: p, Layouts: s.Layouts}), append(solved, s)
		}
		pack.Arrange(given)
		before := pack.NewSession(given).Passes
		prefer := pack.Prefer(seed % 3)
		o := pack.Options{Effort: pack.Quick, Share: 8, Workers: 1}
		got := pack.Tidy(ctx, given, prefer, o)
		o.Workers = 3
		require.Equal(t, got, pack.Tidy(ctx, given, prefer, o), "seed %d: one core or many", seed)
		var useful [2]int64
		for i, c := range got {
			s := solved[i].Laid(c.Problem, c.Layouts)
			require.NoError(t, pack.Check(c.Problem, s), "seed %d", seed)
			assert.LessOrEqual(t, s.Cost, solved[i].Cost, "seed %d", seed)
			useful[0] += c.Problem.Useful(given[i].Layouts)
			useful[1] += c.Problem.Useful(c.Layouts)
		}
		after := pack.NewSession(got).Passes
		if prefer == pack.Thrift {
			assert.True(t, useful[1] >= useful[0] || after < before, "seed %d", seed)
		} else {
			assert.LessOrEqual(t, after, before, "seed %d", seed)
		}
		if after < before {
			improved++
		}
		again := append([]pack.Cloth(nil), got...)
		pack.Arrange(again)
		assert.Equal(t, after, pack.NewSession(again).Passes, "seed %d: arranged twice", seed)
	}
	assert.Greater(t, improved, problems/4)
}
