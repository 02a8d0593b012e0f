package plan

import (
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// Gathered is everything a plan needs, before anything is cut.
type Gathered struct {
	Fabrics  []FabricNeed // in the order of the plan's fabrics, unused ones left out
	Supplies []Supply     // totals over the whole list
	// Splits tells how roles with a list of fabrics are divided, order by order;
	// nil when there are none.
	Splits []Split
	// Ornaments is how many ornaments are made; Pieces and Spares how many
	// pieces and bands are needed, and cut in addition.
	Ornaments, Pieces, Spares int
}

// FabricNeed is all that is cut from one fabric.
type FabricNeed struct {
	Fabric string
	Sizes  []Need // largest area first
}

// Need is one size of one fabric.
type Need struct {
	// ID is the letter that names the size all over the plan ("A", "B", ...);
	// the same size has the same letter in every fabric.
	ID    string
	Size  units.Size
	Turn  bool // whether the fabric lets it be turned
	Count int  // needed by the ornaments
	Spare int  // cut in addition
	Uses  []Use
}

// Use is where a need comes from.
type Use struct {
	Ornament string
	Piece    string // the round's name, or "band"
	Count    int
}

// Result is a plan with its answer.
type Result struct {
	Plan     *Plan
	Gathered *Gathered
	Fabrics  []FabricResult
	Shopping []Purchase
	Warnings []string
	Seed     uint64
	Effort   pack.Effort
	// Stopped is set when the search was cut short by the clock or the user.
	Stopped bool
	// Passes is how often the cutter runs in the whole plan, as Session tells it.
	Passes  int
	Session pack.Session
}

// Uses tells whether an order of the plan, by index, is cut from a fabric.
func (r *Result) Uses(order int, fabric string) bool {
	return slices.ContainsFunc(r.Plan.lots(order, r.Gathered.Splits), func(l lot) bool { return l.fabric == fabric })
}

// FabricResult is the answer for one fabric.
type FabricResult struct {
	Need     FabricNeed
	Problem  pack.Problem
	Solution pack.Solution
	// Stocks describes the problem's sheets, entry by entry.
	Stocks []StockInfo
	// Bolts describes the terms of the problem's roll, if it has one.
	Bolts []StockInfo
	// Priced tells whether money was the goal; else the area bought was.
	Priced bool
	Passes int // this fabric cut alone
}

// Bolt returns the offer by which a length is bought: the cheapest that sells it;
// nil when none does.
func (f *FabricResult) Bolt(length units.Length) *Offer {
	if f.Problem.Roll == nil || len(f.Bolts) == 0 {
		return nil
	}
	i, sold := f.Problem.Roll.Sold(length)
	if !sold {
		return nil
	}
	return f.Bolts[i].Offer
}

// StockInfo ties a sheet of a problem to the stash piece or the offer it is.
type StockInfo struct {
	Stash *StashPiece // nil for bought cloth
	Offer *Offer      // nil for stash
}

// Purchase is one line of the shopping list.
type Purchase struct {
	Fabric string
	Offer  Offer
	Count  int          // how many cuts, for SoldCut
	Length units.Length // how long, for SoldByLength
	Price  *int64       // for the whole line; nil when not priced
}
