package pack

import (
	"fmt"

	"pinfold/units"
)

// Problem is one cutting task: the pieces wanted and everything they may be cut
// from. The zero value has nothing to cut. All lengths are in ticks; x runs
// across the bolt and y along the selvage.
type Problem struct {
	Pieces []Piece
	Sheets []Sheet
	// Roll is cloth sold by length, off one bolt or any of several; nil when there
	// is none. At most one length is taken: off one bolt it is never worse than two.
	Roll *Roll
	// Rules hold for every cut.
	Rules Rules
	// Goal says what is made least.
	Goal Goal
	// UseUp puts another goal before Goal: as much of the pieces' area as can be is
	// cut from the sheets marked as scraps, the small ones first.
	UseUp bool
}

// Rules are the limits every layout keeps.
type Rules struct {
	// Kerf is the width a cut destroys; 0 for a rotary cutter.
	Kerf units.Length
	// Stages limits how often the direction of cutting changes on one sheet: 0
	// is no limit, 2 is strips and sub-cuts. A last cut that only trims a piece
	// to size does not count (the non-exact case of the literature).
	Stages int
	// Keep is the smallest offcut worth keeping, in either direction; what a
	// layout leaves that is smaller is waste. Zero keeps everything.
	Keep units.Size
	// Layers is how many layers of cloth may lie under one pass of the cutter; 0
	// counts as 1. Ruler is the longest cut that one lay of the ruler guides, 0
	// for no limit. Flat cloth is never folded: a fold would turn the lower
	// layer's print round. These three count passes; they forbid no layout.
	Layers int
	Ruler  units.Length
	Flat   bool
}

// Goal is the first thing a solution makes least.
type Goal uint8

// The goals. LeastPrice needs prices on everything that is bought; LeastArea
// counts the cloth bought, free sheets counting nothing.
const (
	LeastPrice Goal = iota
	LeastArea
)

// Piece is one size to cut.
type Piece struct {
	ID     string
	W, H   units.Length // across the bolt, along the selvage
	Demand int
	// Turn tells whether the piece may be cut with W along the selvage.
	Turn bool
	// Value is what one piece is worth to [Fill]; 0 means its area. [Solve]
	// ignores it.
	Value int64
}

// Sheet is a rectangle of cloth that can be had, Copies times at most.
type Sheet struct {
	ID string
	// W and H are the whole cloth's measures before squaring.
	W, H units.Length
	// Squared is trimmed off each side before the first cut.
	Squared Margins
	// Selvages is how many woven edges, outside W, are cut off as well; they
	// count as passes only.
	Selvages int
	// Copies is how many there are; Unlimited for as many as wanted.
	Copies int
	// Price is the price of one, in the smallest coin. 0 is free.
	Price int64
	// Free marks cloth at hand: it costs nothing under either goal.
	Free bool
	// Scrap marks cloth at hand that [Problem.UseUp] uses up first.
	Scrap bool
	// Bad areas, in the coordinates of the usable area, hold no piece and no
	// offcut.
	Bad []Rect
	// Outline, if the cloth is no rectangle, is its edge: the usable area is the
	// smallest rectangle around it, at 0, 0, and nothing is squared off.
	Outline Outline
}

// Unlimited as Sheet.Copies means as many as wanted.
const Unlimited = -1

// Margins are the widths trimmed off a sheet's sides.
type Margins struct {
	Left, Right, Bottom, Top units.Length
}

// Usable returns the measures left after squaring; one is 0 or less when
// nothing is left.
func (s Sheet) Usable() (w, h units.Length) {
	return s.W - s.Squared.Left - s.Squared.Right, s.H - s.Squared.Bottom - s.Squared.Top
}

// shaped tells what is wrong with the outline.
func (s Sheet) shaped() error {
	if err := s.Outline.Validate(); err != nil {
		return err
	}
	if s.Squared != (Margins{}) || s.Selvages != 0 || s.Outline.Box() != (Rect{0, 0, s.W, s.H}) {
		return fmt.Errorf("a shape is not squared and fills the %v x %v around it", s.H, s.W)
	}
	return nil
}

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

// MaxDemand bounds the copies of one piece and MaxPieces the copies in all.
const (
	MaxDemand = 1_000_000
	MaxPieces = 10_000_000
)

// Validate tells the first thing that makes the problem meaningless: a negative
// or zero measure, a repeated name, a demand out of range. A piece that fits
// nothing is no error; [Solve] reports it as missing.
func (p Problem) Validate() error {
	seen := map[string]bool{}
	total := 0
	for _, q := range p.Pieces {
		switch {
		case seen[q.ID]:
			return fmt.Errorf("pack: piece %q is listed twice", q.ID)
		case q.W <= 0 || q.H <= 0 || q.W > units.MaxLength || q.H > units.MaxLength:
			return fmt.Errorf("pack: piece %q measures %v x %v", q.ID, q.H, q.W)
		case q.Demand < 0 || q.Demand > MaxDemand:
			return fmt.Errorf("pack: piece %q is wanted %d times, the most is %d", q.ID, q.Demand, MaxDemand)
		case q.Value < 0:
			return fmt.Errorf("pack: piece %q has a negative value", q.ID)
		}
		seen[q.ID] = true
		if total += q.Demand; total > MaxPieces {
			return fmt.Errorf("pack: more than %d pieces in all", MaxPieces)
		}
	}
	clear(seen)
	for _, s := range p.Sheets {
		switch {
		case seen[s.ID]:
			return fmt.Errorf("pack: sheet %q is listed twice", s.ID)
		case s.W <= 0 || s.H <= 0 || s.W > units.MaxLength || s.H > units.MaxLength:
			return fmt.Errorf("pack: sheet %q measures %v x %v", s.ID, s.H, s.W)
		case s.Copies < Unlimited:
			return fmt.Errorf("pack: sheet %q has %d copies", s.ID, s.Copies)
		case s.Price < 0:
			return fmt.Errorf("pack: sheet %q has a negative price", s.ID)
		case s.Squared.negative():
			return fmt.Errorf("pack: sheet %q is squared by a negative width", s.ID)
		case s.Outline != nil:
			if err := s.shaped(); err != nil {
				return fmt.Errorf("pack: sheet %q: %w", s.ID, err)
			}
		}
		seen[s.ID] = true
	}
	if p.Rules.Kerf < 0 || p.Rules.Stages < 0 || p.Rules.Layers < 0 || p.Rules.Ruler < 0 {
		return fmt.Errorf("pack: negative kerf, stages, layers or ruler")
	}
	if p.Roll == nil {
		return nil
	}
	for _, b := range p.Roll.Bolts() {
		if err := b.validate(); err != nil {
			return err
		}
	}
	return nil
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

func (m Margins) negative() bool {
	return m.Left < 0 || m.Right < 0 || m.Bottom < 0 || m.Top < 0
}
