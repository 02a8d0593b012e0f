package reports

import (
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

const in = units.Inch

// cutAt cuts a region that starts at from into parts of the given widths; the
// last one takes the rest.
func cutAt(axis pack.Axis, from units.Length, widths []units.Length, parts ...*pack.Node) *pack.Node {
	n := &pack.Node{Axis: axis, Parts: parts}
	for _, w := range widths {
		from += w
		n.At = append(n.At, from)
	}
	return n
}

func times[T any](n int, v T) []T {
	out := make([]T, n)
	for i := range out {
		out[i] = v
	}
	return out
}

func leaf(l pack.Leaf) *pack.Node { return &pack.Node{Leaf: l} }

func piece(i int, turned bool) *pack.Node {
	return &pack.Node{Leaf: pack.PieceLeaf, Piece: i, Turned: turned}
}

// fair is a small plan cut by hand: six stars and four lamps of a lantern fair,
// from three fat quarters, three eighths of a yard and one stash piece.
func fair(t testing.TB) *plan.Result {
	t.Helper()
	price := func(p int64) *int64 { return &p }
	quarter := plan.Offer{Kind: plan.SoldCut, Name: "fat quarter", Price: price(325), Size: units.Size{Along: 18 * in, Across: 21 * in}, RawSides: 1, Available: -1}
	yard := plan.Offer{Kind: plan.SoldByLength, Name: "yard", Price: price(1150), Per: units.Yard, Step: units.Yard / 8, Available: -1}
	p := &plan.Plan{
		Title: "Lantern fair", Money: "$",
		Ornaments: []plan.Ornament{
			{Name: "harbour star", Ball: 3 * in, Pieces: []plan.Round{
				{Name: "centre", Size: units.Size{Along: 5 * in / 2, Across: 5 * in / 2}, Roles: []plan.RoleCount{{Role: "ground", Count: 10}}},
				{Name: "round 2", Size: units.Size{Along: 5 * in / 2, Across: 5 * in / 2}, Roles: []plan.RoleCount{{Role: "ground", Count: 8}}},
			}, Band: &plan.Band{Width: 7 * in / 4, Overlap: in, Shows: 3 * in / 4, Role: "ground"}},
			{Name: "pilot lamp", Ball: 3 * in, Pieces: []plan.Round{
				{Name: "glass", Size: units.Size{Along: 2 * in, Across: 3 * in}, Roles: []plan.RoleCount{{Role: "light", Count: 24}}},
			}},
		},
		Make: []plan.Order{
			{Ornament: "harbour star", Count: 6, Colourway: []plan.Filling{{Role: "ground", Fabric: "night water"}}},
			{Ornament: "pilot lamp", Count: 4, Colourway: []plan.Filling{{Role: "light", Fabric: "sailcloth"}}},
		},
		Fabrics: []plan.Fabric{
			{Name: "night water", Direction: plan.OneWay, Bolt: 44 * in, Usable: 42 * in, Buy: []plan.Offer{quarter}},
			{Name: "sailcloth", Bolt: 44 * in, Usable: 42 * in, Buy: []plan.Offer{yard}},
		},
		Stash:   []plan.StashPiece{{ID: "S3", Fabric: "sailcloth", Size: units.Size{Along: 9 * in, Across: 14 * in}, Count: 1, Where: "blue box", Note: "one corner cut out"}},
		Cutting: plan.Cutting{Squaring: in / 4, Keep: units.Size{Along: 2 * in, Across: 3 * in}, Layers: 4, Ruler: 24 * in},
	}
	r := &plan.Result{
		Plan: p,
		Gathered: &plan.Gathered{
			Supplies:  []plan.Supply{{Name: "straight pins", Count: 1260}, {Name: "hanging cord", Length: 92 * in}},
			Ornaments: 10, Pieces: 210, Spares: 12,
		},
		Fabrics:  []plan.FabricResult{nightWater(p), sailcloth(p)},
		Warnings: []string{"sailcloth: the stash piece S3 is narrower than the ruler is long"},
		Seed:     7,
	}
	total := price(975)
	length := price(431)
	r.Shopping = []plan.Purchase{
		{Fabric: "night water", Offer: quarter, Count: 3, Price: total},
		{Fabric: "sailcloth", Offer: yard, Length: 3 * units.Yard / 8, Price: length},
	}
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		r.Gathered.Fabrics = append(r.Gathered.Fabrics, f.Need)
	}
	r.Arrange()
	for _, f := range r.Fabrics {
		require.NoError(t, pack.Check(f.Problem, f.Solution))
	}
	return r
}

func nightWater(p *plan.Plan) plan.FabricResult {
	strip := func() *pack.Node {
		return cutAt(pack.X, 0, times(8, 5*in/2), append(times(8, piece(0, false)), leaf(pack.WasteLeaf))...)
	}
	band := func() *pack.Node { return cutAt(pack.X, 0, times(1, 21*in/2), piece(1, false), leaf(pack.WasteLeaf)) }
	at := append(times(5, 5*in/2), times(2, 7*in/4)...)
	parts := []*pack.Node{strip(), strip(), strip(), strip(), strip(), band(), band(), leaf(pack.WasteLeaf)}
	return plan.FabricResult{
		Need: plan.FabricNeed{Fabric: "night water", Sizes: []plan.Need{
			{ID: "A", Size: units.Size{Along: 5 * in / 2, Across: 5 * in / 2}, Count: 108, Spare: 12, Uses: []plan.Use{{Ornament: "harbour star", Piece: "centre", Count: 60}, {Ornament: "harbour star", Piece: "round 2", Count: 48}}},
			{ID: "B", Size: units.Size{Along: 7 * in / 4, Across: 21 * in / 2}, Count: 6, Uses: []plan.Use{{Ornament: "harbour star", Piece: "band", Count: 6}}},
		}},
		Problem: pack.Problem{
			Pieces: []pack.Piece{{ID: "A", W: 5 * in / 2, H: 5 * in / 2, Demand: 120}, {ID: "B", W: 21 * in / 2, H: 7 * in / 4, Demand: 6}},
			Sheets: []pack.Sheet{{ID: "fat quarter", W: 21 * in, H: 18 * in, Squared: pack.Margins{Right: in / 4, Bottom: in / 4, Top: in / 4}, Selvages: 1, Copies: pack.Unlimited, Price: 325}},
			Rules:  pack.Rules{Keep: p.Cutting.Keep, Layers: 4},
		},
		Solution: pack.Solution{
			Layouts: []pack.Layout{{W: 83 * in / 4, H: 35 * in / 2, Copies: 3, Cuts: cutAt(pack.Y, 0, at, parts...)}},
			Missing: []int{0, 0}, Status: pack.Found,
			Cost: 975, Bound: 650, Price: 975, Area: 3 * units.AreaOf(18*in, 21*in), AreaBound: 2 * units.AreaOf(18*in, 21*in),
		},
		Stocks: []plan.StockInfo{{Offer: &p.Fabrics[0].Buy[0]}},
		Priced: true,
	}
}

func sailcloth(p *plan.Plan) plan.FabricResult {
	long := cutAt(pack.Y, 0, times(6, 2*in), times(6, cutAt(pack.X, 0, times(13, 3*in), times(14, piece(0, false))...))...)
	long.Parts = append(long.Parts, leaf(pack.WasteLeaf))
	scrap := cutAt(pack.Y, 0, times(3, 2*in),
		append(times(3, cutAt(pack.X, 0, times(4, 3*in), append(times(4, piece(0, false)), leaf(pack.WasteLeaf))...)),
			cutAt(pack.X, 0, []units.Length{11 * in}, leaf(pack.OffcutLeaf), leaf(pack.WasteLeaf)))...)
	all := pack.Margins{Left: in / 4, Right: in / 4, Bottom: in / 4, Top: in / 4}
	return plan.FabricResult{
		Need: plan.FabricNeed{Fabric: "sailcloth", Sizes: []plan.Need{
			{ID: "C", Size: units.Size{Along: 2 * in, Across: 3 * in}, Turn: true, Count: 96, Uses: []plan.Use{{Ornament: "pilot lamp", Piece: "glass", Count: 96}}},
		}},
		Problem: pack.Problem{
			Pieces: []pack.Piece{{ID: "C", W: 3 * in, H: 2 * in, Demand: 96, Turn: true}},
			Sheets: []pack.Sheet{{ID: "S3", W: 14 * in, H: 9 * in, Squared: all, Copies: 1, Free: true, Bad: []pack.Rect{{X: 12 * in, Y: 13 * in / 2, W: 3 * in / 2, H: 2 * in}}}},
			Roll:   &pack.Roll{ID: "yard", W: 42 * in, Squared: pack.Margins{Bottom: in / 4, Top: in / 4}, Selvages: 2, Step: units.Yard / 8, Price: 1150, Per: units.Yard},
			Rules:  pack.Rules{Keep: p.Cutting.Keep, Layers: 4},
		},
		Solution: pack.Solution{
			Layouts: []pack.Layout{
				{Stock: pack.Stock{Sheet: pack.FromRoll, Length: 3 * units.Yard / 8}, W: 42 * in, H: 13 * in, Copies: 1, Cuts: long},
				{W: 27 * in / 2, H: 17 * in / 2, Copies: 1, Cuts: scrap},
			},
			Missing: []int{0}, Status: pack.Proved, ProvedBy: "area",
			Cost: 431, Bound: 431, Price: 431, Area: units.AreaOf(42*in, 27*in/2), AreaBound: units.AreaOf(42*in, 9*in),
		},
		Stocks: []plan.StockInfo{{Stash: &p.Stash[0]}},
		Bolts:  []plan.StockInfo{{Offer: &p.Fabrics[1].Buy[0]}},
		Priced: true,
	}
}

// unpriced is the fair without prices: the area bought is the goal, and proved
// least by a bound sharper than that of the areas alone.
func unpriced(t *testing.T) *plan.Result {
	r := fair(t)
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		f.Priced, f.Problem.Goal = false, pack.LeastArea
		s := &f.Solution
		s.Cost, s.Bound, s.Status, s.ProvedBy = int64(s.Area), int64(s.Area), pack.Proved, "area"
		require.NoError(t, pack.Check(f.Problem, *s))
	}
	for i := range r.Shopping {
		r.Shopping[i].Price = nil
	}
	return r
}
