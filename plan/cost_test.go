package plan

import (
	"context"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack"
	"pinfold/units"
)

func TestApportion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SliceOfN(rapid.Int64Range(0, 1<<rapid.IntRange(1, 60).Draw(t, "bits")), 1, 12).Draw(t, "weights")
		total := rapid.Int64Range(0, 1<<50).Draw(t, "total")
		weights := make([]*big.Int, len(n))
		sum := new(big.Int)
		for i := range n {
			weights[i] = big.NewInt(n[i])
			sum.Add(sum, weights[i])
		}
		got := apportion(total, weights)
		if sum.Sign() == 0 {
			return
		}
		left := total
		for i := range got {
			left -= got[i]
			quota := new(big.Rat).SetFrac(new(big.Int).Mul(weights[i], big.NewInt(total)), sum)
			quota.Sub(quota, new(big.Rat).SetInt64(got[i]))
			assert.Negative(t, quota.Abs(quota).Cmp(big.NewRat(1, 1)), "within one coin of the exact share")
			for j := range got {
				if n[i] > n[j] {
					assert.GreaterOrEqual(t, got[i], got[j], "more never costs less")
				}
			}
		}
		assert.Zero(t, left)
	})
}

// solved gives a plan's result with as little searching as there can be.
func solved(t require.TestingT, p *Plan) *Result {
	g, err := Gather(p)
	require.NoError(t, err)
	r := &Result{Plan: p, Gathered: g}
	for _, need := range g.Fabrics {
		f := FabricResult{Need: need}
		f.Problem, f.Stocks, f.Bolts, err = FabricProblem(p, need)
		require.NoError(t, err)
		f.Priced = f.Problem.Goal == pack.LeastPrice
		f.Solution, err = pack.Solve(context.Background(), f.Problem, pack.Options{Effort: pack.Quick, Share: 1, Workers: 1})
		require.NoError(t, err)
		r.Fabrics = append(r.Fabrics, f)
		r.Shopping = append(r.Shopping, f.purchases()...)
	}
	return r
}

const costing = `money: "$"
ornaments:
  star:
    ball: 3
    pieces: [{name: centre, size: 2 x 2, count: 15, role: ground}]
    supplies:
      - {name: pins, count: 101, price: 0.021}
      - {name: cord, length: 10 in, price: "0,9", per: 1 yd}
      - {name: patience, count: 1}
  moon:
    ball: 3
    pieces: [{name: face, size: 2 x 2, count: 10, role: ground}, {name: back, size: 2 x 3, count: 6, role: trim}]
    supplies: [{name: pins, count: 50, price: 0.021}]
make:
  - {ornament: star, count: 2, colourway: {ground: navy dot}}
  - {ornament: moon, count: 1, colourway: {ground: navy dot, trim: sail white}}
fabrics:
  navy dot: {bolt: {usable: 40}, buy: [{fat quarter: 3.25}]}
  sail white: {bolt: {usable: 40}, buy: [{fat quarter: 4.50}, {yard: 12.00}]}
stash: [{fabric: sail white, size: 9 x 9}]
cutting: {spare: 10%}
`

// Worked by hand: the fat quarter's 3.25 goes to 30 and 10 squares as 2.4375 and
// 0.8125; they are 160 of its 360 sq in, 1.4444. White is from the stash and
// cheapest by the yard, 12.00 for 1440 sq in: 36 sq in are 0.30. 202 and 50 pins
// at 2.1 coins are 5.292 in all, 4.242 and 1.05 of it; 20 in of cord 0.50.
func TestCostByHand(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(costing), nil)
	require.NoError(t, err)
	c, err := CostOf(solved(t, p))
	require.NoError(t, err)
	assert.Equal(t, []string{"patience"}, c.Unpriced)
	pin, cord := int64(210), int64(9000)
	assert.Equal(t, []Bill{
		{Name: "navy dot", Bought: 325, Used: 144, Shares: []BillShare{{244, 108}, {81, 36}}},
		{Name: "sail white", Used: 30, Shares: []BillShare{{0, 0}, {0, 30}}},
		{Name: "pins", Supply: true, Bought: 529, Used: 529, Shares: []BillShare{{424, 424}, {105, 105}}, Amount: Supply{Name: "pins", Count: 252, Price: &pin}},
		{Name: "cord", Supply: true, Bought: 50, Used: 50, Shares: []BillShare{{50, 50}, {0, 0}}, Amount: Supply{Name: "cord", Length: 20 * units.Inch, Price: &cord, Per: units.Yard}},
	}, c.Bills)
	assert.Equal(t, []OrderCost{
		{Count: 2, FabricBought: 244, FabricUsed: 108, Supplies: 474},
		{Count: 1, FabricBought: 81, FabricUsed: 66, Supplies: 105},
	}, c.Orders)
	assert.Equal(t, OrderCost{Count: 3, FabricBought: 325, FabricUsed: 174, Supplies: 579}, c.Total)
	assert.Equal(t, int64(359), c.Orders[0].Each(false))
	assert.Equal(t, int64(291), c.Orders[0].Each(true))
}

func TestOnePriceForOneSupply(t *testing.T) {
	for old, now := range map[string]string{
		"count: 50, price: 0.021": "count: 50, price: 0.02",
		", price: 0.021}]":        "}]",
	} {
		p, err := Parse("plan.yaml", []byte(strings.Replace(costing, old, now, 1)), nil)
		require.NoError(t, err)
		assert.Equal(t, []string{`supply "pins" has not the same price in every ornament`}, p.Warnings)
	}
	p, err := Parse("plan.yaml", []byte(costing), nil)
	require.NoError(t, err)
	assert.Empty(t, p.Warnings)
}

func TestCostWithoutPrices(t *testing.T) {
	text := strings.NewReplacer(": 3.25", ":", ": 4.50", ":", ": 12.00", ":", ", price: 0.021", "", `, price: "0,9", per: 1 yd`, "").Replace(costing)
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	c, err := CostOf(solved(t, p))
	require.NoError(t, err)
	assert.Empty(t, c.Bills)
	assert.Equal(t, []string{"navy dot", "sail white", "pins", "cord", "patience"}, c.Unpriced)
	assert.Equal(t, []OrderCost{{Count: 2}, {Count: 1}}, c.Orders)
}

// Whatever is planned, every coin of the bill is on some order.
func TestCostsAddUpToTheBill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		price := rapid.Custom(func(t *rapid.T) *int64 {
			v := rapid.Int64Range(1, 2000).Draw(t, "price")
			return &v
		})
		for i := range p.Make {
			p.Make[i].Count = p.Make[i].Count%6 + 1
		}
		for i := range p.Fabrics {
			f := &p.Fabrics[i]
			f.Usable = 40 * units.Inch
			f.ShrinksLength = rapid.IntRange(0, 500).Draw(t, "shrinks")
			f.Buy = []Offer{{Kind: SoldByLength, Name: byYard, Price: price.Draw(t, "yard"), Per: units.Yard, Step: units.Yard}}
			if rapid.Bool().Draw(t, "cut?") {
				f.Buy = append(f.Buy, Offer{Kind: SoldCut, Name: fatQuarter, Price: price.Draw(t, "quarter"), Size: units.Size{Along: 18 * units.Inch, Across: 20 * units.Inch}, RawSides: 1, Available: -1})
			}
		}
		for i := range p.Ornaments {
			p.Ornaments[i].Supplies[0].Price = price.Draw(t, "pins")
			p.Ornaments[i].Supplies[1].Price, p.Ornaments[i].Supplies[1].Per = price.Draw(t, "cord"), units.Yard
		}
		r := solved(t, p)
		c, err := CostOf(r)
		require.NoError(t, err)
		assert.Empty(t, c.Unpriced)
		var paid, bills int64
		for _, s := range r.Shopping {
			paid += *s.Price
		}
		for _, b := range c.Bills {
			var bought, used int64
			for _, s := range b.Shares {
				bought, used = bought+s.Bought, used+s.Used
				assert.True(t, s.Bought >= 0 && s.Used >= 0)
			}
			assert.Equal(t, []int64{b.Bought, b.Used}, []int64{bought, used}, b.Name)
			if !b.Supply {
				bills += b.Bought
				assert.LessOrEqual(t, b.Used, b.Bought, "pieces are no more than the cloth they are cut from")
			}
		}
		assert.Equal(t, paid, bills, "the shopping list")
		var sum OrderCost
		for _, o := range c.Orders {
			sum = OrderCost{sum.Count + o.Count, sum.FabricBought + o.FabricBought, sum.FabricUsed + o.FabricUsed, sum.Supplies + o.Supplies}
		}
		assert.Equal(t, c.Total, sum)
	})
}
