package pack_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

func TestSolvePassesItsCheck(t *testing.T) {
	n := 400
	if testing.Short() {
		n = 80
	}
	for seed := range n {
		p := randomProblem(rand.New(rand.NewPCG(uint64(seed), 1)))
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 5})
		require.NoError(t, err, "seed %d: %+v", seed, p)
		require.NoError(t, pack.Check(p, s), "seed %d", seed)
	}
}

// Every single corruption of a right solution is caught.
func TestCheckCatchesCorruption(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		Pieces: []pack.Piece{
			{ID: "square", W: 5 * in / 2, H: 5 * in / 2, Demand: 30, Turn: true},
			{ID: "band", W: 21 * in / 2, H: 7 * in / 4, Demand: 3},
		},
		Sheets: []pack.Sheet{
			{ID: "fat quarter", W: 21 * in, H: 18 * in, Copies: pack.Unlimited, Price: 325, Squared: pack.Margins{Right: in / 4, Bottom: in / 4, Top: in / 4}},
			{ID: "scrap", W: 9 * in, H: 9 * in, Copies: 1, Free: true, Bad: []pack.Rect{{X: 0, Y: 0, W: in, H: in}}},
		},
		Rules: pack.Rules{Keep: units.Size{Along: 2 * in, Across: 3 * in}},
	}
	solve := func() pack.Solution {
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
		require.NoError(t, err)
		return s
	}
	require.NoError(t, pack.Check(p, solve()))
	leaf := func(s pack.Solution, kind pack.Leaf) *pack.Node {
		var found *pack.Node
		for _, l := range s.Layouts {
			l.Walk(0, func(n *pack.Node, _ pack.Rect) {
				if n.Leaf == kind && found == nil {
					found = n
				}
			})
		}
		require.NotNil(t, found)
		return found
	}
	cases := map[string]func(s *pack.Solution){
		"a cut moved by a tick":     func(s *pack.Solution) { s.Layouts[0].Cuts.At[0]++ },
		"a cut outside":             func(s *pack.Solution) { s.Layouts[0].Cuts.At[0] = -1 },
		"a part dropped":            func(s *pack.Solution) { c := s.Layouts[0].Cuts; c.Parts = c.Parts[1:] },
		"a copy more":               func(s *pack.Solution) { s.Layouts[0].Copies++ },
		"no copies":                 func(s *pack.Solution) { s.Layouts[0].Copies = 0 },
		"a layout dropped":          func(s *pack.Solution) { s.Layouts = s.Layouts[1:] },
		"a piece turned":            func(s *pack.Solution) { s.Layouts[0].Cuts = nil },
		"a piece renamed":           func(s *pack.Solution) { leaf(*s, pack.PieceLeaf).Piece ^= 1 },
		"a piece that is not there": func(s *pack.Solution) { leaf(*s, pack.PieceLeaf).Piece = 7 },
		"a piece thrown away":       func(s *pack.Solution) { leaf(*s, pack.PieceLeaf).Leaf = pack.WasteLeaf },
		"the other sheet":           func(s *pack.Solution) { s.Layouts[0].Stock.Sheet ^= 1 },
		"a sheet that is not there": func(s *pack.Solution) { s.Layouts[0].Stock.Sheet = 9 },
		"cut from no roll":          func(s *pack.Solution) { s.Layouts[0].Stock.Sheet = pack.FromRoll },
		"a tick wider":              func(s *pack.Solution) { s.Layouts[0].W++ },
		"missing counted wrong":     func(s *pack.Solution) { s.Missing[0]++ },
		"price":                     func(s *pack.Solution) { s.Price++ },
		"cost":                      func(s *pack.Solution) { s.Cost-- },
		"area":                      func(s *pack.Solution) { s.Area++ },
		"bound above cost":          func(s *pack.Solution) { s.Bound = s.Cost + 1 },
		"area bound above area":     func(s *pack.Solution) { s.AreaBound = s.Area + 1 },
		"short without a gap":       func(s *pack.Solution) { s.Status = pack.Short },
		"proved without a proof":    func(s *pack.Solution) { s.Status, s.ProvedBy = pack.Proved, "" },
	}
	for name, corrupt := range cases {
		s := solve()
		corrupt(&s)
		assert.Error(t, pack.Check(p, s), name)
	}
}

func TestCheckRules(t *testing.T) {
	in := units.Inch
	piece := func() *pack.Node { return &pack.Node{Leaf: pack.PieceLeaf} }
	waste := func() *pack.Node { return &pack.Node{Leaf: pack.WasteLeaf} }
	p := pack.Problem{
		Pieces: []pack.Piece{{ID: "p", W: 2 * in, H: 4 * in, Demand: 1}},
		Sheets: []pack.Sheet{{ID: "s", W: 4 * in, H: 4 * in, Copies: 1, Free: true}},
	}
	s := pack.Solution{
		Layouts: []pack.Layout{{W: 4 * in, H: 4 * in, Copies: 1, Cuts: &pack.Node{Axis: pack.X, At: []units.Length{2 * in}, Parts: []*pack.Node{piece(), waste()}}}},
		Missing: []int{0}, Status: pack.Proved, ProvedBy: "area",
	}
	require.NoError(t, pack.Check(p, s))

	turned := s
	turned.Layouts = []pack.Layout{{W: 4 * in, H: 4 * in, Copies: 1, Cuts: &pack.Node{Axis: pack.Y, At: []units.Length{2 * in}, Parts: []*pack.Node{{Leaf: pack.PieceLeaf, Turned: true}, waste()}}}}
	assert.ErrorContains(t, pack.Check(p, turned), "turns piece")
	p.Pieces[0].Turn = true
	assert.NoError(t, pack.Check(p, turned))

	p.Sheets[0].Bad = []pack.Rect{{X: 0, Y: 0, W: in, H: in}}
	assert.ErrorContains(t, pack.Check(p, s), "bad area")
	p.Sheets[0].Bad = []pack.Rect{{X: 2 * in, Y: 0, W: in, H: in}}
	assert.NoError(t, pack.Check(p, s))
	s.Layouts[0].Cuts.Parts[1] = &pack.Node{Leaf: pack.OffcutLeaf}
	assert.ErrorContains(t, pack.Check(p, s), "bad area")
	p.Sheets[0].Bad = nil
	p.Rules.Keep = units.Size{Along: 3 * in, Across: 3 * in}
	assert.ErrorContains(t, pack.Check(p, s), "keeps an offcut")
}
