package colgen

import (
	"pinfold/pack/internal/lp"
	"pinfold/pack/internal/model"
)

// master is the linear relaxation over the patterns known: the least cost of
// sheets, fractions of sheets allowed, that covers the demands.
type master struct {
	pr      *model.Problem
	lp      *lp.Master
	row     []int // of each item, -1 without demand
	supply  []int // row of each stock, -1 if unlimited
	cover   int   // columns before the patterns, which stand for missing pieces
	penalty float64
	scale   float64 // costs are divided by it

	patterns []model.Pattern
	counts   [][]int
	seen     map[string]bool
}

func newMaster(pr *model.Problem) *master {
	m := &master{pr: pr, seen: map[string]bool{}, scale: 1}
	var sense []lp.Sense
	var rhs []float64
	for _, it := range pr.Items {
		if it.Demand == 0 {
			m.row = append(m.row, -1)
			continue
		}
		m.row = append(m.row, len(rhs))
		sense, rhs = append(sense, lp.AtLeast), append(rhs, float64(it.Demand))
	}
	least := 0.0
	for _, s := range pr.Stocks {
		m.scale = max(m.scale, float64(s.Cost))
		least = max(least, float64(s.Cost))
		if s.Copies == model.Unlimited {
			m.supply = append(m.supply, -1)
			continue
		}
		m.supply = append(m.supply, len(rhs))
		sense, rhs = append(sense, lp.AtMost), append(rhs, float64(s.Copies))
	}
	m.lp = lp.New(sense, rhs)
	// A missing piece costs more than a sheet of any kind for itself.
	m.penalty = 20 * max(least, 1) / m.scale
	for _, r := range m.row {
		if r >= 0 {
			m.lp.Add(m.penalty, []lp.Entry{{Row: r, Value: 1}})
			m.cover++
		}
	}
	return m
}

// add takes a pattern as a column, unless there is one with the same pieces.
func (m *master) add(p model.Pattern) bool {
	counts := make([]int, len(m.pr.Items))
	p.Count(counts)
	key := signature(p.Stock, counts)
	if m.seen[key] || len(p.Placed) == 0 {
		return false
	}
	m.seen[key] = true
	var entries []lp.Entry
	for k, n := range counts {
		if n > 0 && m.row[k] >= 0 {
			entries = append(entries, lp.Entry{Row: m.row[k], Value: float64(n)})
		}
	}
	if r := m.supply[p.Stock]; r >= 0 {
		entries = append(entries, lp.Entry{Row: r, Value: 1})
	}
	m.lp.Add(float64(m.pr.Stocks[p.Stock].Cost)/m.scale, entries)
	m.patterns, m.counts = append(m.patterns, p), append(m.counts, counts)
	return true
}

// signature tells patterns of different content apart.
func signature(stock int, counts []int) string {
	b := make([]byte, 0, 64)
	b = append(b, byte(stock), byte(stock>>8))
	for k, n := range counts {
		if n > 0 {
			b = append(b, byte(k), byte(k>>8), byte(n), byte(n>>8))
		}
	}
	return string(b)
}

// prices are the duals of the items, in the stocks' unit of cost.
func (m *master) prices() []float64 {
	out := make([]float64, len(m.row))
	for k, r := range m.row {
		if r >= 0 {
			out[k] = max(0, m.lp.Prices()[r]) * m.scale
		}
	}
	return out
}

// charge is what a sheet of stock t costs a pattern, its scarcity included.
func (m *master) charge(t int) float64 {
	c := float64(m.pr.Stocks[t].Cost)
	if r := m.supply[t]; r >= 0 {
		c -= min(0, m.lp.Prices()[r]) * m.scale
	}
	return c
}

// values are the copies of each pattern; short tells whether pieces are missing.
func (m *master) values() (x []float64, short bool) {
	all := m.lp.Values()
	for _, v := range all[:m.cover] {
		short = short || v > 1e-6
	}
	return all[m.cover:], short
}

// work estimates what solving took since the count of pivots was before.
func (m *master) work(before int) int64 {
	rows := len(m.row) + len(m.supply)
	return int64(m.lp.Pivots()-before)*int64(rows*rows+8*m.lp.Columns())/700 + 2
}
