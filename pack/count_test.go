package pack_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// Sheets of 4 x 4 squares, by hand: 3 cuts make 4 strips, each takes 3 more, so 15 cuts
// a sheet; 4 sides are squared and 2 selvages cut off. Cut singly, two sheets take twice
// as much, and stacked fewer.
func TestPassesCutSingly(t *testing.T) {
	in := units.Inch
	q := in / 4
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "A", W: 4 * in, H: 4 * in, Demand: 32}},
		Sheets: []pack.Sheet{{ID: "s", W: 33 * in / 2, H: 33 * in / 2, Squared: pack.Margins{Left: q, Right: q, Bottom: q, Top: q}, Selvages: 2, Copies: 2, Price: 1}},
		Rules:  pack.Rules{Layers: 4},
	}
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	require.Equal(t, 2*(15+4+2), p.Singly(s.Layouts))
	assert.Less(t, pack.NewSession([]pack.Cloth{{Problem: p, Layouts: s.Layouts}}).Passes, 21, "two sheets on each other take less than one alone")
	assert.Zero(t, p.Singly(nil))
	assert.Equal(t, pack.Session{}, pack.NewSession(nil))
}

// How cloth lies for a cut, by hand: under a ruler of 24 in and in at most 4 layers.
func TestHowClothLies(t *testing.T) {
	in := units.Inch
	rules := pack.Rules{Layers: 4, Ruler: 24 * in}
	for _, c := range []struct {
		why                string
		rules              pack.Rules
		n                  int
		cut                units.Length
		flat               bool
		fold, lays, stacks int
	}{
		{"shorter than the ruler", rules, 1, 24 * in, false, 1, 1, 1},
		{"one layer of each, in stacks of 4", rules, 9, 20 * in, false, 1, 1, 3},
		{"folded once", rules, 1, 42 * in, false, 2, 1, 1},
		{"flat, the ruler is laid twice", rules, 1, 42 * in, true, 1, 2, 1},
		{"folded, two of them are four layers", rules, 5, 42 * in, false, 2, 1, 3},
		{"folded twice", rules, 1, 96 * in, false, 4, 1, 1},
		{"folded twice, and the ruler laid twice", rules, 1, 100 * in, false, 4, 2, 1},
		{"folding four halves the lays but doubles the stacks", rules, 4, 48 * in, false, 1, 2, 1},
		{"one layer cannot be folded", pack.Rules{Ruler: 24 * in}, 1, 42 * in, false, 1, 2, 1},
		{"a ruler of any length", pack.Rules{Layers: 4}, 3, 100 * in, false, 1, 1, 1},
	} {
		fold, lays, stacks := c.rules.Lie(c.n, c.cut, c.flat)
		assert.Equal(t, []int{c.fold, c.lays, c.stacks}, []int{fold, lays, stacks}, c.why)
	}
}

// What other layouts of the same pieces cost is worked out again, and a proof is kept
// only as long as it is one.
func TestLaidOutAgain(t *testing.T) {
	p := sound()
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	require.Equal(t, pack.Proved, s.Status)
	require.Zero(t, s.Cost, "the stash holds everything")
	assert.Equal(t, s, s.Laid(p, s.Layouts))
	bought := s.Layouts[0]
	bought.Stock = pack.Stock{Sheet: 1}
	again := s.Laid(p, []pack.Layout{bought})
	assert.Equal(t, pack.Found, again.Status)
	assert.Empty(t, again.ProvedBy)
	assert.EqualValues(t, 325, again.Cost)
	assert.EqualValues(t, 325, again.Price)
	assert.Equal(t, p.Sheets[1].Area(), again.Area)
	assert.Zero(t, again.Bound)

	short := s
	short.Status, short.Bound, short.Missing = pack.Short, 400, []int{1, 0}
	assert.EqualValues(t, 325, short.Laid(p, []pack.Layout{bought}).Bound, "a bound is never above the cost")
}

// Cloths cut by different rules cannot lie on each other: they stay as they are.
func TestTidyOfDifferentRules(t *testing.T) {
	p := sound()
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	q := p
	q.Rules.Layers = 7
	cloths := []pack.Cloth{{Problem: p, Layouts: s.Layouts}, {Problem: q, Layouts: s.Layouts}}
	want := []pack.Cloth{{Problem: p, Layouts: s.Layouts}, {Problem: q, Layouts: s.Layouts}}
	pack.Arrange(want)
	assert.Equal(t, want, pack.Tidy(context.Background(), cloths, pack.Balanced, pack.Options{Effort: pack.Quick}))
	assert.Empty(t, pack.Tidy(context.Background(), nil, pack.Thrift, pack.Options{}))
}
