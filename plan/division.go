package plan

import (
	"fmt"
	"math/big"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// division is everything that several fabrics of the plan may fill, to be
// divided among them.
type division struct {
	plan    *Plan
	bundles []bundle
	// stash and fixed are areas by fabric: of the usable cloth at hand, and of
	// the pieces that no other fabric may fill.
	stash, fixed map[string]coarse
}

// coarse is an area in units of 2^20 square ticks, about 1/63 sq in, rounded
// up: whole so that it is the same everywhere, small enough that the area of any
// plan fits. It only guides where pieces go.
type coarse int64

func coarsely(a units.Area) coarse { return coarse(a>>20) + 1 }

// bundle is a split that is not divided yet: pieces of one size, or all those of
// a role on an ornament.
type bundle struct {
	split Split // its shares all 0
	units int   // to be divided
	area  coarse
	// fits tells by share whether the fabric can hold every piece of a unit.
	fits []bool
}

// newDivision lists what is to be divided. The error is for numbers beyond what
// a fabric can be cut for, and for fabrics that are not defined.
func newDivision(p *Plan) (*division, error) {
	d := &division{plan: p, stash: map[string]coarse{}, fixed: map[string]coarse{}}
	stocks := stocks{plan: p}
	for i := range p.Make {
		order := &p.Make[i]
		o := p.Ornament(order.Ornament)
		if o == nil {
			continue
		}
		whole := map[string]int{} // bundles of whole roles, by index
		for _, q := range o.parts(p.Unit) {
			f := order.filling(q.role)
			n := order.Count
			if len(f.Or) == 0 || !o.same(q.role) {
				n *= q.per
			}
			if order.Count > pack.MaxDemand || q.per > pack.MaxDemand || n > pack.MaxDemand {
				return nil, tooMany{f.Fabric, fmt.Sprintf("more than %d pieces of %s", pack.MaxDemand, q.size.Format(p.Unit))}
			}
			area := coarsely(q.size.Area()) * coarse(10000+p.Cutting.Spare) / 10000
			if len(f.Or) == 0 {
				d.fixed[f.Fabric] += area * coarse(n)
				continue
			}
			at, known := whole[q.role]
			if !known {
				at = len(d.bundles)
				b := bundle{split: Split{Order: i, Role: q.role, Piece: q.name}, units: n}
				if o.same(q.role) {
					b.split.Piece = ""
					whole[q.role] = at
				}
				for _, one := range f.Any() {
					if p.Fabric(one.Name) == nil {
						return nil, fmt.Errorf("plan: ornament %q, %s: fabric %q is not defined", o.Name, q.name, one.Name)
					}
					b.split.Shares = append(b.split.Shares, Share{Fabric: one.Name})
					b.fits = append(b.fits, true)
				}
				d.bundles = append(d.bundles, b)
			}
			b := &d.bundles[at]
			for k := range b.fits {
				b.fits[k] = b.fits[k] && stocks.fits(b.split.Shares[k].Fabric, q.size)
			}
			if o.same(q.role) {
				area *= coarse(q.per)
			}
			b.area += area
		}
	}
	for name, s := range stocks.by {
		for _, sheet := range s.sheets {
			if a := sheet.UsableArea(); sheet.Free && a > 0 {
				d.stash[name] += coarse(a>>20) * coarse(sheet.Copies)
			}
		}
	}
	return d, nil
}

// usualUse is how much of the cloth at hand, in percent, pieces are taken to
// fill when nothing is cut: our own guess.
const usualUse = 85

// byArea divides by area: first what the stash of each fabric holds if pieces
// fill so many percent of it, in the order of the lists; then all that is left
// goes to the fabric that is cheapest to buy.
func (d *division) byArea(percent int) []Split {
	room := map[string]coarse{}
	for name, a := range d.stash {
		room[name] = a*coarse(percent)/100 - d.fixed[name]
	}
	return d.divide(func(b *bundle, shares []Share) {
		left := b.units
		for k := range shares {
			if r := room[shares[k].Fabric]; b.fits[k] && r > 0 {
				n := int(min(coarse(left), r/b.area))
				shares[k].Count = n
				room[shares[k].Fabric] -= b.area * coarse(n)
				left -= n
			}
		}
		k := d.cheapest(b)
		shares[k].Count += left
		room[shares[k].Fabric] -= b.area * coarse(left)
	})
}

// allTo gives everything to one fabric of each list, the k-th if it holds it.
func (d *division) allTo(k int) []Split {
	return d.divide(func(b *bundle, shares []Share) {
		k := min(k, len(shares)-1)
		if !b.fits[k] {
			k = max(slices.Index(b.fits, true), 0)
		}
		shares[k].Count = b.units
	})
}

func (d *division) divide(fill func(b *bundle, shares []Share)) []Split {
	var out []Split
	for i := range d.bundles {
		b := &d.bundles[i]
		s := b.split
		s.Shares = slices.Clone(s.Shares)
		fill(b, s.Shares)
		out = append(out, s)
	}
	return out
}

// cheapest is the share of the fabric that a bundle's rest is bought from: the
// cheapest by area that can be bought, the first of equal or unpriced ones, and
// the first that fits when none can be bought.
func (d *division) cheapest(b *bundle) int {
	best, first := -1, 0
	var least *big.Rat
	for k := len(b.fits) - 1; k >= 0; k-- {
		if !b.fits[k] {
			continue
		}
		first = k
		f := d.plan.Fabric(b.split.Shares[k].Fabric)
		if len(f.Buy) == 0 {
			continue
		}
		rate := f.cheapest()
		if best < 0 || least == nil || rate != nil && rate.Cmp(least) <= 0 {
			best, least = k, rate
		}
	}
	if best < 0 {
		return first
	}
	return best
}
