package plan

import (
	"math/big"

	"pinfold/units"
)

// Cost tells what a result costs and what of it falls on each order of the
// plan. Amounts are in the smallest coin. Every bill's shares add up to the
// bill, and all of them to the totals.
type Cost struct {
	// Bills are the fabrics in the order of the plan, then the supplies in order
	// of first use.
	Bills  []Bill
	Orders []OrderCost // by index into Plan.Make
	Total  OrderCost
	// Unpriced names what is needed and has no price: it is left out.
	Unpriced []string
}

// Bill is one thing that costs money.
type Bill struct {
	Name   string
	Supply bool // else a fabric
	// Bought is what is paid. Used is, for a fabric, the price of as much cloth
	// as the pieces themselves have area, spares left out; for a supply it is
	// the same as Bought.
	Bought, Used int64
	// Shares divides both among the orders, by index into Plan.Make.
	Shares []BillShare
	// Amount is how much of a supply is needed, with its price.
	Amount Supply
}

// BillShare is an order's part of a bill.
type BillShare struct{ Bought, Used int64 }

// OrderCost adds up an order's shares.
type OrderCost struct {
	Count int // ornaments
	// FabricBought shares what is paid for cloth by the area of the pieces cut
	// from it, so waste, spares and offcuts are in it; FabricUsed prices the area
	// of the pieces alone.
	FabricBought, FabricUsed int64
	Supplies                 int64
}

// Each returns what one of the order's ornaments costs, to the nearest coin,
// counting cloth as bought or as used.
func (o OrderCost) Each(used bool) int64 {
	if o.Count == 0 {
		return 0
	}
	return (2*o.Together(used) + int64(o.Count)) / (2 * int64(o.Count))
}

// Together returns what the order costs, counting cloth as bought or as used.
func (o OrderCost) Together(used bool) int64 {
	if used {
		return o.FabricUsed + o.Supplies
	}
	return o.FabricBought + o.Supplies
}

// CostOf works out what a result costs. The error, which wraps
// [units.ErrOverflow], is for sums too large to hold.
func CostOf(r *Result) (*Cost, error) {
	c := &Cost{Orders: make([]OrderCost, len(r.Plan.Make))}
	for i := range r.Plan.Make {
		c.Orders[i].Count = r.Plan.Make[i].Count
		c.Total.Count += r.Plan.Make[i].Count
	}
	for i := range r.Fabrics {
		if err := c.fabric(r, &r.Fabrics[i]); err != nil {
			return nil, err
		}
	}
	if err := c.supplies(r.Plan); err != nil {
		return nil, err
	}
	for _, b := range c.Bills {
		for i, s := range b.Shares {
			c.Orders[i].add(b.Supply, s)
		}
		c.Total.add(b.Supply, BillShare{b.Bought, b.Used})
	}
	return c, nil
}

func (o *OrderCost) add(supply bool, s BillShare) {
	if supply {
		o.Supplies += s.Bought
		return
	}
	o.FabricBought += s.Bought
	o.FabricUsed += s.Used
}

// fabric bills one fabric. What is used is priced like the cloth that is
// bought, or, when the stash holds it all, like the cheapest that can be.
func (c *Cost) fabric(r *Result, f *FabricResult) error {
	rate := f.rate(r.Plan.Fabric(f.Need.Fabric))
	if rate == nil {
		c.Unpriced = append(c.Unpriced, f.Need.Fabric)
		return nil
	}
	areas := make([]*big.Int, len(r.Plan.Make))
	all := new(big.Int)
	for i := range r.Plan.Make {
		areas[i] = areaFrom(r, f.Need.Fabric, i)
		all.Add(all, areas[i])
	}
	b := Bill{Name: f.Need.Fabric}
	for _, p := range f.purchases() {
		b.Bought += *p.Price
	}
	var err error
	if b.Used, err = coins(new(big.Rat).Mul(rate, new(big.Rat).SetInt(all))); err != nil {
		return err
	}
	b.share(areas)
	c.Bills = append(c.Bills, b)
	return nil
}

// areaFrom is the area of all pieces, spares left out, that an order of the plan
// cuts from a fabric.
func areaFrom(r *Result, fabric string, order int) *big.Int {
	sum := new(big.Int)
	for _, l := range r.Plan.lots(order, r.Gathered.Splits) {
		if l.fabric == fabric {
			a := big.NewInt(int64(l.size.Area()))
			a.Mul(a, big.NewInt(int64(l.ornaments)))
			sum.Add(sum, a.Mul(a, big.NewInt(int64(l.per))))
		}
	}
	return sum
}

// rate is the price of a square tick of cloth, washed but not squared: of all
// that is bought, or of the cheapest way to buy when nothing is; nil when there
// is no price.
func (f *FabricResult) rate(fabric *Fabric) *big.Rat {
	var price int64
	area := new(big.Int)
	for _, p := range f.purchases() {
		if p.Price == nil {
			return nil
		}
		price += *p.Price
		a := fabric.washed(&p.Offer, p.Length)
		area.Add(area, a.Mul(a, big.NewInt(int64(max(p.Count, 1)))))
	}
	if area.Sign() > 0 {
		return new(big.Rat).SetFrac(big.NewInt(price), area)
	}
	return fabric.cheapest()
}

// cheapest is the price of a square tick by the cheapest way to buy; nil when
// there is no price.
func (f *Fabric) cheapest() *big.Rat {
	var best *big.Rat
	for i := range f.Buy {
		o := &f.Buy[i]
		a := f.washed(o, o.Per)
		if o.Price == nil || a.Sign() == 0 {
			continue
		}
		if rate := new(big.Rat).SetFrac(big.NewInt(*o.Price), a); best == nil || rate.Cmp(best) < 0 {
			best = rate
		}
	}
	return best
}

// washed is the area of one cut of an offer, or of a length of it, after
// shrinking.
func (f *Fabric) washed(o *Offer, length units.Length) *big.Int {
	w, h := f.Usable, length
	if o.Kind == SoldCut {
		w, h = o.Size.Across, o.Size.Along
	}
	a := big.NewInt(int64(shrunk(w, f.ShrinksWidth)))
	return a.Mul(a, big.NewInt(int64(shrunk(h, f.ShrinksLength))))
}

// supplies bills the supplies, one bill for each name and price.
func (c *Cost) supplies(p *Plan) error {
	type key struct {
		name  string
		price int64
		per   units.Length
	}
	at := map[key]int{} // index into bills and needs
	var bills []Bill
	var needs [][]*big.Int // by bill and order, in pieces or ticks
	unpriced := map[string]bool{}
	for i, order := range p.Make {
		for _, s := range p.Ornament(order.Ornament).Supplies {
			if s.Price == nil {
				if !unpriced[s.Name] {
					unpriced[s.Name] = true
					c.Unpriced = append(c.Unpriced, s.Name)
				}
				continue
			}
			k := key{s.Name, *s.Price, s.Per}
			j, known := at[k]
			if !known {
				j = len(bills)
				at[k] = j
				bills = append(bills, Bill{Name: s.Name, Supply: true, Amount: Supply{Name: s.Name, Price: s.Price, Per: s.Per}})
				needs = append(needs, make([]*big.Int, len(p.Make)))
				for o := range needs[j] {
					needs[j][o] = new(big.Int)
				}
			}
			// One of the two is 0.
			n := big.NewInt(int64(s.Count) + int64(s.Length))
			needs[j][i].Add(needs[j][i], n.Mul(n, big.NewInt(int64(order.Count))))
			bills[j].Amount.Count += s.Count * order.Count
			bills[j].Amount.Length += s.Length * units.Length(order.Count)
		}
	}
	for j := range bills {
		b := &bills[j]
		sum := new(big.Int)
		for _, n := range needs[j] {
			sum.Add(sum, n)
		}
		price := big.NewRat(*b.Amount.Price, 100*int64(max(b.Amount.Per, 1)))
		var err error
		if b.Bought, err = coins(price.Mul(price, new(big.Rat).SetInt(sum))); err != nil {
			return err
		}
		b.Used = b.Bought
		b.share(needs[j])
	}
	c.Bills = append(c.Bills, bills...)
	return nil
}

// coins rounds an amount half up to whole coins.
func coins(x *big.Rat) (int64, error) {
	n := new(big.Int).Mul(x.Num(), big.NewInt(2))
	n.Add(n, x.Denom())
	n.Quo(n, new(big.Int).Mul(x.Denom(), big.NewInt(2)))
	if n.BitLen() > 53 {
		return 0, units.ErrOverflow
	}
	return n.Int64(), nil
}

// share divides the bill among the orders by weight.
func (b *Bill) share(weights []*big.Int) {
	bought, used := apportion(b.Bought, weights), apportion(b.Used, weights)
	b.Shares = make([]BillShare, len(weights))
	for i := range weights {
		b.Shares[i] = BillShare{bought[i], used[i]}
	}
}

// apportion divides a total by weight into whole coins that add up to it: every
// share is rounded down, and the coins left over go one each to the largest
// remainders, the first of equal ones (the largest remainder method, of Hamilton
// and Hare). Weights that are all 0 share nothing.
func apportion(total int64, weights []*big.Int) []int64 {
	out := make([]int64, len(weights))
	sum := new(big.Int)
	for _, w := range weights {
		sum.Add(sum, w)
	}
	if sum.Sign() == 0 {
		return out
	}
	rest := make([]*big.Int, len(weights))
	left := total
	for i, w := range weights {
		q, r := new(big.Int).QuoRem(new(big.Int).Mul(w, big.NewInt(total)), sum, new(big.Int))
		out[i], rest[i] = q.Int64(), r
		left -= out[i]
	}
	for ; left > 0; left-- {
		most := 0
		for i := range rest {
			if rest[i].Cmp(rest[most]) > 0 {
				most = i
			}
		}
		out[most]++
		rest[most] = new(big.Int)
	}
	return out
}
