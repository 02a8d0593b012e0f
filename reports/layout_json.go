package reports

import (
	"pinfold/pack"
	"pinfold/units"
)

// LayoutJSON returns one layout of a problem's sheet as a value for
// encoding/json, in the form that a sheet has in result.json.
func LayoutJSON(p pack.Problem, l pack.Layout) any {
	sheet, kerf := p.Sheets[l.Stock.Sheet], p.Rules.Kerf
	m := sheet.Squared
	out := sheetJSON{
		ID: sheet.ID, Stock: stockJSON{Kind: "cut", ID: sheet.ID}, Width: l.W, Height: l.H, Copies: l.Copies,
		Raw: [2]units.Length{sheet.W, sheet.H}, Squared: [4]units.Length{m.Left, m.Right, m.Bottom, m.Top},
		Bad: [][4]units.Length{}, Placements: []placementJSON{}, Offcuts: []offcutJSON{},
		Cuts: treeJSON(l.Cuts, p.Pieces),
	}
	for _, q := range sheet.Forbidden(l, kerf) {
		out.Bad = append(out.Bad, [4]units.Length{q.X, q.Y, q.W, q.H})
	}
	for _, q := range l.Placements(kerf) {
		out.Placements = append(out.Placements, placementJSON{p.Pieces[q.Piece].ID, q.X, q.Y, q.W, q.H, q.Turned})
	}
	for _, q := range l.Offcuts(kerf) {
		out.Offcuts = append(out.Offcuts, offcutJSON{q.X, q.Y, q.W, q.H})
	}
	return out
}
