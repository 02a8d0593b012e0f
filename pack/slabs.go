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
)

// slabs looks for a solution that takes the roll as a pile of slabs, each from
// side to side: a problem of fixed sheets in which slabs of some heights cost in
// proportion. The engines for many equal sheets then choose the length together
// with the sheets. Only the rounding up to what the counter sells is left out.
// It returns the try of the length found, nil for none.
func (r *rollSearch) slabs(ctx context.Context, effort int64) (*try, *model.Solution, error) {
	base, err := r.try(0)
	if err != nil {
		return nil, nil, err
	}
	long, err := r.try(r.longest())
	if err != nil || long.roll() == nil || len(base.sc.model.Items) == 0 {
		return nil, nil, err
	}
	pile := base.sc.model
	if base.copies() < slabCopies*len(pile.Items) {
		return nil, nil, nil
	}
	if pile.Stages > 0 {
		// Parting the slabs is a stage of its own.
		if pile.Stages--; pile.Stages < 2 {
			return nil, nil, nil
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
	o := r.searchOptions()
	o.Effort, o.Progress = effort, nil
	s := search.New(&pile, o)
	s.Run(ctx, effort)
	out := s.Outcome()
	r.nodes += out.Work
	if out.Best == nil {
		return nil, nil, nil
	}
	m, height := stacked(&pile, out.Best, sheets)
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
