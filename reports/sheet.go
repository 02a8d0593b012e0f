package reports

import (
	"fmt"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// Sheet is one distinct layout with all that is printed about it. Lengths are
// measured from the lower left corner of the usable area, x across the bolt and
// y along the selvage.
type Sheet struct {
	Number int // counted over the whole plan, from 1
	Fabric string
	Cloth  string // what it is cut from: "fat quarter, 18 x 21 in"
	Copies int    // how many are cut like this
	// Raw is the cloth before squaring, W and H the usable area.
	RawW, RawH units.Length
	W, H       units.Length
	Edges      [4]Edge // left, right, bottom, top
	Direction  plan.Direction
	Pieces     []Placed
	Counts     []PieceCount // the pieces of one copy by letter
	Offcuts    []Offcut
	Waste      []pack.Rect
	Bad        []pack.Rect
	Outline    pack.Outline // the edge of cloth that is no rectangle, else nil
	// Steps are the numbers of the steps that touch the sheet, Lines the cuts in
	// the order in which they are made, Parts what is cut off and cut further.
	Steps []int
	Lines []CutLine
	Parts []PartMark
	// Knife is the number of cuts in one copy, squaring included.
	Knife int
	// Use, Kept and WastePart are percents of the raw cloth; they add up to 100.
	Use, Kept, WastePart float64

	layout pack.Layout
	kerf   units.Length
	unit   units.Unit
	// Steps that make its edges straight, and those that cut its whole cloth.
	squaring, whole []int
}

// Side names an edge of a sheet.
type Side uint8

// The sides, in the order of Sheet.Edges.
const (
	Left Side = iota
	Right
	Bottom
	Top
)

// String returns "left", "right", "bottom" or "top".
func (s Side) String() string { return [...]string{"left", "right", "bottom", "top"}[s] }

// Edge tells how one side of the cloth is made straight.
type Edge struct {
	Trim    units.Length // squared off; 0 where nothing is
	Selvage bool         // the woven edge is cut off here, beyond the raw width
}

// Placed is a piece where it lies.
type Placed struct {
	Letter string
	Turned bool
	pack.Rect
}

// PieceCount is how many of one size one copy of a sheet gives.
type PieceCount struct {
	Letter string
	Size   units.Size
	Count  int
}

// Offcut is cloth worth keeping.
type Offcut struct {
	Label string // "K1", "K2", ... over the whole plan
	pack.Rect
}

// Size is the offcut's size as the trade writes it.
func (o Offcut) Size() units.Size { return units.Size{Along: o.H, Across: o.W} }

// sheets lists the layouts of the i-th fabric, numbered from first + 1; at tells
// for every layout of the solution where among all sheets it is.
func sheets(r *plan.Result, i, first int) (out []Sheet, at []int) {
	f := &r.Fabrics[i]
	for _, l := range f.Solution.Layouts {
		at = append(at, first+len(out))
		if l.Copies > 0 {
			out = append(out, sheet(r, f, l, first+len(out)+1))
		}
	}
	return out, at
}

func sheet(r *plan.Result, f *plan.FabricResult, l pack.Layout, number int) Sheet {
	s := Sheet{
		Number: number, Fabric: plain(f.Need.Fabric), Copies: l.Copies,
		W: l.W, H: l.H, layout: l, kerf: f.Problem.Rules.Kerf, unit: r.Plan.Unit,
	}
	cloth := r.Plan.Fabric(f.Need.Fabric)
	if cloth != nil {
		s.Direction = cloth.Direction
	}
	var m pack.Margins
	var info plan.StockInfo
	selvages := 0
	if l.Stock.Sheet == pack.FromRoll {
		m, selvages = f.Problem.Roll.Squared, f.Problem.Roll.Selvages
		s.RawW, s.RawH = f.Problem.Roll.W, l.H+m.Bottom+m.Top
		info.Offer = f.Bolt(l.Stock.Length)
	} else {
		of := f.Problem.Sheets[l.Stock.Sheet]
		m, selvages = of.Squared, of.Selvages
		s.RawW, s.RawH, s.Bad, s.Outline = of.W, of.H, of.Bad, of.Outline
		info = f.Stocks[l.Stock.Sheet]
	}
	for side, trim := range []units.Length{m.Left, m.Right, m.Bottom, m.Top} {
		s.Edges[side].Trim = trim
	}
	s.markSelvages(selvages)
	s.Cloth = clothName(r.Plan.Unit, info, l)
	var used, kept units.Area
	count := map[int]int{}
	l.Walk(s.kerf, func(n *pack.Node, rect pack.Rect) {
		switch n.Leaf {
		case pack.PieceLeaf:
			s.Pieces = append(s.Pieces, Placed{f.Problem.Pieces[n.Piece].ID, n.Turned, rect})
			count[n.Piece]++
			used += units.AreaOf(rect.W, rect.H)
		case pack.OffcutLeaf:
			s.Offcuts = append(s.Offcuts, Offcut{Rect: rect})
			kept += units.AreaOf(rect.W, rect.H)
		case pack.WasteLeaf:
			s.Waste = append(s.Waste, rect)
		}
	})
	for i, p := range f.Problem.Pieces {
		if count[i] > 0 {
			s.Counts = append(s.Counts, PieceCount{p.ID, units.Size{Along: p.H, Across: p.W}, count[i]})
		}
	}
	raw := s.area()
	s.Use, s.Kept = percent(used, raw), percent(kept, raw)
	s.WastePart = 100 - s.Use - s.Kept
	s.Knife = l.CutCount()
	for _, e := range s.Edges {
		if e.Trim > 0 {
			s.Knife++
		}
		if e.Selvage {
			s.Knife++
		}
	}
	return s
}

// area is that of the raw cloth.
func (s *Sheet) area() units.Area {
	return pack.Sheet{W: s.RawW, H: s.RawH, Outline: s.Outline}.Area()
}

// label numbers the offcuts over all sheets.
func (rep *Report) label() {
	n := 0
	for i := range rep.Sheets {
		for k := range rep.Sheets[i].Offcuts {
			n++
			rep.Sheets[i].Offcuts[k].Label = fmt.Sprintf("K%d", n)
		}
	}
}

// markSelvages marks the woven edges, which lie beyond the raw width: both sides
// of cloth of the bolt's full width, else the side that is not squared.
func (s *Sheet) markSelvages(n int) {
	left := n > 1 || n == 1 && (s.Edges[Left].Trim == 0 || s.Edges[Right].Trim > 0)
	s.Edges[Left].Selvage = left
	s.Edges[Right].Selvage = n > 1 || n == 1 && !left
}

func clothName(u units.Unit, info plan.StockInfo, l pack.Layout) string {
	switch {
	case info.Stash != nil:
		name := "stash piece " + plain(info.Stash.ID) + ", " + info.Stash.Size.Format(u)
		if info.Stash.Shape != nil {
			name = "stash piece " + plain(info.Stash.ID) + ", crooked, within " + sizeSaid(info.Stash.Size, u)
		}
		return joined(", ", name, plain(info.Stash.Where))
	case info.Offer == nil:
		return "cloth"
	case info.Offer.Kind == plan.SoldByLength:
		return sold(*info.Offer, l.Stock.Length) + " off the bolt"
	}
	return plain(info.Offer.Name) + ", " + info.Offer.Size.Format(u)
}
