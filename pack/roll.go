package pack

import (
	"fmt"
	"math"
	"slices"

	"pinfold/units"
)

// Roll is cloth of fixed width sold by length. A bought length L gives a usable
// sheet as wide as W less the squared sides and as high as L less what it
// shrinks by (rounded down to a tick) and the squared ends.
type Roll struct {
	ID string
	W  units.Length
	// Squared is trimmed off the bought length before the first cut.
	Squared  Margins
	Selvages int // as in [Sheet]
	// Step is the counter's step, Least the shortest length sold (Step if 0) and
	// Most the longest (0 for no limit).
	Step, Least, Most units.Length
	// Price is the price of the length Per, in the smallest coin; a bought
	// length's price is rounded half up.
	Price int64
	Per   units.Length
	// Shrinks is the loss of length in hundredths of a percent.
	Shrinks int
	// Also lists other terms on which the same cloth is sold, from other bolts;
	// the length is bought on one of them.
	Also []Terms
}

// Usable returns the usable measures of a bought length.
func (r Roll) Usable(bought units.Length) (w, h units.Length) {
	left := bought - (bought*units.Length(r.Shrinks)+9999)/10000
	return r.W - r.Squared.Left - r.Squared.Right, left - r.Squared.Bottom - r.Squared.Top
}

// Cost returns the price of a bought length, rounded half up: on the cheapest of
// the terms that sell it, if there are several.
func (r Roll) Cost(bought units.Length) int64 {
	if len(r.Also) > 0 {
		i, _ := r.Sold(bought)
		return r.Bolts()[i].Cost(bought)
	}
	if r.Per == 0 {
		return 0
	}
	whole, rest := bought/r.Per, bought%r.Per
	return int64(whole)*r.Price + (2*int64(rest)*r.Price+int64(r.Per))/(2*int64(r.Per))
}

// Length returns the shortest length that can be bought and leaves at least
// usable, or false when no bolt holds it.
func (r Roll) Length(usable units.Length) (best units.Length, ok bool) {
	if len(r.Also) > 0 {
		for _, b := range r.Bolts() {
			if l, has := b.Length(usable); has && (!ok || l < best) {
				best, ok = l, true
			}
		}
		return best, ok
	}
	need := usable + r.Squared.Bottom + r.Squared.Top
	bought := (need * 10000 / units.Length(10000-r.Shrinks)).RoundDown(r.Step)
	bought = max(bought, r.Least.RoundUp(r.Step), r.Step)
	for {
		if r.Most > 0 && bought > r.Most {
			return 0, false
		}
		if _, h := r.Usable(bought); h >= usable {
			return bought, true
		}
		bought += r.Step
	}
}

func (r Roll) validate() error {
	switch {
	case r.W <= 0 || r.W > units.MaxLength || r.Step <= 0:
		return fmt.Errorf("pack: roll %q is %v wide and sold in steps of %v", r.ID, r.W, r.Step)
	case r.Least < 0 || r.Most < 0 || r.Most > units.MaxLength || r.Price < 0 || r.Per < 0 || r.Squared.negative():
		return fmt.Errorf("pack: roll %q has a negative measure or price", r.ID)
	case r.Shrinks < 0 || r.Shrinks >= 10000:
		return fmt.Errorf("pack: roll %q shrinks by %d hundredths of a percent", r.ID, r.Shrinks)
	}
	return nil
}

// Terms are on what terms lengths of a roll are sold; see [Roll] for the fields.
type Terms struct {
	ID                string
	Step, Least, Most units.Length
	Price             int64
	Per               units.Length
}

// Bolts returns the roll once for each of its terms, its own first.
func (r Roll) Bolts() []Roll {
	also := r.Also
	r.Also = nil
	out := []Roll{r}
	for _, t := range also {
		r.ID, r.Step, r.Least, r.Most, r.Price, r.Per = t.ID, t.Step, t.Least, t.Most, t.Price, t.Per
		out = append(out, r)
	}
	return out
}

// First returns the shortest length longer than past that is sold on the roll's
// own terms, or false when there is none.
func (r Roll) First(past units.Length) (units.Length, bool) {
	l := max((past/r.Step+1)*r.Step, r.Least.RoundUp(r.Step))
	return l, r.Most == 0 || l <= r.Most
}

// sold tells whether any length is sold on the roll's own terms: none is when the
// steps pass over what lies between the least and the most.
func (r Roll) sold() bool {
	_, ok := r.First(0)
	return ok
}

// Sold returns by which of the terms, as [Roll.Bolts] lists them, a length is
// cheapest, the first of equals; false when none sells it.
func (r Roll) Sold(bought units.Length) (int, bool) {
	best, least := -1, int64(math.MaxInt64)
	for i, b := range r.Bolts() {
		if c := b.Cost(bought); b.sells(bought) && c < least {
			best, least = i, c
		}
	}
	return max(best, 0), best >= 0
}

// sells tells whether a length is sold on the roll's own terms.
func (r Roll) sells(l units.Length) bool {
	return l > 0 && l%r.Step == 0 && l >= r.Least && (r.Most == 0 || l <= r.Most)
}

// covers tells whether whatever length q sells, r sells for no more.
func (r Roll) covers(q Roll, goal Goal) bool {
	first, ok := q.First(0)
	switch {
	case !ok:
		return true
	case q.Step%r.Step != 0 || r.Least > first || r.Most > 0 && (q.Most == 0 || q.Most > r.Most):
		return false
	case goal == LeastArea || r.Per == 0:
		return true
	case q.Per == 0:
		return r.Price == 0
	}
	return r.Price*int64(q.Per) <= q.Price*int64(r.Per)
}

// worth lists the bolts one of which is the best choice.
func (r Roll) worth(goal Goal) []Roll {
	var out []Roll
	for _, b := range r.Bolts() {
		if slices.ContainsFunc(out, func(o Roll) bool { return o.covers(b, goal) }) {
			continue
		}
		out = append(slices.DeleteFunc(out, func(o Roll) bool { return b.covers(o, goal) }), b)
	}
	return out
}
