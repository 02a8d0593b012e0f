package pack

import (
	"context"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
	"pinfold/units"
)

const (
	// maxSlabs bounds how many heights of slabs are offered.
	maxSlabs = 48
	// slabCopies is how many copies of a size there must be on average: slabs of
	// pieces that are all different waste too much.
	slabCopies = 4
	// slabScale is into how many parts the smallest coin is divided for the
	// price of a slab.
	slabScale = 1000
	// leastPile and firstPile bound the work of the first of several searches for a pile.
	leastPile = 200_000
	firstPile = 500_000
)

// slabs looks for a solution that takes the roll as a pile of slabs, each from
// side to side: a problem of fixed sheets in which slabs of some heights cost in
// proportion. The engines for many equal sheets then choose the length together
// with the sheets. The rounding up to what the counter sells is left out, but aim
// says what a pile must cost less than to be of use, given the scale of the sheets'
// prices. Each better one goes to keep.
func (r *rollSearch) slabs(ctx context.Context, effort int64, aim func(scale int64) int64, keep func(*try, *model.Solution) error) error {
	base, err := r.try(0)
	if err != nil {
		return err
	}
	long, err := r.try(r.longest())
	if err != nil || long.roll() == nil || len(base.sc.model.Items) == 0 {
		return err
	}
	pile := base.sc.model
	if base.copies() < slabCopies*len(pile.Items) {
		return nil
	}
	if pile.Stages > 0 {
		// Parting the slabs is a stage of its own.
		if pile.Stages--; pile.Stages < 2 {
			return nil
		}
	}
	roll := *long.roll()
	sheets := len(pile.Stocks)
	pile.Stocks = slices.Clone(pile.Stocks)
	scale := int64(slabScale)
	if r.p.Goal == LeastArea {
		scale = 1
	}
	for i := range pile.Stocks {
		pile.Stocks[i].Cost *= scale
	}
	// Slabs higher than a quarter of the roll's width waste hardly less, and take
	// far longer to fill.
	highest := int(units.Length(roll.W) * base.sc.gx / (4 * base.sc.gy))
	for _, h := range slabHeights(&pile, roll, highest) {
		pile.Stocks = append(pile.Stocks, model.Stock{W: roll.W, H: h, Copies: model.Unlimited, Cost: r.slabCost(units.Length(h) * base.sc.gy)})
	}
	// Where luck decides, some searches find in different orders what one does not
	// in as long; later ones are longer.
	start := r.nodes
	for n := uint64(0); r.nodes < start+effort && ctx.Err() == nil; n++ {
		used := r.nodes - start
		part := max(min(max(effort/3+1, leastPile), firstPile), min(used, 2*firstPile), used/8)
		o := r.searchOptions()
		o.Effort, o.Progress = min(part, effort-used), nil
		o.Seed += n * 1000
		s := search.New(&pile, o)
		keepBest := func(m *model.Solution) error {
			t, m, err := r.unpile(base, &pile, m, sheets)
			if err != nil || t == nil {
				return err
			}
			return keep(t, m)
		}
		if over, err := r.pile(ctx, s, o.Effort, func() int64 { return aim(scale) }, keepBest); over || err != nil {
			return err
		}
	}
	return nil
}

// pile runs one search, its aim set anew after each better pile. It tells whether
// there is none to be found any more.
func (r *rollSearch) pile(ctx context.Context, s *search.Search, effort int64, aim func() int64, keep func(*model.Solution) error) (over bool, err error) {
	for end := r.nodes + effort; r.nodes < end && ctx.Err() == nil; {
		if a := aim(); a > 0 {
			s.Aim(a)
		}
		if s.Over() {
			return true, nil
		}
		before := s.Outcome()
		s.Run(ctx, min(effort/8+1, end-r.nodes))
		out := s.Outcome()
		r.nodes += max(out.Work-before.Work, 1)
		if out.Best != nil && out.Best != before.Best {
			if err := keep(out.Best); err != nil {
				return false, err
			}
		}
	}
	return s.Over(), nil
}

// unpile is the try of the length that the slabs of a solution take, with the
// solution for it; nil where that is not sold.
func (r *rollSearch) unpile(base *try, pile *model.Problem, best *model.Solution, sheets int) (*try, *model.Solution, error) {
	m, height := stacked(pile, best, sheets)
	if height == 0 {
		return base, m, nil
	}
	l, ok := r.p.Roll.Length(units.Length(height)*base.sc.gy - r.p.Rules.Kerf)
	if !ok {
		return nil, nil, nil
	}
	t, err := r.try(l)
	return t, m, err
}

// aim is more than any pile costs, its sheets' prices times scale, that makes
// everything cheaper than the best; 0 where that is not known.
func (r *rollSearch) aim(scale int64) int64 {
	if r.best == nil || r.best.missing > 0 || len(r.tries) >= everyLength {
		return 0
	}
	aim := int64(1)
	for _, t := range r.tries {
		if t.low >= r.best.cost {
			continue
		}
		c := 1 + scale*r.spendable(r.best.cost-1-t.sunk)
		if st := t.roll(); st != nil {
			c += r.slabCost(units.Length(st.H) * t.sc.gy)
		}
		aim = max(aim, c)
	}
	return aim
}

// countedPrice is up to what price the sums of the sheets' prices are listed.
const countedPrice = 100_000

// spendable is the most that sheets can cost together, at most the price given.
func (r *rollSearch) spendable(most int64) int64 {
	if most > countedPrice || r.p.Goal == LeastArea {
		return most
	}
	can := make([]bool, most+1)
	can[0] = true
	for _, sh := range r.p.Sheets {
		if sh.Free || sh.Copies == 0 || sh.Price == 0 {
			continue
		}
		for c := sh.Price; c <= most; c++ {
			can[c] = can[c] || can[c-sh.Price]
		}
	}
	for !can[most] {
		most--
	}
	return most
}

// slabCost is the price of a length in parts of the smallest coin, or its area.
func (r *rollSearch) slabCost(l units.Length) int64 {
	roll := r.p.Roll
	if r.p.Goal == LeastArea || roll.Price == 0 {
		return int64(units.AreaOf(roll.W, l))
	}
	return max(int64(float64(l)*float64(roll.Price)*slabScale/float64(roll.Per)), 1)
}

// slabHeights chooses heights that piles of pieces can have, among them the
// sides of the pieces; the greatest holds every piece that the roll holds. No other
// is above highest.
func slabHeights(pr *model.Problem, roll model.Stock, highest int) []int {
	var sides []int
	tallest := 0
	for _, it := range pr.Items {
		low := 0
		for _, turned := range []bool{false, true} {
			if w, h := it.Sides(turned); (it.Turn || !turned) && w <= roll.W && h <= roll.H {
				sides = append(sides, h)
				if low == 0 || h < low {
					low = h
				}
			}
		}
		tallest = max(tallest, low)
	}
	highest = max(highest, tallest)
	sides = slices.DeleteFunc(sides, func(h int) bool { return h > highest })
	// Sums of up to four sides make taller slabs, which waste less.
	for range 2 {
		for _, a := range slices.Clone(sides) {
			for _, b := range sides[:min(len(sides), 40)] {
				if s := a + b; s <= highest {
					sides = append(sides, s)
				}
			}
		}
		slices.Sort(sides)
		sides = slices.Compact(sides)
	}
	if len(sides) <= maxSlabs {
		return sides
	}
	var out []int
	for i := range maxSlabs {
		out = append(out, sides[i*(len(sides)-1)/(maxSlabs-1)])
	}
	if !slices.Contains(out, tallest) {
		out = append(out, tallest)
	}
	return out
}

// stacked puts the slabs of a solution, the stocks from the sheets-th on, on one
// another in one pattern of that stock, and returns their height in all.
func stacked(pile *model.Problem, m *model.Solution, sheets int) (*model.Solution, int) {
	out := &model.Solution{}
	one := model.Pattern{Stock: sheets}
	y := 0
	for i, p := range m.Patterns {
		if p.Stock < sheets {
			out.Add(p, m.Copies[i])
			continue
		}
		for range m.Copies[i] {
			for _, q := range p.Placed {
				q.Y += int32(y)
				one.Placed = append(one.Placed, q)
			}
			y += pile.Stocks[p.Stock].H
		}
	}
	if y > 0 {
		out.Add(one, 1)
	}
	return out, y
}
