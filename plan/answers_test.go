package plan

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// 48 pieces of 2 1/2 x 4 1/2 in: a scrap of 9 x 40 in holds 32 of them, 1/8 yd at 1.00
// the other 16, whichever the preference; each row adds up what it is made of.
func TestComparedRowsAddUp(t *testing.T) {
	text := oneFabric("2 1/2 x 4 1/2", 48, "40", "{yard: 8, step: 1/8 yd}",
		"cutting: {squaring: 0, seconds a pass: 7}\nstash: [{fabric: navy dot, size: 9 x 40, squared: yes}, {fabric: navy dot, size: 3 x 3, squared: yes}]")
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	c, err := Compare(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Empty(t, c.Unpriced)
	require.Len(t, c.Rows, 3)
	for i, r := range c.Rows {
		assert.Equal(t, Preference(i), r.Prefer)
		assert.Equal(t, r.Prefer, r.Result.Plan.Cutting.Prefer)
		assert.EqualValues(t, 100, r.Price, r.Prefer)
		assert.Equal(t, units.AreaOf(40*inch, units.Yard/8), r.Bought, r.Prefer)
		assert.Equal(t, units.AreaOf(40*inch, 9*inch), r.Hand, "%v: the other scrap is not cut", r.Prefer)
		assert.Zero(t, r.Kept, "%v: nothing is left", r.Prefer)
		assert.Equal(t, 7*r.Passes, r.Seconds, r.Prefer)
		assert.NoError(t, pack.Check(r.Result.Fabrics[0].Problem, r.Result.Fabrics[0].Solution))
	}
	assert.Equal(t, Thrift, p.Cutting.Prefer, "the plan itself stays as it is")
	assert.Equal(t, 3*defaultPace, Cutting{}.Seconds(3))

	unpriced, err := Parse("plan.yaml", []byte(oneFabric("2 1/2 x 4 1/2", 48, "40", "yard", exactYard)), nil)
	require.NoError(t, err)
	c, err = Compare(context.Background(), unpriced, Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, []string{"navy dot"}, c.Unpriced)
	assert.Zero(t, c.Rows[0].Price)
	assert.Zero(t, c.Rows[0].Hand)
}

// Which orders a fabric is for, what a band is cut from, and by which offer a length is
// bought.
func TestResultIsAsked(t *testing.T) {
	const text = `ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 x 2, count: 8, role: ground}], band: {width: 2, role: edge}}
  plain: {ball: 3, pieces: [{name: centre, size: 2 x 2, count: 8, role: ground}]}
make:
  - {ornament: star, count: 2, colourway: {ground: navy dot, edge: sailcloth}}
  - {ornament: plain, count: 1, colourway: {ground: navy dot}}
fabrics:
  navy dot: {bolt: {usable: 40}, buy: [{yard: 8, step: 1/8 yd, most: 1/2 yd}, {metre: 7, step: 50 cm}]}
  sailcloth: {bolt: {usable: 40}, buy: [{fat quarter: 3}]}
`
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	r, err := Solve(context.Background(), p, Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, []bool{true, true}, []bool{r.Uses(0, "navy dot"), r.Uses(1, "navy dot")})
	assert.Equal(t, []bool{true, false}, []bool{r.Uses(0, "sailcloth"), r.Uses(1, "sailcloth")})
	assert.False(t, r.Uses(0, "buoy red"))

	bags := p.Bags(r.Gathered)
	require.Len(t, bags, 2)
	assert.Equal(t, "sailcloth", bags[0].BandFabric())
	assert.Equal(t, "", bags[1].BandFabric(), "it has no band")

	navy, sail := &r.Fabrics[0], &r.Fabrics[1]
	assert.Equal(t, "yard", navy.Bolt(units.Yard/8).Name)
	assert.Equal(t, "metre", navy.Bolt(units.Metre).Name, "longer than the yard's most")
	assert.Nil(t, navy.Bolt(units.Yard/8+1), "nobody sells that")
	assert.Nil(t, sail.Bolt(units.Yard), "it is sold in cuts")
}

func TestWords(t *testing.T) {
	assert.Equal(t, []string{"any", "two-way", "one-way"}, []string{AnyWay.String(), TwoWay.String(), OneWay.String()})
	assert.Equal(t, []string{"thrift", "fewer passes", "balanced"}, []string{Thrift.String(), FewerPasses.String(), Balanced.String()})
	for text, want := range map[string]int64{"40": 4000, " 3,5 ": 350, "0": 0, "1000000": maxPrice} {
		got, err := ParsePrice(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, want := range map[string]string{
		"1000000.01": `price "1000000.01" is too much: write at most 1000000`,
		"":           `cannot read "" as a price: write a number with at most two decimals and no sign of money, like 3.25`,
		"1e3":        `cannot read "1e3" as a price: write a number with at most two decimals and no sign of money, like 3.25`,
		"-1":         `price "-1" is negative: write one like 3.25`,
	} {
		_, err := ParsePrice(text)
		assert.EqualError(t, err, want)
	}
	assert.Zero(t, OrderCost{FabricBought: 100}.Each(false), "of no ornament nothing is each one's")
}

// What a plan cannot hold is refused where it stands, not reckoned wrong.
func TestTooManyPieces(t *testing.T) {
	_, err := Parse("plan.yaml", []byte(edited(t, "count: 2,", "count: 1000000,", "count: 10,", "count: 1000,")), nil)
	assert.EqualError(t, err, `plan.yaml:10:3: fabric "navy dot": more than 1000000 pieces of 2 x 2 in: split the plan, or make fewer`)
	_, err = Parse("plan.yaml", []byte(edited(t, "count: 2,", "count: 100000,")), nil)
	assert.NoError(t, err)
}

// Faults are told by file, the plan's first, and within one by line and column,
// whatever order they were found in; those of one place stay as they were.
func TestFaultsAreSorted(t *testing.T) {
	at := func(file string, line, col int, msg string) Fault { return Fault{Pos{file, line, col}, msg, ""} }
	want := Errors{
		at("m.yaml", 1, 1, "a"), at("m.yaml", 1, 5, "b"), at("m.yaml", 1, 5, "c"), at("m.yaml", 9, 2, "d"),
		at("a.csv", 2, 1, "e"), at("z.csv", 1, 1, "f"), at("z.csv", 1, 2, "g"),
	}
	for _, order := range [][]int{{0, 1, 2, 3, 4, 5, 6}, {6, 5, 4, 3, 1, 2, 0}, {4, 0, 6, 1, 5, 2, 3}, {3, 4, 1, 6, 2, 0, 5}} {
		var got Errors
		for _, i := range order {
			got = append(got, want[i])
		}
		got.sort("m.yaml")
		assert.Equal(t, want, got)
	}
}
