package reports

import "pinfold/plan"

// boltOf says which of several bolts a length comes off, "at $11.00 a yard"; ""
// when the fabric is sold by length in one way.
func boltOf(p *plan.Plan, b plan.Purchase) string {
	f := p.Fabric(b.Fabric)
	if f == nil || b.Offer.Kind != plan.SoldByLength {
		return ""
	}
	others, alike := 0, false
	for _, o := range f.Buy {
		if o.Kind != plan.SoldByLength || o == b.Offer {
			continue
		}
		others++
		alike = alike || o.Per == b.Offer.Per && (b.Offer.Price == nil || o.Price == nil || *o.Price == *b.Offer.Price)
	}
	if others == 0 {
		return ""
	}
	s := ""
	if b.Offer.Price != nil {
		s = "at " + money(p.Money, *b.Offer.Price) + " a " + b.Offer.Name
	}
	if alike || s == "" {
		s = joined(" ", s, "in steps of "+sold(b.Offer, b.Offer.Step))
		if b.Offer.Least > b.Offer.Step {
			s += " from " + sold(b.Offer, b.Offer.Least)
		}
	}
	return s
}
