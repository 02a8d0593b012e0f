package reports

import (
	"fmt"
	"math/big"
	"slices"

	"pinfold/plan"
	"pinfold/units"
)

// why says why less will not do, as a sentence built from the proof.
func (w shopWords) why(f *plan.FabricResult, r plan.Reason) string {
	less := asks(shopLines(w.p, r.Less))
	switch r.Why {
	case plan.NothingToBuy:
		return "The stash holds every piece."
	case plan.NothingLess:
		return "Nothing less is sold."
	case plan.NeverEnough:
		return "All that can be had does not hold the pieces."
	case plan.TooLittleCloth:
		if r.Needs > 0 {
			return w.lengthAlone(r, less) + "."
		}
		return w.areaAlone(f, r, less)
	case plan.RuledOut:
		s := "Proved: nothing for less holds every piece"
		if !f.Priced {
			s = "Proved: no less cloth holds every piece"
		}
		if r.ProvedBy != "" {
			s += " (" + plain(r.ProvedBy) + ")"
		}
		if r.Needs > 0 && r.Gives > 0 {
			return s + ". " + w.lengthAlone(r, less) + ", and the rest cannot take up the waste."
		}
		return s + "."
	}
	return fmt.Sprintf("Not proved: %s is the least found. Below %s nothing can do.", w.worth(f, f.Solution.Cost), w.worth(f, r.Floor))
}

// lengthAlone compares lengths: what the pieces take of the width at the very
// least, and what the next shorter length gives.
func (w shopWords) lengthAlone(r plan.Reason, less string) string {
	needs, gives := apart(r.Needs, r.Gives, w.p.Unit)
	what := "The pieces alone need"
	if r.Stash > 0 {
		what = "Beyond the stash the pieces alone need"
	}
	s := fmt.Sprintf("%s %s of %s width", what, needs, about(r.Width, w.p.Unit))
	if r.Gives > 0 {
		s += fmt.Sprintf("; %s leaves %s to cut", less, gives)
	}
	return s
}

func (w shopWords) areaAlone(f *plan.FabricResult, r plan.Reason, less string) string {
	u := w.p.Unit
	s := fmt.Sprintf("The pieces alone cover %s; ", r.Pieces.Format(u))
	switch {
	case len(r.Less) == 0:
		return s + fmt.Sprintf("the stash alone has %s.", r.Stash.Format(u))
	case r.Stash > 0:
		less += " and the stash have"
	case len(r.Less) == 1 && r.Less[0].Count < 2:
		less += " has"
	default:
		less += " have"
	}
	goal := "for less money"
	if !f.Priced {
		goal = "that is less"
	}
	return s + fmt.Sprintf("%s %s, and nothing %s has more.", less, (r.Stash+r.Cloth).Format(u), goal)
}

// apart prints two lengths with as many decimals as it takes to tell them
// apart: the first rounded down and the second up, so that neither says too
// much.
func apart(more, less units.Length, u units.Unit) (string, string) {
	for places := 1; places < 4; places++ {
		step := int64(10)
		for range places - 1 {
			step *= 10
		}
		a := int64(more) * step / int64(u.Length())
		b := (int64(less)*step + int64(u.Length()) - 1) / int64(u.Length())
		if a > b || more <= less || places == 3 {
			return hundredth(a, step, places, u), hundredth(b, step, places, u)
		}
	}
	return more.Format(u), less.Format(u)
}

// hundredth prints n / step with its unit, without needless noughts.
func hundredth(n, step int64, places int, u units.Unit) string {
	if n%step == 0 {
		return fmt.Sprintf("%d %s", n/step, u)
	}
	return big.NewRat(n, step).FloatString(places) + " " + u.String()
}

// about is a length as it is printed exactly, or else down to the grid.
func about(l units.Length, u units.Unit) string {
	if l%u.Grid() == 0 {
		return l.Format(u)
	}
	return l.RoundDown(units.Inch / 64).RoundDown(u.Grid()).Format(u)
}

// holds words down to which measures the purchase is enough.
func (w shopWords) holds(hs []plan.Hold) []string {
	var out []string
	u := w.p.Unit
	for _, h := range hs {
		var s string
		switch {
		case h.Offer.Kind == plan.SoldByLength:
			s = "holds down to a usable width of " + h.Down.Format(u)
		case h.Along:
			s = fmt.Sprintf("holds down to a %s %s along", plain(h.Offer.Name), h.Down.Format(u))
		default:
			s = fmt.Sprintf("holds down to a %s %s across", plain(h.Offer.Name), h.Down.Format(u))
		}
		switch {
		case h.Exact(plan.HoldStep(u)):
			s += ", not below"
		case h.Down == h.Promised && h.Fails > 0:
			s += fmt.Sprintf(", as promised; no less was found to do, %s is proved too little", h.Fails.Format(u))
		case h.Fails > 0:
			s += fmt.Sprintf("; %s is proved too little", h.Fails.Format(u))
		}
		out = append(out, s)
	}
	return out
}

// changed says what assumptions change against the plan as it is written.
func (w shopWords) changed(s *plan.Shop, before *plan.Result, changes []string) []string {
	if before == nil {
		return nil
	}
	var out []string
	for _, c := range changes {
		out = append(out, plain(c))
	}
	old := map[string][]plan.Purchase{}
	price := int64(0)
	for _, b := range before.Shopping {
		old[b.Fabric] = append(old[b.Fabric], b)
		if b.Price != nil {
			price += *b.Price
		}
	}
	same := true
	for i, c := range s.Counters {
		name := s.Result.Fabrics[i].Need.Fabric
		was, is := asks(shopLines(w.p, old[name])), asks(shopLines(w.p, c.Answer.Purchases))
		if was != is {
			same = false
			out = append(out, fmt.Sprintf("%s: %s instead of %s", plain(name), is, was))
		}
	}
	for _, b := range before.Shopping {
		unused := !slices.ContainsFunc(s.Result.Fabrics, func(f plan.FabricResult) bool { return f.Need.Fabric == b.Fabric })
		if was, first := old[b.Fabric]; first && unused {
			same = false
			out = append(out, fmt.Sprintf("%s: nothing instead of %s", plain(b.Fabric), asks(shopLines(w.p, was))))
			delete(old, b.Fabric)
		}
	}
	was := splits(before)
	for i, is := range splits(s.Result) {
		if is != was[i] {
			out = append(out, "divided anew: "+is)
		}
	}
	switch {
	case same:
		out = append(out, "the same is bought as without the change")
	case s.Price > price:
		out = append(out, "in all "+money(w.p.Money, s.Price-price)+" more")
	case s.Price < price:
		out = append(out, "in all "+money(w.p.Money, price-s.Price)+" less")
	}
	return out
}

// ShopBudget is what a budget buys, worded.
type ShopBudget struct {
	Limit, Spent string
	Fits         bool
	Says         string
	Buys         []string // fabric by fabric, when it does not fit
	Missing      []string
}

func (w shopWords) budget(s *plan.Shop) *ShopBudget {
	b := s.Budget
	if b == nil {
		return nil
	}
	m := func(v int64) string { return money(w.p.Money, v) }
	out := &ShopBudget{Limit: m(b.Limit), Spent: m(b.Spent), Fits: b.Fits}
	divided := ""
	if len(s.Result.Gathered.Splits) > 0 {
		divided = ", with the fabrics divided as they are"
	}
	switch {
	case b.Fits:
		out.Says = fmt.Sprintf("The budget of %s leaves %s.", m(b.Limit), m(b.Limit-s.Price))
		return out
	case b.Proved:
		out.Says = fmt.Sprintf("The budget of %s does not buy everything: that takes at least %s%s, and %s was found.", m(b.Limit), m(b.Least), divided, m(s.Price))
	default:
		out.Says = fmt.Sprintf("The budget of %s is %s short of what was found; that everything takes more than %s is proved%s, no more.", m(b.Limit), m(s.Price-b.Limit), m(b.Least-1), divided)
	}
	out.Says += fmt.Sprintf(" In the plan's order it buys for %s:", m(b.Spent))
	for _, c := range b.Bought {
		line := plain(c.Cut.Need.Fabric) + ": " + asks(shopLines(w.p, c.Purchases))
		if c.Cut.Priced && c.Cost > 0 {
			line += ", " + m(c.Cost)
		}
		out.Buys = append(out.Buys, line)
		out.Missing = append(out.Missing, w.missing(&c.Cut)...)
	}
	return out
}
