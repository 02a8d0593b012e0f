package main

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// proved is what a plan costs in all, if that is proved for every fabric.
func proved(r *plan.Result) (price int64, ok bool) {
	ok = true
	for _, f := range r.Fabrics {
		price += f.Solution.Price
		ok = ok && f.Solution.Status == pack.Proved
	}
	return price, ok
}

// answers are what a plan comes to, without any name in it.
func answers(r *plan.Result) (out []pack.Solution) {
	for _, f := range r.Fabrics {
		out = append(out, f.Solution)
	}
	return out
}

// What says the same in other words gives the same plan, cut for cut; what only
// stands in another order costs the same; and more to cut from never costs more, nor
// more to cut less.
func TestPlansThatSayTheSame(t *testing.T) {
	markets := 6
	if testing.Short() {
		markets = 1
	}
	compared := map[string]int{}
	for seed := range uint64(markets) {
		r := rand.New(rand.NewPCG(seed, 61))
		m := newMarket(r)
		base := m.solve(t, pack.Quick)
		price, known := proved(base)

		for name, other := range map[string]market{
			"other names": m.with(func(m *market) { m.name = func(s string) string { return "Ω \"" + s + "\" – 灯" } }),
			"centimetres": m.with(func(m *market) { m.length = inCentimetres }),
			"millimetres": m.with(func(m *market) { m.length = inMillimetres }),
			"an order parted": m.with(func(m *market) {
				o := m.orders[0]
				if o.count > 1 {
					m.orders[0].count = 1
					o.count--
					m.orders = append(m.orders, o)
				}
			}),
			"an ornament never made": m.with(func(m *market) {
				m.ornaments = append(m.ornaments, marketOrnament{"idle", []marketRound{{"x", "ground", 2 * units.Inch, units.Inch, 40}}})
			}),
			"cloth of another fabric in the stash": m.with(func(m *market) {
				m.stash = append(m.stash, marketPiece{"other", "velvet", 90 * units.Inch, 90 * units.Inch, 3, true})
			}),
		} {
			require.Equal(t, answers(base), answers(other.solve(t, pack.Quick)), "seed %d, %s:\n%s\n%s", seed, name, m, other)
			compared[name]++
		}

		if !known {
			continue
		}
		for name, c := range map[string]struct {
			market market
			holds  func(t assert.TestingT, a, b any, msg ...any) bool // price, then the other's
		}{
			"another order": {m.with(func(m *market) {
				r.Shuffle(len(m.ornaments), func(i, j int) { m.ornaments[i], m.ornaments[j] = m.ornaments[j], m.ornaments[i] })
				r.Shuffle(len(m.orders), func(i, j int) { m.orders[i], m.orders[j] = m.orders[j], m.orders[i] })
				r.Shuffle(len(m.stash), func(i, j int) { m.stash[i], m.stash[j] = m.stash[j], m.stash[i] })
				for i := range m.ornaments {
					list := m.ornaments[i].rounds
					r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
				}
				for i := range m.fabrics {
					list := m.fabrics[i].buy
					r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
				}
				m.fabrics[0], m.fabrics[1] = m.fabrics[1], m.fabrics[0]
			}), assert.Equal},
			"one more piece in the stash": {m.with(func(m *market) {
				m.stash = append(m.stash, marketPiece{"more", "cloth a", units.Length(4+r.IntN(9)) * units.Inch, units.Length(4+r.IntN(9)) * units.Inch, 1, true})
			}), assert.GreaterOrEqual},
			"one more thing to buy": {m.with(func(m *market) {
				m.fabrics[0].buy = append(m.fabrics[0].buy, marketOffer{name: "offer", price: 50 + r.IntN(300), along: 8 * units.Inch, across: units.Length(5+r.IntN(9)) * units.Inch})
			}), assert.GreaterOrEqual},
			"one more ornament": {m.with(func(m *market) { m.orders[0].count++ }), assert.LessOrEqual},
			"dearer":            {m.with(func(m *market) { m.fabrics[1].buy[0].price++ }), assert.LessOrEqual},
			"all may be turned": {m.with(func(m *market) { m.fabrics[0].direction, m.fabrics[1].direction = "any", "any" }), assert.GreaterOrEqual},
			"no squaring":       {m.with(func(m *market) { m.squaring = 0 }), assert.GreaterOrEqual},
			"any stages":        {m.with(func(m *market) { m.stages = 0 }), assert.GreaterOrEqual},
			"no spares":         {m.with(func(m *market) { m.spare = 0 }), assert.GreaterOrEqual},
		} {
			other, ok := proved(c.market.solve(t, pack.Quick))
			if ok {
				compared[name]++
				c.holds(t, price, other, fmt.Sprintf("seed %d, %s:\n%s\n%s", seed, name, m, c.market))
			}
		}
	}
	t.Log(compared)
	if testing.Short() {
		return // one plan may not be proved
	}
	assert.Len(t, compared, 15)
	for name, n := range compared {
		assert.Greater(t, 2*n, markets, name)
	}
}

// More effort keeps within what less has proved, and the other way round.
func TestEffortsAgree(t *testing.T) {
	markets := 3
	if testing.Short() {
		markets = 1
	}
	for seed := range uint64(markets) {
		m := newMarket(rand.New(rand.NewPCG(seed, 62)))
		m.orders[0].count += 9 // too many to be proved at once
		quick, normal := m.solve(t, pack.Quick), m.solve(t, pack.Normal)
		for i, q := range quick.Fabrics {
			n := normal.Fabrics[i]
			require.Equal(t, q.Problem, n.Problem)
			if q.Solution.Status == pack.Short || n.Solution.Status == pack.Short {
				continue
			}
			require.LessOrEqual(t, q.Solution.Bound, n.Solution.Cost, "seed %d: %s", seed, m)
			require.LessOrEqual(t, n.Solution.Bound, q.Solution.Cost, "seed %d: %s", seed, m)
			assert.LessOrEqual(t, n.Solution.Cost, q.Solution.Cost, "seed %d: more effort found less: %s", seed, m)
		}
	}
}
