package plan

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

const inch = units.Inch

// oneFabric is a plan of one size of one fabric.
func oneFabric(size string, count int, usable, buy, more string) string {
	return fmt.Sprintf(`ornaments:
  star: {ball: 3, pieces: [{name: centre, size: %s, count: %d, role: ground}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot}}]
fabrics:
  navy dot: {bolt: {usable: %s}, buy: [%s]}
%s
`, size, count, usable, buy, more)
}

// shopFor solves a plan at the counter and checks everything it says again.
func shopFor(t *testing.T, text string) *Shop {
	t.Helper()
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	checked(t, s)
	return s
}

func checked(t *testing.T, s *Shop) {
	t.Helper()
	for i, c := range s.Counters {
		for _, ch := range []*Choice{&c.Answer, c.Cheaper, c.Safer} {
			if ch != nil {
				assert.NoError(t, pack.Check(ch.Cut.Problem, ch.Cut.Solution))
				assert.Equal(t, ch.Cut.Problem.Goal, s.Result.Fabrics[i].Problem.Goal)
				assert.Equal(t, ch.Verdict == pack.Enough, ch.Cut.Solution.Status != pack.Short)
			}
		}
		if c.Cheaper != nil {
			assert.Less(t, c.Cheaper.Cost, c.Answer.Cost)
			assert.NotEqual(t, pack.Enough, c.Cheaper.Verdict, "a cheaper answer is the answer")
		}
		if c.Safer != nil {
			assert.Greater(t, c.Safer.Cost, c.Answer.Cost)
			assert.Equal(t, pack.Enough, c.Safer.Verdict)
		}
		for _, w := range s.Ways {
			a := w.Answers[i]
			if a.Sold {
				assert.NoError(t, pack.Check(a.Cut.Problem, a.Cut.Solution))
				if a.Cut.Solution.Status != pack.Short {
					assert.GreaterOrEqual(t, a.Cut.Solution.Cost, c.Answer.Cost)
				}
			}
		}
	}
	if s.Budget != nil {
		var spent int64
		for _, ch := range s.Budget.Bought {
			assert.NoError(t, pack.Check(ch.Cut.Problem, ch.Cut.Solution))
			if ch.Cut.Priced {
				spent += ch.Cut.Solution.Price
			}
		}
		assert.Equal(t, spent, s.Budget.Spent)
		assert.LessOrEqual(t, spent, s.Budget.Limit)
	}
}

// asked is the length the only fabric's answer asks for.
func asked(t *testing.T, s *Shop) units.Length {
	t.Helper()
	require.Len(t, s.Counters[0].Answer.Purchases, 1)
	return s.Counters[0].Answer.Purchases[0].Length
}

const exactYard = "cutting: {squaring: 0}"

// Printed examples of how much to buy, with cloth that needs no squaring, to the
// next eighth of a yard.
func TestPrintedLengths(t *testing.T) {
	for _, c := range []struct {
		size         string
		count        int
		usable       string
		eighths      units.Length
		source, note string
	}{
		{"2 1/2 x 4 1/2", 48, "40", 3, "quilting blog, 2011, patchworktimes.com/2011/11/12/calculating-yardage", "three 4 1/2 in strips are 13 1/2 in; six of 2 1/2 in would be 15 in, 1/2 yd"},
		{"4 1/2 x 4 1/2", 12, "40", 2, "the same", "8 to a strip, two strips, 9 in"},
		{"3 x 2", 300, "40", 10, "quilting shop blog, n.d., bobbininquilts.com", "printed as 24 rows of 2 in, 48 in; turned it is 15 strips of 3 in, 45 in"},
		{"2 1/2 x 2 1/2", 720, "42", 25, "quilting forum, n.d., forum.missouriquiltco.com 47676", "45 strips, 3.125 yd"},
		{"2 1/2 x 40", 1, "40", 1, "tutorial guide, n.d., anniescatalog.com content_id=804", "one strip from 1/8 yd"},
		{"2 1/2 x 40", 4, "40", 3, "the same", "four strips need 10 in, at least 3/8 yd"},
		{"5 x 5", 8, "40", 2, "the same", "8 squares to a 5 in strip"},
		{"5 x 5", 56, "40", 8, "quilting forum, n.d., quiltingboard.com t46327", "a yard gives 56"},
		{"5 x 5", 63, "45", 8, "the same", "and 63 when it is 45 in wide"},
		{"2 1/2 x 2 1/2", 63, "44", 3, "how-to site, n.d., instructables.com Photographic-Quilt", "4 rows, 10 in"},
		{"2 1/2 x 2 1/2", 70, "44", 3, "the same", "17.6 to a width is 17: 4 rows hold 68, so 5 rows"},
	} {
		t.Run(fmt.Sprint(c.count, " of ", c.size), func(t *testing.T) {
			s := shopFor(t, oneFabric(c.size, c.count, c.usable, "{yard: 8, step: 1/8 yd}", exactYard))
			assert.Equal(t, c.eighths*units.Yard/8, asked(t, s), "%s; %s", c.note, c.source)
			assert.Equal(t, pack.Proved, s.Result.Fabrics[0].Solution.Status)
		})
	}
}

// Strips of the whole width from 1 yd and from 1/2 yd, as a handout prints them
// for cloth 44 in wide (n.d., docsbay.net/number-of-squares-from-a-fat-quarter):
// the number is floor((length - 1/2 in) / width), so with 1/4 in squared off
// both ends it is bought as that length and one strip more is not. The chart has
// 13 of 2 1/2 in from a yard, though 14 take 35 in.
func TestPrintedStrips(t *testing.T) {
	if testing.Short() {
		t.Skip("four dozen lengths are not for the race detector")
	}
	for _, c := range []struct {
		width      string
		yard, half int
	}{
		{"1 1/2", 23, 11}, {"2", 17, 8}, {"2 1/2", 14, 7}, {"3", 11, 5}, {"3 1/2", 10, 5}, {"4", 8, 4},
		{"4 1/2", 7, 3}, {"5", 7, 3}, {"5 1/2", 6, 3}, {"6", 5, 2}, {"7", 5, 2}, {"8", 4, 2},
	} {
		for _, at := range []struct {
			n      int
			length units.Length
		}{{c.yard, units.Yard}, {c.half, units.Yard / 2}} {
			ask := func(n int) units.Length {
				return asked(t, shopFor(t, oneFabric(c.width+" x 44", n, "44", "{yard: 8, step: 1/8 yd}", "cutting: {squaring: 1/4}")))
			}
			assert.LessOrEqual(t, ask(at.n), at.length, "%d strips of %s in", at.n, c.width)
			assert.Greater(t, ask(at.n+1), at.length, "%d strips of %s in", at.n+1, c.width)
		}
	}
}

// 48 pieces of 2 1/2 x 4 1/2 in take 13 1/2 of 40 in width by area alone, so the
// whole decision can be worked out by hand.
func TestDecisionByHand(t *testing.T) {
	s := shopFor(t, oneFabric("2 1/2 x 4 1/2", 48, "40", "{yard: 8, step: 1/8 yd}", exactYard))
	c := s.Counters[0]
	assert.EqualValues(t, 300, c.Answer.Cost)

	assert.Equal(t, TooLittleCloth, c.Reason.Why)
	assert.Equal(t, 27*inch/2, c.Reason.Needs)
	assert.Equal(t, 9*inch, c.Reason.Gives)
	assert.Equal(t, 40*inch, c.Reason.Width)

	require.NotNil(t, c.Cheaper)
	assert.EqualValues(t, 200, c.Cheaper.Cost)
	assert.Equal(t, pack.TooLittle, c.Cheaper.Verdict)
	assert.Equal(t, []int{16}, c.Cheaper.Cut.Solution.Missing, "two strips hold 32")

	require.NotNil(t, c.Safer)
	assert.EqualValues(t, 400, c.Safer.Cost)
	assert.Equal(t, 16, c.SaferSpares[0].Room, "4 1/2 in more hold one strip more")
	assert.Equal(t, 16, c.SaferSpares[0].Left)
	assert.Equal(t, 0, c.Spares[0].Left, "no cloth is left over")

	require.Len(t, c.Holds, 1)
	assert.Equal(t, 40*inch, c.Holds[0].Down)
	assert.Equal(t, 319*inch/8, c.Holds[0].Fails)
	assert.True(t, c.Holds[0].Exact(inch/8))

	assert.False(t, s.Ways[OnlyCuts].Answers[0].Sold)
	assert.False(t, s.Ways[OnlyCuts].Complete)
	assert.EqualValues(t, 300, s.Ways[OnlyLength].Price)
}

// 16 squares of 2 1/2 in lie side by side in 42 in with 2 in to spare (quilting
// forum, n.d., forum.missouriquiltco.com 47676); 16 of 4 1/2 in fill 18 of the
// 18 x 21 in of a fat quarter (the same).
func TestHoldsDownToTheLastGridLine(t *testing.T) {
	s := shopFor(t, oneFabric("2 1/2 x 2 1/2", 16, "42", "{yard: 8, step: 1/8 yd}", exactYard))
	h := s.Counters[0].Holds
	require.Len(t, h, 1)
	assert.Equal(t, 42*inch, h[0].Promised)
	assert.Equal(t, 40*inch, h[0].Down)
	assert.True(t, h[0].Exact(inch/8))

	s = shopFor(t, oneFabric("4 1/2 x 4 1/2", 16, "42", "{fat quarter: 3, size: 18 x 21}", exactYard))
	h = s.Counters[0].Holds
	require.Len(t, h, 2)
	assert.Equal(t, []units.Length{18 * inch, 18 * inch}, []units.Length{h[0].Down, h[1].Down}, "across and along")
	assert.Equal(t, []bool{false, true}, []bool{h[0].Along, h[1].Along})
	assert.True(t, h[0].Exact(inch/8))
	assert.True(t, h[1].Exact(inch/8))
}

// Measures are those of the shop: before shrinking and squaring.
func TestHoldsBeforeShrinkingAndSquaring(t *testing.T) {
	text := oneFabric("2 1/2 x 2 1/2", 16, "42", "{yard: 8, step: 1/8 yd}", "cutting: {squaring: 1/4}")
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	p, told, err := p.With(WhatIf{Shrinks: []string{"2%"}})
	require.NoError(t, err)
	assert.Equal(t, []string{"navy dot: shrinks 2% instead of 0%"}, told)
	s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	// 40 / 0.98 is 40.82.
	assert.Equal(t, 327*inch/8, s.Counters[0].Holds[0].Down)
}

func TestMixedPurchases(t *testing.T) {
	// 36 squares of 4 1/2 in: 16 to a fat quarter at 3.00, 9 to each 4 1/2 in of
	// the width at 1.00. Two fat quarters are 6.00, 1/2 yd is 4.00 for 36.
	buy := "{fat quarter: 3, size: 18 x 21}, {yard: 8, step: 1/8 yd}"
	s := shopFor(t, oneFabric("4 1/2 x 4 1/2", 36, "42", buy, exactYard))
	assert.Equal(t, units.Yard/2, asked(t, s))
	w := s.Ways
	assert.EqualValues(t, []int64{400, 900, 400, 400}, []int64{w[0].Price, w[1].Price, w[2].Price, w[3].Price})
	assert.Equal(t, pack.Proved, w[OnlyCuts].Answers[0].Cut.Solution.Status)

	// The shelf holds two fat quarters, which is not enough alone.
	s = shopFor(t, oneFabric("4 1/2 x 4 1/2", 36, "42", "{fat quarter: 3, size: 18 x 21, available: 2}, {yard: 8, step: 1/8 yd}", exactYard))
	assert.Equal(t, pack.Short, s.Ways[OnlyCuts].Answers[0].Cut.Solution.Status)
	assert.Equal(t, []int{4}, s.Ways[OnlyCuts].Answers[0].Cut.Solution.Missing)
	assert.False(t, s.Ways[OnlyCuts].Complete)

	// The bolt ends after 1/4 yd, which is too little with one fat quarter (34) and
	// more than it takes with two: 9 from 1/8 yd and up to 32 from them.
	s = shopFor(t, oneFabric("4 1/2 x 4 1/2", 36, "42", "{fat quarter: 3, size: 18 x 21}, {yard: 8, step: 1/8 yd, most: 1/4 yd}", exactYard))
	assert.EqualValues(t, 100+2*300, s.Price)
	assert.Equal(t, pack.Short, s.Ways[OnlyLength].Answers[0].Cut.Solution.Status)
}

func TestStashFirst(t *testing.T) {
	stash := exactYard + "\nstash: [{fabric: navy dot, size: 9 x 40, squared: yes}]"
	s := shopFor(t, oneFabric("2 1/2 x 4 1/2", 48, "40", "{yard: 8, step: 1/8 yd}", stash))
	assert.Equal(t, units.Yard/8, asked(t, s))
	assert.EqualValues(t, 300, s.Ways[WithoutStash].Price)
	c := s.Counters[0]
	assert.Equal(t, TooLittleCloth, c.Reason.Why)
	assert.Empty(t, c.Reason.Less, "the stash alone")
	assert.Empty(t, c.Cheaper.Purchases)
	assert.Equal(t, []int{16}, c.Cheaper.Cut.Solution.Missing)

	s = shopFor(t, oneFabric("2 1/2 x 4 1/2", 32, "40", "{yard: 8, step: 1/8 yd}", stash))
	c = s.Counters[0]
	assert.Equal(t, NothingToBuy, c.Reason.Why)
	assert.Nil(t, c.Cheaper)
	require.NotNil(t, c.Safer)
	assert.EqualValues(t, 100, c.Safer.Cost)
	assert.Equal(t, 16, c.SaferSpares[0].Room)

	// Only the stash, and too little of it.
	s = shopFor(t, oneFabric("2 1/2 x 4 1/2", 48, "40", "", stash))
	c = s.Counters[0]
	assert.Equal(t, NeverEnough, c.Reason.Why)
	assert.Nil(t, c.Safer)
	assert.False(t, s.Ways[WithoutStash].Answers[0].Sold)
}

func TestUnpricedFabricBuysTheLeastCloth(t *testing.T) {
	s := shopFor(t, oneFabric("2 1/2 x 4 1/2", 48, "40", "yard", exactYard))
	c := s.Counters[0]
	assert.Equal(t, 3*units.Yard/8, asked(t, s))
	assert.Equal(t, []string{"navy dot"}, s.Unpriced)
	assert.Zero(t, s.Price)
	assert.Equal(t, 2*units.Yard/8, c.Cheaper.Purchases[0].Length)
	assert.Equal(t, 4*units.Yard/8, c.Safer.Purchases[0].Length)
	assert.Nil(t, c.Safer.Purchases[0].Price)
}

func TestSameOnOneCoreAndTwo(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(oneFabric("2 x 3", 77, "41", "{fat quarter: 2.90}, {yard: 8, step: 1/8 yd}", "")), nil)
	require.NoError(t, err)
	one, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick, Workers: 1})
	require.NoError(t, err)
	two, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick, Workers: 2})
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

func TestStoppedShopStillAnswers(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(oneFabric("2 x 3", 77, "41", "{fat quarter: 2.90}, {yard: 8, step: 1/8 yd}", "budget: 1")), nil)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	s, err := SolveShop(ctx, p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	checked(t, s)
	assert.True(t, s.Result.Stopped)
	assert.NotEmpty(t, s.Counters[0].Answer.Purchases)
}
