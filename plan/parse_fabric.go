package plan

import (
	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

func (r *reader) readFabrics(n *yaml.Node) {
	for _, e := range r.entries(n, "fabrics", "fabric", maxFabrics) {
		before := len(r.faults)
		f := Fabric{At: e.at, Name: e.name}
		m, ok := r.mapping(e.value, e.at, "fabric "+quoted(e.name), "direction", "bolt", "shrinks", "buy")
		if ok {
			if v, ok := r.word(m.get("direction"), "direction", "any", "two-way", "one-way"); ok {
				f.Direction = Direction(v)
			}
			r.readBolt(m.get("bolt"), &f, m.get("buy") != nil)
			if n := m.get("shrinks"); n != nil {
				if s, ok := r.mapping(n, r.pos(n), "shrinks", "length", "width"); ok {
					f.ShrinksLength = r.percent(s.get("length"), "length", maxShrink)
					f.ShrinksWidth = r.percent(s.get("width"), "width", maxShrink)
				}
			}
			if n := m.get("buy"); n != nil {
				r.readOffers(n, &f)
			}
		}
		if len(r.faults) > before {
			r.broken[fabricKey(e.name)] = true
		}
		r.plan.Fabrics = append(r.plan.Fabrics, f)
	}
}

// readBolt reads the bolt's widths; n may be nil. bought tells whether the
// width matters enough to note what is assumed.
func (r *reader) readBolt(n *yaml.Node, f *Fabric, bought bool) {
	u := r.plan.Unit
	selvages, usual := 4*units.Inch, 40*units.Inch
	if u == units.Centimetres {
		selvages, usual = 10*units.Centimetre, 100*units.Centimetre
	}
	var usable *yaml.Node
	if n != nil {
		m, ok := r.mapping(n, r.pos(n), "the bolt", "width", "usable")
		if !ok {
			return
		}
		usable = m.get("usable")
		f.Bolt, _ = r.positive(m.get("width"), "width", units.Down, maxCloth)
		f.Usable, _ = r.positive(usable, "usable", units.Down, maxCloth)
	}
	switch {
	case f.Usable > 0 && f.Bolt > 0 && f.Usable > f.Bolt:
		r.fault(r.pos(usable), "write the width between the selvages", "usable width %s is more than the bolt's %s", f.Usable.Format(u), f.Bolt.Format(u))
	case f.Usable > 0 || usable != nil:
	case f.Bolt > 0 && f.Bolt <= selvages:
		r.fault(r.pos(n), "write usable: and the width between the selvages", "a bolt of %s leaves nothing between usual selvages", f.Bolt.Format(u))
	default:
		f.Usable = usual
		if f.Bolt > 0 {
			f.Usable = f.Bolt - selvages
		}
		if bought {
			r.note("fabric %q: usable width not given, %s is assumed; measure it between the selvages", f.Name, f.Usable.Format(u))
		}
	}
}

// The ways to sell, which are also keys of an offer.
const (
	fatQuarter = "fat quarter"
	fatEighth  = "fat eighth"
	ownCut     = "cut"
	byYard     = "yard"
	byMetre    = "metre"
)

var ways = []string{fatQuarter, fatEighth, byYard, byMetre, ownCut}

func (r *reader) readOffers(n *yaml.Node, f *Fabric) {
	var priced, unpriced []Pos
	for _, item := range r.items(n, "buy", "- {fat quarter: 3.25}", maxOffers) {
		o, ok := r.readOffer(item, f)
		if !ok {
			continue
		}
		if o.Price != nil {
			priced = append(priced, o.At)
		} else {
			unpriced = append(unpriced, o.At)
		}
		f.Buy = append(f.Buy, o)
	}
	if len(priced) > 0 {
		for _, at := range unpriced {
			r.fault(at, "write the price, or leave out all prices of the fabric", "fabric %q has offers with and without a price", f.Name)
		}
	}
}

func (r *reader) readOffer(n *yaml.Node, f *Fabric) (Offer, bool) {
	o := Offer{At: r.pos(n), Available: -1}
	if n.Kind == yaml.ScalarNode {
		// A bare word in the list is an offer without a price.
		way, ok := r.word(n, "way to buy", fatQuarter, fatEighth, byYard, byMetre)
		if !ok {
			return o, false
		}
		return o, r.readTerms(mapping{r: r, what: "an offer", at: o.At}, ways[way], &o, f)
	}
	way := wayOf(n)
	known := append([]string{}, ways...)
	if way == "" && misspelt(n) {
		// Only the slip is told, not that what stands beside it belongs to nothing.
		known = append(known, "name", "size", "available", "step", "least", "most")
	}
	switch way {
	case fatQuarter, fatEighth:
		known = append([]string{way}, "size", "available")
	case byYard, byMetre:
		known = append([]string{way}, "step", "least", "most")
	case ownCut:
		known = append([]string{way}, "name", "size", "available")
	}
	before := len(r.faults)
	m, ok := r.mapping(n, o.At, "an offer", known...)
	switch {
	case !ok:
		return o, false
	case way == "":
		if len(r.faults) == before {
			r.fault(o.At, "write fat quarter, fat eighth, yard, metre or cut with its price", "an offer does not say what is sold")
		}
		return o, false
	}
	if p := m.get(way); p != nil {
		if c, ok := r.scalar(p, "price"); ok {
			v, err := price(c.text)
			if err != nil {
				r.wrong(c.at, way, err)
			}
			o.Price = &v
		}
	}
	return o, r.readTerms(m, way, &o, f)
}

// wayOf finds the key of an offer that says how it is sold.
func wayOf(n *yaml.Node) string {
	for i := 0; n.Kind == yaml.MappingNode && i < len(n.Content); i += 2 {
		for _, w := range ways {
			if n.Content[i].Value == w {
				return w
			}
		}
	}
	return ""
}

// misspelt tells whether a key of an offer is nearly a way to sell.
func misspelt(n *yaml.Node) bool {
	for i := 0; n.Kind == yaml.MappingNode && i < len(n.Content); i += 2 {
		if _, ok := near(n.Content[i].Value, ways); ok {
			return true
		}
	}
	return false
}

// readTerms reads everything about an offer but its price.
func (r *reader) readTerms(m mapping, way string, o *Offer, f *Fabric) bool {
	before := len(r.faults)
	o.Name = way
	switch way {
	case byYard:
		o.Kind, o.Per, o.Step = SoldByLength, units.Yard, units.Yard/8
	case byMetre:
		o.Kind, o.Per, o.Step = SoldByLength, units.Metre, 25*units.Centimetre
	case ownCut:
		o.RawSides = 2
		o.Name, _ = r.name(m.require("name", "ten inch square, or whatever the cut is called"), "cut")
		o.Size, _ = r.size(m.require("size", "10 x 10"), "size", units.Down)
	case fatQuarter, fatEighth:
		o.RawSides = 1
		o.Size = halfWidth(way, f.Usable, r.plan.Unit)
		if n := m.get("size"); n != nil {
			o.Size, _ = r.size(n, "size", units.Down)
			if f.Bolt > 0 && o.Size.Across > f.Bolt {
				r.fault(r.pos(n), "write along the selvage x across, like 18 x 21", "a %s %s across is wider than the bolt", way, o.Size.Across.Format(r.plan.Unit))
			}
		}
	}
	if n := m.get("available"); n != nil {
		o.Available, _ = r.count(n, "available", 0, maxCopies)
	}
	if o.Kind == SoldByLength {
		r.readLengths(m, o)
	}
	return len(r.faults) == before
}

// halfWidth returns the size of a fat quarter or eighth when the plan gives
// none: half a yard or a quarter along the selvage, and half the usable width
// across, at most 22 in.
func halfWidth(way string, usable units.Length, u units.Unit) units.Size {
	grid := units.Inch64
	if u == units.Centimetres {
		grid = units.Millimetre
	}
	s := units.Size{Along: 18 * units.Inch, Across: min((usable / 2).RoundDown(grid), 22*units.Inch)}
	if way == fatEighth {
		s.Along = 9 * units.Inch
	}
	return s
}

func (r *reader) readLengths(m mapping, o *Offer) {
	u := r.plan.Unit
	if l, ok := r.positive(m.get("step"), "step", units.Up, maxCloth); ok {
		if l < units.Millimetre {
			r.fault(r.pos(m.get("step")), "write the counter's step, like 1/8 yd or 25 cm", "step of %s is too little", l.Format(u))
		}
		o.Step = l
	}
	if l, ok := r.positive(m.get("least"), "least", units.Up, maxCloth); ok {
		o.Least = l
	}
	if l, ok := r.positive(m.get("most"), "most", units.Down, maxCloth); ok {
		o.Most = l
		if l < max(o.Least, o.Step) {
			r.fault(r.pos(m.get("most")), "write the longest length that can be had, or leave it out", "most %s is less than the shortest length sold, %s", l.Format(u), max(o.Least, o.Step).Format(u))
		}
	}
}
