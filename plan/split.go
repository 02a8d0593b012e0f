package plan

import (
	"slices"

	"pinfold/units"
)

// Split tells how what several fabrics may fill is divided among them.
type Split struct {
	Order int // index into Plan.Make
	Role  string
	// Piece is the round's name or [BandName]; the shares count its pieces. It is
	// "" for a role that is of one fabric on each ornament; they count ornaments
	// then.
	Piece  string
	Shares []Share // one for each fabric of the colourway's list, in its order
}

// Share is a fabric's part of a split.
type Share struct {
	Fabric string
	Count  int
}

// lot is pieces of one size from one fabric for one order: ornaments times per.
type lot struct {
	fabric         string
	size           units.Size
	ornaments, per int
	piece          string // the round's name, or [BandName]
}

// part is what one round, or the band, needs of one role.
type part struct {
	at   Pos // of its size
	name string
	role string
	size units.Size
	per  int // on one ornament
}

// parts lists what an ornament is made of, round by round and role by role.
func (o *Ornament) parts(u units.Unit) []part {
	var out []part
	for _, r := range o.Pieces {
		for _, rc := range r.Roles {
			out = append(out, part{r.At, r.Name, rc.Role, r.Size, rc.Count})
		}
	}
	if o.Band != nil {
		out = append(out, part{o.Band.At, BandName, o.Band.Role, bandSize(o, u), 1})
	}
	return out
}

// partsOf lists the parts of one role.
func (o *Ornament) partsOf(role string, u units.Unit) []part {
	return slices.DeleteFunc(o.parts(u), func(q part) bool { return q.role != role })
}

// same tells whether the role is to be of one fabric on each ornament.
func (o *Ornament) same(role string) bool {
	return slices.ContainsFunc(o.Same, func(n Named) bool { return n.Name == role })
}

// filling returns what fills a role; the zero value for none.
func (o *Order) filling(role string) Filling {
	for _, f := range o.Colourway {
		if f.Role == role {
			return f
		}
	}
	return Filling{}
}

// lots lists what an order of the plan is cut from, given how lists of fabrics
// are divided. Without a split a list's first fabric takes all.
func (p *Plan) lots(order int, splits []Split) []lot {
	make := &p.Make[order]
	o := p.Ornament(make.Ornament)
	var out []lot
	for _, q := range o.parts(p.Unit) {
		f := make.filling(q.role)
		i := -1
		if len(f.Or) > 0 {
			i = slices.IndexFunc(splits, func(s Split) bool {
				return s.Order == order && s.Role == q.role && (s.Piece == "" || s.Piece == q.name)
			})
		}
		if i < 0 {
			out = append(out, lot{f.Fabric, q.size, make.Count, q.per, q.name})
			continue
		}
		for _, s := range splits[i].Shares {
			switch {
			case s.Count == 0:
			case splits[i].Piece == "":
				out = append(out, lot{s.Fabric, q.size, s.Count, q.per, q.name})
			default:
				out = append(out, lot{s.Fabric, q.size, s.Count, 1, q.name})
			}
		}
	}
	return out
}

// stocks answers what fits which fabric, each stock worked out once.
type stocks struct {
	plan *Plan
	by   map[string]stock
}

func (s *stocks) of(fabric string) stock {
	if _, known := s.by[fabric]; !known {
		if s.by == nil {
			s.by = map[string]stock{}
		}
		s.by[fabric] = stockOf(s.plan, s.plan.Fabric(fabric))
	}
	return s.by[fabric]
}

// fits tells whether one piece fits the largest cloth of a fabric.
func (s *stocks) fits(fabric string, size units.Size) bool {
	return s.of(fabric).fits(size, s.plan.Fabric(fabric).Direction == AnyWay)
}
