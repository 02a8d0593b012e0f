package plan

import (
	"pinfold/pack"
	"pinfold/units"
)

// ScrapArea is up to what usable area a piece of the stash is a scrap: about a fat
// eighth of a yard, 9 x 22 in. What is larger is stash yardage.
const ScrapArea = 200 * units.SquareInch

// scrap tells whether a sheet of stash is one of the bin's.
func scrap(sheet pack.Sheet) bool { return sheet.UsableArea() <= ScrapArea }

// Bin is what a plan does with the scraps of the stash, each as often as there
// are pieces of it.
type Bin struct {
	// Scraps is how many there are of the fabrics that the plan needs, Cut how many
	// of these are cut.
	Scraps, Cut int
	// Need is the area of all pieces, Used that of the pieces cut from scraps, and
	// Most what no plan can use more than; Most is 0 unless scraps go first.
	Need, Used, Most units.Area
	// LetGo are the scraps, of any fabric, in which no piece of the plan fits, of
	// any fabric. Left are the others of the plan's fabrics that are not cut.
	LetGo, Left []StashPiece
}

// Bin returns what the result does with the scraps of the stash.
func (r *Result) Bin() Bin {
	var b Bin
	p := r.Plan
	cut := map[*StashPiece]int{}
	needed := map[string]bool{}
	var pieces []pack.Piece
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		needed[f.Need.Fabric] = true
		b.Most += f.Solution.MostScraps
		for _, q := range f.Problem.Pieces {
			q.Turn = true
			pieces = append(pieces, q)
			b.Need += units.Area(q.Demand) * units.AreaOf(q.W, q.H)
		}
		for _, l := range f.Solution.Layouts {
			if l.Stock.Sheet == pack.FromRoll || f.Stocks[l.Stock.Sheet].Stash == nil || !scrap(f.Problem.Sheets[l.Stock.Sheet]) {
				continue
			}
			cut[f.Stocks[l.Stock.Sheet].Stash] += l.Copies
			for _, q := range l.Placements(f.Problem.Rules.Kerf) {
				b.Used += units.Area(l.Copies) * units.AreaOf(q.W, q.H)
			}
		}
	}
	for i := range p.Stash {
		piece := &p.Stash[i]
		sheet := stashSheet(piece, p.Cutting.Squaring)
		if piece.KeptWhole() || !scrap(sheet) {
			continue
		}
		left := *piece
		left.Count -= cut[piece]
		if needed[piece.Fabric] {
			b.Scraps += piece.Count
			b.Cut += cut[piece]
		}
		switch {
		case left.Count <= 0:
		case !sheet.HoldsAny(pieces):
			b.LetGo = append(b.LetGo, left)
		case needed[piece.Fabric]:
			b.Left = append(b.Left, left)
		}
	}
	return b
}
