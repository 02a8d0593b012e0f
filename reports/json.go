package reports

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// WriteJSON writes the result for other programs: one top-level key a line, one
// sheet a line, the hash of everything above it last (see the package's text).
func (r *Report) WriteJSON(w io.Writer) error {
	_, err := r.hashed(w)
	return err
}

// hashed writes the result and returns its hash.
func (r *Report) hashed(w io.Writer) (string, error) {
	sum := sha256.New()
	b := bufio.NewWriter(io.MultiWriter(w, sum))
	res := r.result
	key := keysTo(b)
	b.WriteString("{\n")
	err := firstOf(
		key("schema", Schema),
		key("ticks_per_inch", units.Inch),
		key("title", res.Plan.Title),
		key("unit", res.Plan.Unit.String()),
		key("seed", res.Seed),
		key("effort", res.Effort.String()),
		key("stopped", res.Stopped),
		key("passes", res.Passes),
		r.fabricsJSON(b),
		r.sessionJSON(b),
		key("shopping", r.shoppingJSON()),
		key("supplies", r.suppliesJSON()),
		r.splitsJSON(key),
		r.keepJSON(key),
		r.binJSON(key),
		key("warnings", append([]string{}, res.Warnings...)),
		b.Flush(),
	)
	if err != nil {
		return "", fmt.Errorf("writing the result as JSON: %w", err)
	}
	hash := hex.EncodeToString(sum.Sum(nil))
	_, err = io.WriteString(w, hashLine(hash))
	return hash, err
}

// hashJSON is how a file ends: with the hash of all that stands above.
func hashJSON(above []byte) string {
	sum := sha256.Sum256(above)
	return hashLine(hex.EncodeToString(sum[:]))
}

func hashLine(hash string) string { return "  \"hash\": \"" + hash + "\"\n}\n" }

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func (r *Report) fabricsJSON(b io.Writer) error {
	fmt.Fprint(b, "  \"fabrics\": [")
	for i := range r.result.Fabrics {
		f := &r.result.Fabrics[i]
		head, err := json.Marshal(r.fabricJSON(f, r.sheetsOf(i)))
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "%s\n    %s, \"sheets\": [", comma(i), bytes.TrimSuffix(head, []byte("}")))
		for j, s := range r.sheetsOf(i) {
			text, err := json.Marshal(s.json(f))
			if err != nil {
				return err
			}
			fmt.Fprintf(b, "%s\n      %s", comma(j), text)
		}
		fmt.Fprint(b, "]}")
	}
	_, err := fmt.Fprint(b, "],\n")
	return err
}

func comma(i int) string {
	if i == 0 {
		return ""
	}
	return ","
}

// sheetsOf lists the sheets of the i-th fabric.
func (r *Report) sheetsOf(i int) []Sheet {
	from := 0
	for k := range i {
		from += r.Fabrics[k].layouts
	}
	return r.Sheets[from : from+r.Fabrics[i].layouts]
}

func (r *Report) fabricJSON(f *plan.FabricResult, sheets []Sheet) fabricJSON {
	sol := f.Solution
	out := fabricJSON{
		Fabric: f.Need.Fabric, Kerf: f.Problem.Rules.Kerf, Status: sol.Status.String(), Passes: f.Passes,
		Pieces: []pieceJSON{}, Area: areaJSON{Bought: sol.Area, Bound: &sol.AreaBound},
	}
	if !f.Priced {
		// The area is the goal then, and its bound may be the sharper one.
		least := max(sol.AreaBound, units.Area(sol.Bound))
		out.Area.Bound = &least
	}
	for i, p := range f.Problem.Pieces {
		q := pieceJSON{ID: p.ID, W: p.W, H: p.H, Demand: p.Demand, Turn: p.Turn}
		if i < len(sol.Missing) {
			q.Missing = sol.Missing[i]
		}
		out.Area.Used += units.Area(q.Demand-q.Missing) * units.AreaOf(p.W, p.H)
		out.Pieces = append(out.Pieces, q)
	}
	if f.Priced {
		out.Price = &priceJSON{Bound: &sol.Bound}
		for i := range sheets {
			out.Price.Value += sheets[i].cost(f) * int64(sheets[i].Copies)
		}
	}
	if sol.MostScraps > 0 {
		out.scrapsFirst(sol)
	}
	if sol.Status == pack.Short {
		out.Area.Bound = nil
		if out.Price != nil {
			out.Price.Bound = nil
		}
	}
	if sol.ProvedBy != "" && out.Status == pack.Proved.String() {
		out.ProvedBy = &sol.ProvedBy
	}
	return out
}

// cost is what one copy of the sheet costs in its line of the shopping list.
func (s *Sheet) cost(f *plan.FabricResult) int64 {
	if s.layout.Stock.Sheet == pack.FromRoll {
		return f.Problem.Roll.Cost(s.layout.Stock.Length)
	}
	return f.Problem.Sheets[s.layout.Stock.Sheet].Price
}

func (s *Sheet) json(f *plan.FabricResult) sheetJSON {
	out := sheetJSON{
		ID: fmt.Sprint(s.Number), Stock: s.stockJSON(f), Width: s.W, Height: s.H, Copies: s.Copies,
		Raw:     [2]units.Length{s.RawW, s.RawH},
		Squared: [4]units.Length{s.Edges[Left].Trim, s.Edges[Right].Trim, s.Edges[Bottom].Trim, s.Edges[Top].Trim},
		Bad:     [][4]units.Length{}, Placements: []placementJSON{}, Offcuts: []offcutJSON{},
		Cuts: treeJSON(s.layout.Cuts, f.Problem.Pieces),
	}
	if f.Priced {
		c := s.cost(f)
		out.Cost = &c
	}
	for _, q := range s.forbidden(f) {
		out.Bad = append(out.Bad, [4]units.Length{q.X, q.Y, q.W, q.H})
	}
	for _, p := range s.Pieces {
		out.Placements = append(out.Placements, placementJSON{p.Letter, p.X, p.Y, p.W, p.H, p.Turned})
	}
	for _, o := range s.Offcuts {
		out.Offcuts = append(out.Offcuts, offcutJSON{o.X, o.Y, o.W, o.H})
	}
	return out
}

func (s *Sheet) stockJSON(f *plan.FabricResult) stockJSON {
	if s.layout.Stock.Sheet == pack.FromRoll {
		length := s.layout.Stock.Length
		i, _ := f.Problem.Roll.Sold(length)
		out := stockJSON{Kind: "bolt", ID: f.Problem.Roll.Bolts()[i].ID, Length: length}
		if o := f.Bolt(length); o != nil {
			out.Cut = o.Name
		}
		return out
	}
	info := f.Stocks[s.layout.Stock.Sheet]
	if info.Stash != nil {
		return stockJSON{Kind: "stash", ID: info.Stash.ID}
	}
	out := stockJSON{Kind: "cut", ID: f.Problem.Sheets[s.layout.Stock.Sheet].ID}
	if info.Offer != nil {
		out.Cut = info.Offer.Name
	}
	return out
}

func treeJSON(n *pack.Node, pieces []pack.Piece) *nodeJSON {
	switch n.Leaf {
	case pack.PieceLeaf:
		return &nodeJSON{Piece: &pieces[n.Piece].ID, Turned: &n.Turned}
	case pack.OffcutLeaf:
		return &nodeJSON{Offcut: true}
	case pack.WasteLeaf:
		return &nodeJSON{Waste: true}
	}
	out := &nodeJSON{Axis: n.Axis.String(), At: n.At}
	for _, p := range n.Parts {
		out.Parts = append(out.Parts, treeJSON(p, pieces))
	}
	return out
}

func (r *Report) shoppingJSON() []purchaseJSON {
	out := []purchaseJSON{}
	for i, p := range r.result.Shopping {
		q := purchaseJSON{Fabric: p.Fabric, Kind: "cut", Cut: p.Offer.Name, Count: p.Count, Price: p.Price, Text: r.Shopping.Lines[i].Text()}
		if p.Offer.Kind == plan.SoldByLength {
			q.Kind, q.Count, q.Length, q.Bolt = "bolt", 0, p.Length, r.Shopping.Lines[i].Bolt
		}
		out = append(out, q)
	}
	return out
}

// splitsJSON adds how lists of fabrics are divided, where a plan has any.
func (r *Report) splitsJSON(key func(string, any) error) error {
	if len(r.result.Gathered.Splits) == 0 {
		return nil
	}
	var out []splitJSON
	for _, s := range r.result.Gathered.Splits {
		o := r.result.Plan.Make[s.Order]
		split := splitJSON{Order: s.Order, Ornament: o.Ornament, Count: o.Count, Role: s.Role, Piece: s.Piece}
		for _, share := range s.Shares {
			split.Shares = append(split.Shares, splitShareJSON(share))
		}
		out = append(out, split)
	}
	return key("splits", out)
}

func (r *Report) suppliesJSON() []supplyJSON {
	out := []supplyJSON{}
	for _, s := range r.result.Gathered.Supplies {
		out = append(out, supplyJSON{s.Name, s.Count, s.Length})
	}
	return out
}
