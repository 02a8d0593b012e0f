package pack

import (
	"math"
	"slices"

	"pinfold/units"
)

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
