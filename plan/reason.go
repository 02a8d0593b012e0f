package plan

import (
	"pinfold/pack"
	"pinfold/units"
)

// Why says why less will not do.
type Why uint8

// The reasons.
const (
	// NothingToBuy: the stash holds everything.
	NothingToBuy Why = iota
	// NothingLess: every purchase costs at least as much.
	NothingLess
	// TooLittleCloth: what costs less has less cloth than the pieces alone.
	TooLittleCloth
	// RuledOut: a bound of the search rules everything cheaper out.
	RuledOut
	// NotRuledOut: nothing cheaper was found, but it is not proved.
	NotRuledOut
	// NeverEnough: all that can be had does not hold everything.
	NeverEnough
)

// Reason is why less will not do, with the figures of the proof.
type Reason struct {
	Why Why
	// Less is the purchase with the most cloth of all that cost less; nothing
	// when that is the stash alone.
	Less []Purchase
	// Pieces is the area of all pieces, Stash the usable area of the stash and
	// Cloth that of Less, all after shrinking and squaring.
	Pieces, Stash, Cloth units.Area
	// Needs, Gives and Width say the same in length when everything that is
	// bought comes off the bolt: what the pieces beyond the stash take at the
	// very least of the usable width, and what Less leaves to cut. 0 otherwise.
	Needs, Gives, Width units.Length
	// Floor is the cost below which everything is ruled out, ProvedBy the name
	// of the bound.
	Floor    int64
	ProvedBy string
}

// reason proves that less will not do, as far as it can.
func (t *trials) reason() Reason {
	s := t.f.Solution
	r := Reason{Pieces: t.all, Stash: t.home, Floor: s.Bound, ProvedBy: s.ProvedBy}
	switch {
	case s.Status == pack.Short:
		r.Why = NeverEnough
		return r
	case s.Cost == 0:
		r.Why = NothingToBuy
		return r
	}
	less, all := t.most(s.Cost - 1)
	r.Less, r.Cloth = t.purchases(less), t.cloth(less)
	if own := t.f.bought(); t.p.Roll != nil && onlyLength(own) && onlyLength(less) {
		w, _ := t.p.Roll.Usable(own.length)
		if beyond := t.all - t.home; beyond > 0 {
			r.Width, r.Needs = w, units.Length((beyond+units.Area(w)-1)/units.Area(w))
			if less.length > 0 {
				_, r.Gives = t.p.Roll.Usable(less.length)
			}
		}
	}
	switch {
	case all && less.empty() && t.home == 0:
		r.Why = NothingLess
	case all && t.all > t.home+r.Cloth:
		r.Why = TooLittleCloth
	case s.Status == pack.Proved:
		r.Why = RuledOut
	default:
		r.Why = NotRuledOut
	}
	return r
}

func onlyLength(b basket) bool {
	return basket{cuts: b.cuts}.empty()
}
