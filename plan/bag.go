package plan

import (
	"slices"

	"pinfold/units"
)

// Bag is all the pieces of one ornament, sorted together. Count ornaments of an
// order, from the First (counted from 1), are made of the same pieces.
type Bag struct {
	Order        int // index into Plan.Make
	First, Count int
	Parts        []BagPart // round by round in pinning order, the band last
}

// BagPart is the pieces of one round, role and fabric.
type BagPart struct {
	Piece  string // the round's name, or [BandName]
	Role   string
	Fabric string
	ID     string // the letter of the size all over the plan
	Size   units.Size
	Each   int // in one bag
}

// Bags sorts all pieces of the plan, spares excepted, into bags. Where several
// fabrics fill a role, the ornaments of the order are filled one after the other
// from the shares in their order, so that only the ornament at a boundary mixes
// fabrics within a round; orders with equal ornaments make one Bag.
func (p *Plan) Bags(g *Gathered) []Bag {
	var out []Bag
	for i := range p.Make {
		o := p.Ornament(p.Make[i].Ornament)
		if o == nil {
			continue
		}
		parts := o.parts(p.Unit)
		// Only at these ornaments may the pieces differ from those before.
		breaks := []int{0, p.Make[i].Count}
		for _, q := range parts {
			taken := 0
			for _, s := range p.sharesOf(i, q, g.Splits) {
				taken += s.Count
				breaks = append(breaks, taken/q.per, (taken+q.per-1)/q.per)
			}
		}
		slices.Sort(breaks)
		breaks = slices.Compact(breaks)
		for k := range len(breaks) - 1 {
			b := Bag{Order: i, First: breaks[k] + 1, Count: breaks[k+1] - breaks[k]}
			for _, q := range parts {
				b.Parts = append(b.Parts, p.bagParts(g, i, q, breaks[k])...)
			}
			last := len(out) - 1
			if last >= 0 && out[last].Order == i && slices.Equal(out[last].Parts, b.Parts) {
				out[last].Count += b.Count
				continue
			}
			out = append(out, b)
		}
	}
	return out
}

// sharesOf returns by how many pieces of a part each fabric fills an order.
func (p *Plan) sharesOf(order int, q part, splits []Split) []Share {
	f := p.Make[order].filling(q.role)
	all := []Share{{f.Fabric, p.Make[order].Count * q.per}}
	if len(f.Or) == 0 {
		return all
	}
	i := slices.IndexFunc(splits, func(s Split) bool {
		return s.Order == order && s.Role == q.role && (s.Piece == "" || s.Piece == q.name)
	})
	if i < 0 {
		return all
	}
	shares := slices.Clone(splits[i].Shares)
	if splits[i].Piece == "" {
		for k := range shares {
			shares[k].Count *= q.per
		}
	}
	return shares
}

// bagParts lists what the ornament of that index takes of a part.
func (p *Plan) bagParts(g *Gathered, order int, q part, ornament int) []BagPart {
	var out []BagPart
	from, to := ornament*q.per, (ornament+1)*q.per
	taken := 0
	for _, s := range p.sharesOf(order, q, g.Splits) {
		if n := min(to, taken+s.Count) - max(from, taken); n > 0 {
			b := BagPart{Piece: q.name, Role: q.role, Fabric: s.Fabric, Size: q.size, Each: n}
			b.ID, b.Size = g.named(s.Fabric, q.size)
			out = append(out, b)
		}
		taken += s.Count
	}
	return out
}

// named finds the letter of a fabric's size, and the size as it is cut.
func (g *Gathered) named(fabric string, size units.Size) (string, units.Size) {
	for _, f := range g.Fabrics {
		if f.Fabric != fabric {
			continue
		}
		for _, n := range f.Sizes {
			if n.Size == size || n.Turn && n.Size.Along == size.Across && n.Size.Across == size.Along {
				return n.ID, n.Size
			}
		}
	}
	return "", size
}
