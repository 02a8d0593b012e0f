package plan

import (
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// basket is what might be bought of one fabric: so many of each sheet of its
// problem, 0 for those of the stash, and a length off the bolt.
type basket struct {
	cuts   []int
	length units.Length
}

func (b basket) equal(c basket) bool { return b.length == c.length && slices.Equal(b.cuts, c.cuts) }

func (b basket) empty() bool {
	return b.length == 0 && !slices.ContainsFunc(b.cuts, func(n int) bool { return n > 0 })
}

// bought is the basket of a fabric's layouts.
func (f *FabricResult) bought() basket {
	b := basket{cuts: make([]int, len(f.Problem.Sheets))}
	for _, l := range f.Solution.Layouts {
		switch {
		case l.Stock.Sheet == pack.FromRoll:
			b.length = l.Stock.Length
		case !f.Problem.Sheets[l.Stock.Sheet].Free:
			b.cuts[l.Stock.Sheet] += l.Copies
		}
	}
	return b
}

// shelf is what a fabric can be bought from, with its measures.
type shelf struct {
	f *FabricResult
	p *pack.Problem
	// all is the area of every piece, home the usable area of the stash.
	all, home units.Area
	bolts     []bolt
	pieces    int
}

// bolt is a fabric's roll on one of its terms. longest is the longest length of it
// worth looking at: up to what the pieces take end to end on any of the bolts.
type bolt struct {
	pack.Roll
	longest units.Length
}

func newShelf(f *FabricResult) *shelf {
	s := &shelf{f: f, p: &f.Problem}
	var row units.Length
	for _, q := range s.p.Pieces {
		s.all += units.Area(q.Demand) * units.AreaOf(q.W, q.H)
		s.pieces += q.Demand
		row = min(row+units.Length(q.Demand)*(max(q.W, q.H)+s.p.Rules.Kerf), units.MaxLength/4)
	}
	for _, sh := range s.p.Sheets {
		if sh.Free {
			s.home += units.Area(sh.Copies) * sh.UsableArea()
		}
	}
	if s.p.Roll == nil || s.pieces == 0 {
		return s
	}
	var longest units.Length
	for _, r := range s.p.Roll.Bolts() {
		l, ok := r.Length(row)
		if !ok {
			l = r.Most.RoundDown(r.Step)
		}
		longest = max(longest, l)
		s.bolts = append(s.bolts, bolt{Roll: r})
	}
	for i := range s.bolts {
		b := &s.bolts[i]
		b.longest = longest.RoundDown(b.Step)
		if b.Most > 0 {
			b.longest = min(b.longest, b.Most.RoundDown(b.Step))
		}
	}
	return s
}

// price is what a basket costs in money.
func (s *shelf) price(b basket) int64 {
	var sum int64
	for i, n := range b.cuts {
		sum += int64(n) * s.p.Sheets[i].Price
	}
	if b.length > 0 {
		sum += s.p.Roll.Cost(b.length)
	}
	return sum
}

// cost is what the fabric's goal counts: money, or the area bought.
func (s *shelf) cost(b basket) int64 {
	if s.p.Goal == pack.LeastPrice {
		return s.price(b)
	}
	return int64(s.area(b))
}

// area is how much cloth is paid for.
func (s *shelf) area(b basket) units.Area {
	var sum units.Area
	for i, n := range b.cuts {
		sum += units.Area(n) * s.p.Sheets[i].Area()
	}
	if b.length > 0 {
		sum += units.AreaOf(s.p.Roll.W, b.length)
	}
	return sum
}

// cloth is how much of a basket is left to cut once it is shrunk and squared.
func (s *shelf) cloth(b basket) units.Area {
	var sum units.Area
	for i, n := range b.cuts {
		if n > 0 {
			sum += units.Area(n) * s.p.Sheets[i].UsableArea()
		}
	}
	if b.length > 0 {
		if w, h := s.p.Roll.Usable(b.length); w > 0 && h > 0 {
			sum += units.AreaOf(w, h)
		}
	}
	return sum
}

// purchases words a basket as lines of a shopping list.
func (s *shelf) purchases(b basket) []Purchase {
	var out []Purchase
	for i, n := range b.cuts {
		if n == 0 {
			continue
		}
		buy := Purchase{Fabric: s.f.Need.Fabric, Offer: *s.f.Stocks[i].Offer, Count: n}
		if s.f.Priced {
			price := int64(n) * s.p.Sheets[i].Price
			buy.Price = &price
		}
		out = append(out, buy)
	}
	if b.length > 0 {
		buy := Purchase{Fabric: s.f.Need.Fabric, Offer: *s.f.Bolt(b.length), Length: b.length}
		if s.f.Priced {
			price := s.p.Roll.Cost(b.length)
			buy.Price = &price
		}
		out = append(out, buy)
	}
	return out
}

// mostBaskets bounds how many baskets are looked at.
const mostBaskets = 50_000

// each visits every combination of sold cuts that costs at most limit, in a
// fixed order, together with the length that end chooses for what has been spent
// so far; end may refuse a combination. It tells whether all were visited.
func (s *shelf) each(limit int64, end func(cuts basket, spent int64) (units.Length, bool), visit func(basket)) bool {
	left := mostBaskets
	b := basket{cuts: make([]int, len(s.p.Sheets))}
	var take func(i int, spent int64) bool
	take = func(i int, spent int64) bool {
		if left == 0 {
			return false
		}
		for i < len(s.p.Sheets) && s.p.Sheets[i].Free {
			i++
		}
		if i == len(s.p.Sheets) {
			left--
			if l, ok := end(b, spent); ok {
				visit(basket{slices.Clone(b.cuts), l})
			}
			return true
		}
		most := s.pieces // one piece from each at the worst
		if n := s.p.Sheets[i].Copies; n != pack.Unlimited {
			most = min(most, n)
		}
		one := s.cost(s.one(i))
		for n := 0; n <= most && spent+int64(n)*one <= limit; n++ {
			b.cuts[i] = n
			if !take(i+1, spent+int64(n)*one) {
				return false
			}
		}
		b.cuts[i] = 0
		return true
	}
	return take(0, 0)
}

// one is a basket with one copy of a sheet.
func (s *shelf) one(sheet int) basket {
	b := basket{cuts: make([]int, len(s.p.Sheets))}
	b.cuts[sheet] = 1
	return b
}

// lengthFor is the longest length that costs at most so much, 0 for none.
func (s *shelf) lengthFor(money int64) units.Length {
	var longest units.Length
	for _, b := range s.bolts {
		longest = max(longest, b.last(func(l units.Length) bool { return s.bolted(b, l) <= money }))
	}
	return longest
}

// bolted is what a length off one bolt costs in the fabric's goal.
func (s *shelf) bolted(b bolt, l units.Length) int64 {
	if s.p.Goal == pack.LeastPrice {
		return b.Cost(l)
	}
	return int64(units.AreaOf(b.W, l))
}

// last is the longest length up to the longest worth buying that will do, 0 for
// none; of a length that will do, every shorter one will.
func (b bolt) last(do func(units.Length) bool) units.Length {
	least, _ := b.First(0)
	low, high := int64(-1), int64(-1) // low will do or is -1
	if b.longest >= least {
		high = int64((b.longest - least) / b.Step)
	}
	for low < high {
		mid := (low + high + 1) / 2
		if do(least + units.Length(mid)*b.Step) {
			low = mid
		} else {
			high = mid - 1
		}
	}
	if low < 0 {
		return 0
	}
	return least + units.Length(low)*b.Step
}

// most returns the basket with the most usable cloth among those that cost at
// most limit, the cheapest of equals, and whether every basket was looked at.
func (s *shelf) most(limit int64) (best basket, all bool) {
	best = basket{cuts: make([]int, len(s.p.Sheets))}
	all = s.each(limit, func(_ basket, spent int64) (units.Length, bool) {
		return s.lengthFor(limit - spent), true
	}, func(b basket) {
		x, y := s.cloth(b), s.cloth(best)
		if x > y || x == y && s.cost(b) < s.cost(best) {
			best = b
		}
	})
	return best, all
}
