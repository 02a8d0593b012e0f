package plan

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"

	"pinfold/pack"
	"pinfold/units"
)

const maxDemand = pack.MaxDemand

func (r *reader) readOrnaments(n *yaml.Node) {
	for _, e := range r.entries(n, "ornaments", "ornament", maxOrnaments) {
		before := len(r.faults)
		o := Ornament{At: e.at, Name: e.name}
		what := "ornament " + quoted(e.name)
		m, ok := r.mapping(e.value, e.at, what, "ball", "pieces", "band", "supplies", "same fabric")
		if ok {
			o.Ball, _ = r.positive(m.require("ball", "3 in"), "ball", units.Up, maxBall)
			if n := m.get("pieces"); n != nil {
				o.Pieces = r.readRounds(n, o.Ball)
			}
			if n := m.get("band"); n != nil {
				o.Band = r.readBand(n)
			}
			if n := m.get("supplies"); n != nil {
				o.Supplies = r.readSupplies(n)
			}
			if len(r.faults) == before && len(o.Pieces) == 0 && o.Band == nil {
				r.fault(e.at, "write pieces: and a list like - {name: centre, size: 2 1/2 x 2 1/2, count: 10, role: ground}", "%s has no pieces", what)
			}
			r.roundNames(o)
			if n := m.get("same fabric"); n != nil {
				o.Same = r.readSame(n, &o, len(r.faults) == before)
			}
		}
		if len(r.faults) > before {
			r.broken[ornamentKey(e.name)] = true
		}
		r.plan.Ornaments = append(r.plan.Ornaments, o)
	}
}

func ornamentKey(name string) string { return "ornament " + name }
func fabricKey(name string) string   { return "fabric " + name }

// roundNames reports rounds of one name: print tells pieces apart by it.
func (r *reader) roundNames(o Ornament) {
	seen := map[string]bool{}
	for _, p := range o.Pieces {
		switch {
		case p.Name == "":
		case seen[p.Name]:
			r.fault(p.At, "give each round its own name", "ornament %q has two rounds named %q", o.Name, p.Name)
		case p.Name == BandName && o.Band != nil:
			r.fault(p.At, "give the round another name", "a round named %q is taken for the band of ornament %q", p.Name, o.Name)
		}
		seen[p.Name] = true
	}
}

// readSame reads the roles that are to be of one fabric on each ornament; whole
// tells whether the ornament's roles are all known.
func (r *reader) readSame(n *yaml.Node, o *Ornament, whole bool) []Named {
	var out []Named
	known := o.roles()
	for _, item := range r.items(n, "same fabric", "[ground]", maxAround) {
		role, ok := r.name(item, "role")
		switch {
		case !ok:
		case whole && !slices.Contains(known, role):
			r.fault(r.pos(item), r.meant(role, "its roles are", known), "ornament %q has no role %q", o.Name, role)
		case slices.ContainsFunc(out, func(s Named) bool { return s.Name == role }):
			r.fault(r.pos(item), "leave one of them out", "role %q stands twice in same fabric", role)
		default:
			out = append(out, Named{r.pos(item), role})
		}
	}
	return out
}

// BandName is what the band is called among an ornament's pieces.
const BandName = "band"

func (r *reader) readRounds(n *yaml.Node, ball units.Length) []Round {
	var out []Round
	for _, item := range r.items(n, "pieces", "- {name: centre, size: 2 1/2 x 2 1/2, count: 10, role: ground}", maxRounds) {
		m, ok := r.mapping(item, r.pos(item), "a piece", "name", "size", "count", "role", "around", "side", "from")
		if !ok {
			continue
		}
		rd := Round{At: m.at}
		rd.Name, _ = r.name(m.require("name", "centre, or whatever the round is called"), "piece")
		if rd.Name != "" {
			m.what = "piece " + quoted(rd.Name)
		}
		size := m.require("size", "2 1/2 x 2 1/2")
		if size != nil {
			rd.Size, _ = r.size(size, "size", units.Up)
			rd.At = r.pos(size)
		}
		if v, ok := r.word(m.get("side"), "side", "both", "front", "back"); ok {
			rd.Side = Side(v)
		}
		r.readRoles(m, &rd)
		if n := m.get("from"); n != nil {
			if l, ok := r.length(n, "from", units.Up); ok {
				if ball > 0 && l > 2*(Sphere{ball}).PoleToEquator() {
					r.fault(r.pos(n), "write how far from the pole the round starts, like 1/2",
						"from %s lies beyond the other pole of a ball of %s", l.Format(r.plan.Unit), ball.Format(r.plan.Unit))
				}
				rd.From = &l
			}
		}
		out = append(out, rd)
	}
	return out
}

// readRoles reads what fills the round: one role with its count on the whole
// ball, or the places around the pole of one side.
func (r *reader) readRoles(m mapping, rd *Round) {
	count := m.get("count")
	around := m.get("around")
	switch {
	case around == nil:
		role, _ := r.name(m.require("role", "a word of your own, like ground, that each colourway fills"), "role")
		c, _ := r.count(m.require("count", "how many on the whole ball"), "count", 1, maxDemand)
		if role != "" {
			rd.Roles = []RoleCount{{role, c}}
		}
		return
	case m.get("role") != nil:
		r.fault(r.pos(m.get("role")), "leave role or around out", "%s has both a role and around", m.what)
		return
	}
	sides, per := 2, "on both sides together"
	if rd.Side != Both {
		sides, per = 1, "on its one side"
	}
	places := r.items(around, "around", "[ground, accent, ground, trim]", maxAround)
	if around.Kind == yaml.SequenceNode && len(around.Content) == 0 {
		r.fault(r.pos(around), "write a role for each place, like [ground, accent, ground, trim]", "around is empty")
	}
	for _, place := range places {
		role, ok := r.name(place, "role")
		if !ok {
			continue
		}
		rd.Around = append(rd.Around, role)
		rd.add(role, sides)
	}
	if count == nil || len(rd.Around) == 0 {
		return
	}
	if c, ok := r.count(count, "count", 1, maxDemand); ok && c != sides*len(places) {
		r.fault(r.pos(count), fmt.Sprintf("write count: %d or leave it out", sides*len(places)),
			"count is %d, but around has %d places, %d %s", c, len(places), sides*len(places), per)
	}
}

func (rd *Round) add(role string, n int) {
	for i := range rd.Roles {
		if rd.Roles[i].Role == role {
			rd.Roles[i].Count += n
			return
		}
	}
	rd.Roles = append(rd.Roles, RoleCount{role, n})
}

func (r *reader) readBand(n *yaml.Node) *Band {
	m, ok := r.mapping(n, r.pos(n), "the band", "width", "overlap", "shows", "role")
	if !ok {
		return nil
	}
	b := &Band{At: m.at, Overlap: units.Inch}
	if r.plan.Unit == units.Centimetres {
		b.Overlap = 25 * units.Millimetre
	}
	if n := m.require("width", "1 3/4"); n != nil {
		b.Width, _ = r.positive(n, "width", units.Up, maxBall)
		b.At = r.pos(n)
	}
	b.Shows = b.Width
	if n := m.get("overlap"); n != nil {
		l, _ := r.length(n, "overlap", units.Up)
		if l > maxBall {
			r.fault(r.pos(n), "write how far its ends lie over each other, like 1 in", "overlap of %s is too much", l.Format(r.plan.Unit))
		}
		b.Overlap = l
	}
	if n := m.get("shows"); n != nil {
		if l, ok := r.length(n, "shows", units.Down); ok && b.Width > 0 {
			if l > b.Width {
				r.fault(r.pos(n), "write its width once folded", "the band shows %s but is cut only %s wide", l.Format(r.plan.Unit), b.Width.Format(r.plan.Unit))
			}
			b.Shows = l
		}
	}
	b.Role, _ = r.name(m.require("role", "a word of your own, like ground, that each colourway fills"), "role")
	return b
}

func (r *reader) readSupplies(n *yaml.Node) []Supply {
	var out []Supply
	for _, item := range r.items(n, "supplies", "- {name: straight pins, count: 210}", maxSupplies) {
		m, ok := r.mapping(item, r.pos(item), "a supply", "name", "count", "length", "price", "per")
		if !ok {
			continue
		}
		var s Supply
		s.Name, _ = r.name(m.require("name", "straight pins"), "supply")
		count, length := m.get("count"), m.get("length")
		switch {
		case count != nil && length != nil:
			r.fault(r.pos(length), "write the count in one entry and the length, all in all, in another", "supply %q has a count and a length", s.Name)
		case count != nil:
			s.Count, _ = r.count(count, "count", 1, maxDemand)
		case length != nil:
			s.Length, _ = r.positive(length, "length", units.Up, units.MaxLength)
		default:
			r.fault(m.at, "write count: 210 or length: 10 in", "supply %q has neither count nor length", s.Name)
		}
		r.readSupplyPrice(m, &s)
		out = append(out, s)
	}
	return out
}

// readSupplyPrice reads what one piece costs, or the length per.
func (r *reader) readSupplyPrice(m mapping, s *Supply) {
	n, per := m.get("price"), m.get("per")
	if n != nil {
		if c, ok := r.scalar(n, "price"); ok {
			v, err := finePrice(c.text)
			if err != nil {
				r.wrong(c.at, "price", err)
			}
			s.Price = &v
		}
	}
	switch {
	case per != nil && n == nil:
		r.fault(r.pos(per), "write the price of that length, or leave per out", "supply %q has per without a price", s.Name)
	case per != nil && m.get("count") != nil:
		r.fault(r.pos(per), "write the price of one and leave per out", "supply %q is counted, so its price is that of one", s.Name)
	case per != nil:
		s.Per, _ = r.positive(per, "per", units.Down, units.MaxLength)
	case n != nil && m.get("length") != nil:
		r.fault(r.pos(n), "write per: 1 yd, or the length the price is for", "supply %q does not say what length its price is for", s.Name)
	}
}
