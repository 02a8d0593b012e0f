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
