package pack

import (
	"slices"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// HoldsAny tells whether the sheet has room for one of the pieces. Along a slanted
// edge the answer may be yes where it is a matter of a hair's breadth.
func (s Sheet) HoldsAny(pieces []Piece) bool {
	if w, h := s.Usable(); w <= 0 || h <= 0 {
		return false
	}
	for _, q := range pieces {
		// One piece at a time: its own grid is coarse.
		q.ID, q.Demand = "piece", 1
		s.Copies, s.ID = 1, "sheet"
		sc, err := newScaled(Problem{Pieces: []Piece{q}, Sheets: []Sheet{s}}, nil)
		if err != nil {
			return true
		}
		m := sc.limits()
		if slices.ContainsFunc(m.Stocks, func(st model.Stock) bool { return dp.Holds(st, m.Items[0]) }) {
			return true
		}
	}
	return false
}
