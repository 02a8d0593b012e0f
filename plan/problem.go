package plan

import (
	"errors"
	"fmt"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// FabricProblem states the cutting of one fabric for package pack. stocks tells
// for each of the problem's sheets which stash piece or offer it is, bolts for
// each of the terms of its roll which offer they are; both point into p.
//
// Bought cloth is as wide and long as sold, each times one less the shrinkage
// and rounded down to a tick, then squared: always at both ends, which the
// counter cut, and at long sides that are no selvage. Stash counts as washed
// and is squared on all sides unless it was already, or unless it has a shape, which
// is measured on sound cloth. What squaring uses up whole
// and what is sold out is left out. Several offers by length are one roll, of
// which one length is bought on the terms of one of them.
func FabricProblem(p *Plan, need FabricNeed) (problem pack.Problem, stocks, bolts []StockInfo, err error) {
	f := p.Fabric(need.Fabric)
	if f == nil {
		return pack.Problem{}, nil, nil, fmt.Errorf("plan: fabric %q is not defined", need.Fabric)
	}
	s := stockOf(p, f)
	problem = pack.Problem{
		Sheets: s.sheets,
		Roll:   s.roll,
		Rules: pack.Rules{
			Kerf:   p.Cutting.Kerf,
			Stages: p.Cutting.Stages,
			Keep:   p.Cutting.Keep,
			Layers: p.Cutting.Layers,
			Ruler:  p.Cutting.Ruler,
			Flat:   f.Direction == OneWay,
		},
		Goal:  pack.LeastArea,
		UseUp: p.Cutting.BinFirst,
	}
	if len(f.Buy) > 0 && f.Buy[0].Price != nil {
		problem.Goal = pack.LeastPrice
	}
	for _, n := range need.Sizes {
		problem.Pieces = append(problem.Pieces, pack.Piece{
			ID: n.ID, W: n.Size.Across, H: n.Size.Along, Demand: n.Count + n.Spare, Turn: n.Turn,
		})
	}
	if err := errors.Join(problem.Validate(), problem.Countable()); err != nil {
		return pack.Problem{}, nil, nil, fmt.Errorf("plan: fabric %q: %w", need.Fabric, err)
	}
	return problem, s.infos, s.bolts, nil
}

// stock is everything one fabric can be cut from.
type stock struct {
	sheets  []pack.Sheet
	infos   []StockInfo // of the sheets
	roll    *pack.Roll
	bolts   []StockInfo // of the roll's terms
	ids     map[string]bool
	soldOut bool // an offer was left out because none is available
}

func stockOf(p *Plan, f *Fabric) stock {
	s := stock{ids: map[string]bool{}}
	for i := range p.Stash {
		if p.Stash[i].Fabric == f.Name && !p.Stash[i].KeptWhole() {
			s.addStash(&p.Stash[i], p.Cutting.Squaring)
		}
	}
	for i := range f.Buy {
		if f.Buy[i].Kind == SoldCut {
			s.addCut(f, &f.Buy[i], p.Cutting.Squaring)
		}
	}
	for i := range f.Buy {
		if f.Buy[i].Kind == SoldByLength {
			s.addBolt(f, &f.Buy[i], p.Cutting.Squaring)
		}
	}
	return s
}

// KeptWhole tells whether the piece's note asks for it to be kept whole: then it
// is not cut.
func (s StashPiece) KeptWhole() bool {
	return strings.Contains(strings.ToLower(s.Note), "keep whole")
}

func (s *stock) addStash(piece *StashPiece, squaring units.Length) {
	s.add(stashSheet(piece, squaring), StockInfo{Stash: piece})
}

func stashSheet(piece *StashPiece, squaring units.Length) pack.Sheet {
	sheet := pack.Sheet{
		ID: piece.ID, W: piece.Size.Across, H: piece.Size.Along,
		Copies: piece.Count, Free: true,
	}
	if piece.Shape != nil {
		sheet.Outline = piece.Shape
	} else if !piece.Squared {
		sheet.Squared = pack.Margins{Left: squaring, Right: squaring, Bottom: squaring, Top: squaring}
	}
	w, h := sheet.Usable()
	for _, b := range piece.Bad {
		if r, ok := clip(b, sheet.Squared, w, h); ok {
			sheet.Bad = append(sheet.Bad, r)
		}
	}
	sheet.Scrap = scrap(sheet)
	return sheet
}

// clip returns the part of a bad area that lies in the usable area of w x h, in
// the usable area's coordinates.
func clip(b Bad, m pack.Margins, w, h units.Length) (pack.Rect, bool) {
	x, y := max(b.X-m.Left, 0), max(b.Y-m.Bottom, 0)
	r := pack.Rect{
		X: x, Y: y,
		W: min(b.X+b.W-m.Left, w) - x,
		H: min(b.Y+b.H-m.Bottom, h) - y,
	}
	return r, r.W > 0 && r.H > 0
}

func (s *stock) addCut(f *Fabric, o *Offer, squaring units.Length) {
	sheet := pack.Sheet{
		ID:      o.Name,
		W:       shrunk(o.Size.Across, f.ShrinksWidth),
		H:       shrunk(o.Size.Along, f.ShrinksLength),
		Squared: pack.Margins{Bottom: squaring, Top: squaring},
		// A long side that is no raw edge is a selvage.
		Selvages: 2 - o.RawSides,
		Copies:   o.Available,
	}
	if o.RawSides > 0 {
		sheet.Squared.Right = squaring
	}
	if o.RawSides > 1 {
		sheet.Squared.Left = squaring
	}
	if o.Price != nil {
		sheet.Price = *o.Price
	}
	s.add(sheet, StockInfo{Offer: o})
}

// addBolt adds an offer by length: the first is the roll, the others are on what
// other terms it is sold.
func (s *stock) addBolt(f *Fabric, o *Offer, squaring units.Length) {
	t := pack.Terms{ID: s.id(o.Name), Step: o.Step, Least: o.Least, Most: o.Most, Per: o.Per}
	if o.Price != nil {
		t.Price = *o.Price
	}
	s.bolts = append(s.bolts, StockInfo{Offer: o})
	if s.roll != nil {
		s.roll.Also = append(s.roll.Also, t)
		return
	}
	s.roll = &pack.Roll{
		ID:       t.ID,
		W:        shrunk(f.Usable, f.ShrinksWidth),
		Squared:  pack.Margins{Bottom: squaring, Top: squaring},
		Selvages: 2,
		Step:     t.Step, Least: t.Least, Most: t.Most,
		Price: t.Price, Per: t.Per,
		Shrinks: f.ShrinksLength,
	}
}

func (s *stock) add(sheet pack.Sheet, info StockInfo) {
	if w, h := sheet.Usable(); w <= 0 || h <= 0 {
		return
	}
	if sheet.Copies == 0 {
		s.soldOut = true
		return
	}
	sheet.ID = s.id(sheet.ID)
	s.sheets = append(s.sheets, sheet)
	s.infos = append(s.infos, info)
}

// id makes name an id that no other stock of the fabric has.
func (s *stock) id(name string) string {
	id := name
	for n := 2; s.ids[id]; n++ {
		id = fmt.Sprintf("%s (%d)", name, n)
	}
	s.ids[id] = true
	return id
}

// shrunk returns what is left of l, rounded down to a tick; by is in hundredths
// of a percent.
func shrunk(l units.Length, by int) units.Length {
	return l * units.Length(10000-by) / 10000
}

// fits tells whether one piece fits the largest cloth that can be had, bad
// areas left out of account.
func (s stock) fits(size units.Size, turn bool) bool {
	fit := func(w, h units.Length) bool {
		return size.Across <= w && size.Along <= h || turn && size.Along <= w && size.Across <= h
	}
	for _, sheet := range s.sheets {
		if w, h := sheet.Usable(); fit(w, h) {
			return true
		}
	}
	if s.roll == nil {
		return false
	}
	w, _ := s.roll.Usable(0)
	for _, h := range []units.Length{size.Along, size.Across} {
		if _, ok := s.roll.Length(h); ok && fit(w, h) {
			return true
		}
	}
	return false
}
