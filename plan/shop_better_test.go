package plan

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// dear is a shop whose answer is the next dearer purchase than the one by hand, as if
// a search had found no better: 4/8 yd where 3/8 yd do, and nothing is proved.
func dear(t *testing.T) *Shop {
	t.Helper()
	s := shopFor(t, oneFabric("2 1/2 x 4 1/2", 48, "40", "{yard: 8, step: 1/8 yd}, {fat quarter: 3}", exactYard))
	require.EqualValues(t, 300, s.Price)
	f := s.Counters[0].Safer.Cut
	require.EqualValues(t, 400, f.Solution.Cost)
	f.Solution.Status, f.Solution.Bound, f.Solution.ProvedBy = pack.Found, 300, ""
	s.Result.Fabrics[0] = f
	s.Price = 0
	return s
}

// A cheaper purchase that holds everything becomes the answer, until none does; what
// was looked at in vain is kept, so that it is not asked again.
func TestCheaperAnswerIsTaken(t *testing.T) {
	s := dear(t)
	o := Options{Effort: pack.Quick}
	found, err := s.better(context.Background(), 0, o)
	require.NoError(t, err)
	require.True(t, found)
	f := &s.Result.Fabrics[0]
	assert.EqualValues(t, 300, f.Solution.Cost)
	assert.NoError(t, pack.Check(f.Problem, f.Solution))
	assert.Nil(t, s.refused[0])
	found, err = s.better(context.Background(), 0, o)
	require.NoError(t, err)
	assert.False(t, found, "the bound is met")

	// With a bound that says less, the next purchase is tried and refused.
	f.Solution.Status, f.Solution.Bound = pack.Found, 200
	found, err = s.better(context.Background(), 0, o)
	require.NoError(t, err)
	assert.False(t, found)
	require.NotNil(t, s.refused[0])
	assert.EqualValues(t, 200, s.refused[0].Cost)
	assert.NotEqual(t, pack.Enough, s.refused[0].Verdict)

	stopped, stop := context.WithCancel(context.Background())
	stop()
	s = dear(t)
	found, err = s.better(stopped, 0, o)
	require.NoError(t, err)
	assert.False(t, found, "nothing is looked for any more")
}

// A way to buy that costs less than the answer is the answer, and told as such.
func TestCheaperWayIsTaken(t *testing.T) {
	s := dear(t)
	require.NoError(t, s.ways(context.Background(), Options{Effort: pack.Quick}))
	f := s.Result.Fabrics[0]
	assert.EqualValues(t, 300, f.Solution.Cost)
	assert.NoError(t, pack.Check(f.Problem, f.Solution))
	assert.Equal(t, []string{"navy dot"}, s.Improved)
	s.sum()
	assert.EqualValues(t, 300, s.Price)
	assert.EqualValues(t, 300, s.Ways[0].Price)
	assert.EqualValues(t, 300, s.Ways[OnlyLength].Price)
	require.Len(t, s.Result.Shopping, 1)
	assert.Equal(t, 3*units.Yard/8, s.Result.Shopping[0].Length)
}

// The answer alone is the shop's, and a scrap bin that is to be emptied first is no
// matter at the counter.
func TestAnswerAtTheCounterAlone(t *testing.T) {
	const stash = exactYard + "\nstash: [{fabric: navy dot, size: 9 x 40, squared: yes}]"
	text := oneFabric("2 1/2 x 4 1/2", 48, "40", "{yard: 8, step: 1/8 yd}", stash)
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	r, err := AtCounter(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, s.Result, r)
	p.Cutting.BinFirst = true
	bin, err := AtCounter(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.True(t, p.Cutting.BinFirst, "the plan is left as it is")
	assert.Equal(t, r.Shopping, bin.Shopping)
	assert.Equal(t, r.Fabrics, bin.Fabrics)
}

// With a budget too small for the answer, the purchase that lacks least is found among
// all that the money buys: 16 of 4 1/2 in fill 18 of the 18 x 21 in of a fat quarter
// (quilting forum, n.d., forum.missouriquiltco.com 47676), 9 lie side by side in 42 in.
func TestBudgetChoosesAmongPurchases(t *testing.T) {
	for _, c := range []struct {
		budget  string
		spent   int64
		missing int
		why     string
	}{
		{"4", 400, 0, "four strips of 9"},
		{"3.99", 360, 2, "a fat quarter and two strips; two fat quarters are 32"},
		{"3.59", 320, 4, "two fat quarters; three strips are 27"},
		{"3.10", 300, 9, "three strips; a fat quarter and a strip are 25"},
		{"2.60", 260, 11, "a fat quarter and a strip; two strips are 18"},
		{"1.60", 160, 20, "a fat quarter; a strip is 9"},
		{"1.59", 100, 27, "a strip"},
		{"0.99", 0, 36, "nothing"},
	} {
		s := shopFor(t, oneFabric("4 1/2 x 4 1/2", 36, "42", "{fat quarter: 1.60, size: 18 x 21}, {yard: 8, step: 1/8 yd}", exactYard+"\nbudget: "+c.budget))
		b := s.Budget
		assert.Equal(t, c.missing == 0, b.Fits, c.budget)
		assert.Equal(t, c.missing, b.Bought[0].Cut.Solution.Missing[0], "%s: %s", c.budget, c.why)
		assert.Equal(t, c.spent, b.Spent, "%s: %s", c.budget, c.why)
	}
}

// Widths are tried on a grid of 2 mm where the plan is metric.
func TestHoldsInCentimetres(t *testing.T) {
	s := shopFor(t, "unit: cm\n"+oneFabric("6 x 6", 16, "105", "{metre: 8, step: 10 cm}", "cutting: {squaring: 0}"))
	h := s.Counters[0].Holds
	require.Len(t, h, 1)
	assert.Equal(t, 105*units.Centimetre, h[0].Promised)
	assert.Equal(t, 96*units.Centimetre, h[0].Down, "16 side by side in 10 cm")
	assert.Equal(t, 958*units.Millimetre, h[0].Fails)
	assert.True(t, h[0].Exact(HoldStep(units.Centimetres)))
}
