package colgen

import (
	"math/big"

	"pinfold/pack/internal/model"
)

// lagrangian returns a lower bound on the cost of cutting all demands, given
// any integer values of the items and for each stock the most value[t] that one
// sheet of it can hold under them (or an upper bound on that).
//
// For every r >= 0 the prices r*values give the bound
//
//	r * sum of demand*value - sum over limited stocks of copies * max(0, r*most - cost)
//
// provided that r*most <= cost for every unlimited stock: the Lagrangian bound,
// which for one unlimited stock is that of Farley (A note on bounding a class of
// linear programming problems, including cutting stock problems, Operations
// Research 38, 1990). It is concave in r and breaks only where r = cost/most of
// some stock, so those r are all that need trying. Everything is exact.
//
// feasible is false when the values prove that the limited stocks cannot hold
// the demands at all.
func lagrangian(pr *model.Problem, values, most []int64) (bound *big.Rat, feasible bool) {
	total := new(big.Int)
	for k, it := range pr.Items {
		total.Add(total, mul(int64(it.Demand), values[k]))
	}
	bound = new(big.Rat)
	hold := new(big.Int) // value the limited stocks can hold
	open := false        // some unlimited stock holds something
	for t, s := range pr.Stocks {
		switch {
		case s.Copies == model.Unlimited:
			open = open || most[t] > 0
		default:
			hold.Add(hold, mul(int64(s.Copies), most[t]))
		}
	}
	if !open && hold.Cmp(total) < 0 {
		return bound, false
	}
next:
	for t, s := range pr.Stocks {
		if most[t] <= 0 {
			continue
		}
		// r = s.Cost / most[t]; everything below is multiplied by most[t].
		sum := new(big.Int).Mul(total, big.NewInt(s.Cost))
		for u, o := range pr.Stocks {
			over := new(big.Int).Sub(mul(s.Cost, most[u]), mul(o.Cost, most[t]))
			if over.Sign() <= 0 {
				continue
			}
			if o.Copies == model.Unlimited {
				continue next
			}
			sum.Sub(sum, over.Mul(over, big.NewInt(int64(o.Copies))))
		}
		if b := new(big.Rat).SetFrac(sum, big.NewInt(most[t])); b.Cmp(bound) > 0 {
			bound = b
		}
	}
	return bound, true
}

func mul(a, b int64) *big.Int { return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)) }

// prices rounds a lower bound up to what sheets can cost together.
type prices struct {
	unit    int64  // greatest common divisor of the costs
	payable []bool // in units, as far as it is known; beyond, any multiple counts
}

// maxPayable is how many units are told apart.
const maxPayable = 1 << 14

func newPrices(pr *model.Problem) prices {
	var p prices
	for _, s := range pr.Stocks {
		p.unit = model.GCD(p.unit, s.Cost)
	}
	if p.unit == 0 {
		return p
	}
	p.payable = make([]bool, maxPayable)
	p.payable[0] = true
	used := make([]int, maxPayable)
	for _, s := range pr.Stocks {
		c := s.Cost / p.unit
		if c == 0 || c >= maxPayable {
			continue
		}
		clear(used)
		for k := c; k < maxPayable; k++ {
			if !p.payable[k] && p.payable[k-c] && (s.Copies == model.Unlimited || used[k-c] < s.Copies) {
				p.payable[k], used[k] = true, used[k-c]+1
			}
		}
	}
	return p
}

// ceil is the least multiple of the costs' divisor that is at least b.
func (p prices) ceil(b *big.Rat) int64 {
	if p.unit == 0 || b.Sign() <= 0 {
		return 0
	}
	den := new(big.Int).Mul(b.Denom(), big.NewInt(p.unit))
	q, r := new(big.Int).QuoRem(b.Num(), den, new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64() * p.unit
}

// up is the least cost of some sheets that is at least b.
func (p prices) up(b *big.Rat) int64 {
	least := p.ceil(b)
	if p.unit == 0 {
		return least
	}
	for k := least / p.unit; k < int64(len(p.payable)); k++ {
		if p.payable[k] {
			return k * p.unit
		}
	}
	return least
}
