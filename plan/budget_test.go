package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// Two fabrics of 48 pieces each, three eighths of a yard at 1.00 an eighth.
const twoFabrics = `ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 1/2 x 4 1/2, count: 48, role: ground}, {name: rim, size: 2 1/2 x 4 1/2, count: 48, role: rim}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot, rim: sailcloth}}]
budget: BUDGET
fabrics:
  navy dot: {bolt: {usable: 40}, buy: [{yard: 8, step: 1/8 yd}]}
  sailcloth: {bolt: {usable: 40}, buy: [{yard: 8, step: 1/8 yd}]}
cutting: {squaring: 0}
`

func TestBudgetBuysInTheOrderOfThePlan(t *testing.T) {
	for _, c := range []struct {
		budget  string
		fits    bool
		spent   int64
		missing [2]int
	}{
		{"6", true, 600, [2]int{0, 0}},
		{"5.99", false, 500, [2]int{0, 16}},
		{"4.00", false, 400, [2]int{0, 32}},
		{"3.50", false, 300, [2]int{0, 48}},
		{"2.50", false, 200, [2]int{16, 48}},
		{"0", false, 0, [2]int{48, 48}},
	} {
		s := shopFor(t, strings.Replace(twoFabrics, "BUDGET", c.budget, 1))
		b := s.Budget
		require.NotNil(t, b)
		assert.Equal(t, c.fits, b.Fits, c.budget)
		assert.Equal(t, c.spent, b.Spent, c.budget)
		assert.EqualValues(t, 600, b.Least)
		assert.Equal(t, !c.fits, b.Proved, "both lengths are proved, so that the money does not do is too")
		for i, n := range c.missing {
			assert.Equal(t, n, b.Bought[i].Cut.Solution.Missing[0], "%s: fabric %d", c.budget, i)
		}
	}
}

func TestNoBudgetNoSpending(t *testing.T) {
	s := shopFor(t, strings.Replace(twoFabrics, "budget: BUDGET\n", "", 1))
	assert.Nil(t, s.Budget)
	assert.EqualValues(t, 600, s.Price)
}

func TestBudgetLeavesUnpricedFabricsAlone(t *testing.T) {
	text := strings.Replace(twoFabrics, "BUDGET", "2", 1)
	text = strings.Replace(text, "sailcloth: {bolt: {usable: 40}, buy: [{yard: 8, step: 1/8 yd}]}", "sailcloth: {bolt: {usable: 40}, buy: [yard]}", 1)
	s := shopFor(t, text)
	assert.Equal(t, pack.Short, s.Budget.Bought[0].Cut.Solution.Status)
	assert.Equal(t, []int{0}, s.Budget.Bought[1].Cut.Solution.Missing)
	assert.EqualValues(t, 200, s.Budget.Spent)
	assert.Equal(t, []string{"sailcloth"}, s.Unpriced)
}

func TestBudgetIsReadLikeAPrice(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(strings.Replace(twoFabrics, "BUDGET", "40.00", 1)), nil)
	require.NoError(t, err)
	assert.EqualValues(t, 4000, *p.Budget)
	for text, want := range map[string]string{
		"-3":     "plan.yaml:4:9: budget: price \"-3\" is negative: write one like 3.25",
		"some":   "plan.yaml:4:9: budget: cannot read \"some\" as a price: write a number with at most two decimals and no sign of money, like 3.25",
		"[1, 2]": "plan.yaml:4:9: budget cannot be a list: write one value",
	} {
		_, err := Parse("plan.yaml", []byte(strings.Replace(twoFabrics, "BUDGET", text, 1)), nil)
		assert.EqualError(t, err, want)
	}
}
