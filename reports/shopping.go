package reports

import (
	"fmt"
	"strings"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// Shopping is the list to take to the shop.
type Shopping struct {
	Lines []ShoppingLine
	Total string // "" when a line has no price or nothing is bought
}

// ShoppingLine is one thing to buy, in the shop's words.
type ShoppingLine struct {
	Amount string // "3/8 yd", "2 fat quarters"
	Fabric string
	Detail string // the measures that matter at the counter
	Bolt   string // which of several bolts, "at $11.00 a yard"; "" for the only one
	Price  string // "" when not priced
}

// Text is the line in one piece: "3/8 yd of navy dot".
func (l ShoppingLine) Text() string { return l.Amount + " of " + l.Fabric }

func shopping(r *plan.Result) Shopping {
	var s Shopping
	var total int64
	priced := len(r.Shopping) > 0
	for _, p := range r.Shopping {
		line := ShoppingLine{Amount: amount(p), Fabric: plain(p.Fabric)}
		if p.Offer.Kind == plan.SoldByLength {
			line.Bolt = boltOf(r.Plan, p)
			line.Detail = joined(", ", width(r.Plan, p.Fabric), line.Bolt)
		} else {
			line.Detail = p.Offer.Size.Format(r.Plan.Unit)
			if p.Count > 1 {
				line.Detail += " each"
			}
		}
		if p.Price == nil {
			priced = false
		} else {
			total += *p.Price
			line.Price = money(r.Plan.Money, *p.Price)
		}
		s.Lines = append(s.Lines, line)
	}
	if priced {
		s.Total = money(r.Plan.Money, total)
	}
	return s
}

// width tells how wide a fabric lies on the bolt, as far as the plan knows.
func width(p *plan.Plan, fabric string) string {
	f := p.Fabric(fabric)
	switch {
	case f == nil:
		return ""
	case f.Bolt == 0:
		return fmt.Sprintf("off the bolt, %s usable", f.Usable.Format(p.Unit))
	}
	return fmt.Sprintf("off the bolt, %s wide, %s usable", f.Bolt.Format(p.Unit), f.Usable.Format(p.Unit))
}

// amount words what is bought as one asks for it.
func amount(p plan.Purchase) string {
	if p.Offer.Kind == plan.SoldByLength {
		return sold(p.Offer, p.Length)
	}
	return cuts(p.Offer.Name, p.Count)
}

func sold(o plan.Offer, l units.Length) string {
	if o.Per == units.Metre {
		return l.Metres()
	}
	return l.Yards()
}

// cuts is "2 fat quarters"; a name of the plan's own, whose plural nobody knows,
// is "2 x bundle".
func cuts(name string, n int) string {
	name = plain(name)
	if n == 1 || name == "fat quarter" || name == "fat eighth" {
		return counted(n, name)
	}
	return thousands(int64(n)) + " x " + name
}

// StashLine is cloth on hand that is cut into.
type StashLine struct {
	ID, Fabric string
	Used       int
	Size       string
	Where      string // where it lies and what is noted about it
}

func stashUsed(r *plan.Result) []StashLine {
	var out []StashLine
	for _, f := range r.Fabrics {
		used := make([]int, len(f.Stocks))
		for _, l := range f.Solution.Layouts {
			if l.Stock.Sheet != pack.FromRoll {
				used[l.Stock.Sheet] += l.Copies
			}
		}
		for i, s := range f.Stocks {
			if s.Stash == nil || used[i] == 0 {
				continue
			}
			out = append(out, StashLine{
				ID: plain(s.Stash.ID), Fabric: plain(f.Need.Fabric), Used: used[i],
				Size:  s.Stash.Size.Format(r.Plan.Unit),
				Where: joined(", ", plain(s.Stash.Where), plain(s.Stash.Note)),
			})
		}
	}
	return out
}

// joined joins the parts that are not empty.
func joined(sep string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, sep)
}

// SupplyLine is something needed that is not fabric.
type SupplyLine struct {
	Name, Amount string
}

func supplies(r *plan.Result) []SupplyLine {
	var out []SupplyLine
	for _, s := range r.Gathered.Supplies {
		var parts []string
		if s.Count > 0 {
			parts = append(parts, thousands(int64(s.Count)))
		}
		if s.Length > 0 {
			parts = append(parts, long(s.Length, r.Plan.Unit))
		}
		out = append(out, SupplyLine{Name: plain(s.Name), Amount: strings.Join(parts, " + ")})
	}
	return out
}

// long is a length for buying cord or ribbon: yards or metres beside it once it
// exceeds what one measures in inches or centimetres.
func long(l units.Length, u units.Unit) string {
	s := l.Format(u)
	switch {
	case u == units.Centimetres && l >= units.Metre:
		return s + " (" + l.RoundUp(10*units.Centimetre).Metres() + ")"
	case u == units.Inches && l >= 2*units.Yard:
		return s + " (" + l.RoundUp(units.Yard/4).Yards() + ")"
	}
	return s
}
