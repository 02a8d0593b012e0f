package pack_test

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

func copied(s pack.Solution) pack.Solution {
	s.Missing = slices.Clone(s.Missing)
	s.Layouts = slices.Clone(s.Layouts)
	for i := range s.Layouts {
		s.Layouts[i].Cuts = copiedTree(s.Layouts[i].Cuts)
	}
	return s
}

func copiedTree(n *pack.Node) *pack.Node {
	if n == nil {
		return nil
	}
	c := *n
	c.At = slices.Clone(n.At)
	c.Parts = slices.Clone(n.Parts)
	for i := range c.Parts {
		c.Parts[i] = copiedTree(c.Parts[i])
	}
	return &c
}

// corruptions try every single corruption of a solution, one at a time.
type corruptions struct {
	p    pack.Problem
	good pack.Solution
	// told counts, by name, what was refused; harmless what may stand, since the
	// judge finds that it gives all that it promises.
	told, harmless map[string]int
	missed         []string
}

// figure corrupts what no cloth shows: it must be refused.
func (c *corruptions) figure(name string, corrupt func(s *pack.Solution)) {
	s := copied(c.good)
	corrupt(&s)
	if pack.Check(c.p, s) != nil {
		c.told[name]++
		return
	}
	c.missed = append(c.missed, name)
}

// cloth corrupts what is cut: it must be refused, unless the judge lets it stand.
func (c *corruptions) cloth(name string, corrupt func(s *pack.Solution)) {
	s := copied(c.good)
	corrupt(&s)
	wrong := judge(c.p, s)
	switch told := pack.Check(c.p, s); {
	case told != nil:
		c.told[name]++
	case wrong == nil:
		c.harmless[name]++
	default:
		c.missed = append(c.missed, fmt.Sprintf("%s: %v", name, wrong))
	}
}

// nodes lists the ways to all nodes: the layout, then part by part.
func (c *corruptions) nodes() [][]int {
	var out [][]int
	var walk func(n *pack.Node, way []int)
	walk = func(n *pack.Node, way []int) {
		out = append(out, slices.Clone(way))
		for i, part := range n.Parts {
			walk(part, append(way, i))
		}
	}
	for i, l := range c.good.Layouts {
		walk(l.Cuts, []int{i})
	}
	return out
}

func at(s *pack.Solution, way []int) *pack.Node {
	n := s.Layouts[way[0]].Cuts
	for _, i := range way[1:] {
		n = n.Parts[i]
	}
	return n
}

func (c *corruptions) cuts(way []int, n *pack.Node) {
	on := func(name string, corrupt func(n *pack.Node)) {
		c.cloth(name, func(s *pack.Solution) { corrupt(at(s, way)) })
	}
	on("cut along instead of across", func(n *pack.Node) { n.Axis ^= 1 })
	on("an axis that is none", func(n *pack.Node) { n.Axis = 2 })
	on("cut into what is a leaf", func(n *pack.Node) { n.Leaf = pack.WasteLeaf })
	on("no cuts", func(n *pack.Node) { n.At, n.Parts = nil, nil })
	for i := range n.At {
		for _, by := range []units.Length{1, -1, units.Inch, -units.Inch} {
			on("a cut moved", func(n *pack.Node) { n.At[i] += by })
		}
		on("a cut off the cloth", func(n *pack.Node) { n.At[i] = -1 })
		on("a cut beyond the cloth", func(n *pack.Node) { n.At[i] += units.MaxLength })
		on("a cut forgotten", func(n *pack.Node) { n.At = slices.Delete(n.At, i, i+1) })
		on("a cut and its part forgotten", func(n *pack.Node) {
			n.At, n.Parts = slices.Delete(n.At, i, i+1), slices.Delete(n.Parts, i, i+1)
		})
		on("a cut made twice", func(n *pack.Node) { n.At = slices.Insert(n.At, i, n.At[i]) })
		on("parts exchanged", func(n *pack.Node) { n.Parts[i], n.Parts[i+1] = n.Parts[i+1], n.Parts[i] })
		if i > 0 {
			on("cuts out of order", func(n *pack.Node) { n.At[i-1], n.At[i] = n.At[i], n.At[i-1] })
		}
	}
	for i := range n.Parts {
		on("a part forgotten", func(n *pack.Node) { n.Parts = slices.Delete(n.Parts, i, i+1) })
		on("a part that is nothing", func(n *pack.Node) { n.Parts[i] = nil })
		on("a part twice", func(n *pack.Node) { n.Parts = slices.Insert(n.Parts, i, n.Parts[i]) })
		on("a part thrown away", func(n *pack.Node) { n.Parts[i] = &pack.Node{Leaf: pack.WasteLeaf} })
		on("a part kept whole", func(n *pack.Node) { n.Parts[i] = &pack.Node{Leaf: pack.OffcutLeaf} })
	}
}

func (c *corruptions) leaf(way []int, n *pack.Node) {
	on := func(name string, corrupt func(n *pack.Node)) {
		c.cloth(name, func(s *pack.Solution) { corrupt(at(s, way)) })
	}
	for _, kind := range []pack.Leaf{pack.NoLeaf, pack.PieceLeaf, pack.OffcutLeaf, pack.WasteLeaf} {
		if kind != n.Leaf {
			on("a leaf that is something else", func(n *pack.Node) { n.Leaf = kind })
		}
	}
	on("a leaf with a part", func(n *pack.Node) { n.Parts = []*pack.Node{{Leaf: pack.WasteLeaf}} })
	on("a leaf with a cut", func(n *pack.Node) { n.At = []units.Length{0} })
	if n.Leaf != pack.PieceLeaf {
		return
	}
	on("a piece turned", func(n *pack.Node) { n.Turned = !n.Turned })
	for _, i := range []int{-1, len(c.p.Pieces)} {
		on("a piece that nobody wants", func(n *pack.Node) { n.Piece = i })
	}
	for i := range c.p.Pieces {
		if i != n.Piece {
			on("another piece", func(n *pack.Node) { n.Piece = i })
		}
	}
}

func (c *corruptions) layouts() {
	for i, l := range c.good.Layouts {
		on := func(name string, corrupt func(l *pack.Layout)) {
			c.cloth(name, func(s *pack.Solution) { corrupt(&s.Layouts[i]) })
		}
		on("a copy more", func(l *pack.Layout) { l.Copies++ })
		on("a copy less", func(l *pack.Layout) { l.Copies-- })
		on("copies below none", func(l *pack.Layout) { l.Copies = -l.Copies })
		for _, by := range []units.Length{-1, 1} {
			on("cloth of another width", func(l *pack.Layout) { l.W += by })
			on("cloth of another height", func(l *pack.Layout) { l.H += by })
		}
		on("no tree", func(l *pack.Layout) { l.Cuts = nil })
		for k := -2; k <= len(c.p.Sheets); k++ {
			if k != l.Stock.Sheet {
				on("cut from other cloth", func(l *pack.Layout) { l.Stock.Sheet = k })
			}
		}
		if l.Stock.Sheet == pack.FromRoll {
			for _, by := range []units.Length{1, -1, c.p.Roll.Step, -c.p.Roll.Step, -l.Stock.Length} {
				on("another length", func(l *pack.Layout) { l.Stock.Length += by })
			}
		}
		c.cloth("a layout forgotten", func(s *pack.Solution) { s.Layouts = slices.Delete(s.Layouts, i, i+1) })
		c.cloth("a layout twice", func(s *pack.Solution) { s.Layouts = append(s.Layouts, s.Layouts[i]) })
	}
}

func (c *corruptions) figures() {
	for i := range c.good.Missing {
		c.figure("one more missing", func(s *pack.Solution) { s.Missing[i]++ })
		c.figure("one less missing", func(s *pack.Solution) { s.Missing[i]-- })
	}
	c.figure("missing too long", func(s *pack.Solution) { s.Missing = append(s.Missing, 0) })
	c.figure("missing too short", func(s *pack.Solution) { s.Missing = s.Missing[1:] })
	for _, by := range []int64{-1, 1, 1 << 40} {
		c.figure("price", func(s *pack.Solution) { s.Price += by })
		c.figure("cost", func(s *pack.Solution) { s.Cost += by })
		c.figure("area", func(s *pack.Solution) { s.Area += units.Area(by) })
		c.figure("area from scraps", func(s *pack.Solution) { s.FromScraps += units.Area(by) })
	}
	c.figure("most from scraps", func(s *pack.Solution) { s.MostScraps = s.FromScraps - 1 })
	for _, status := range []pack.Status{pack.Found, pack.Proved, pack.Short, pack.Short + 1} {
		if status != c.good.Status {
			c.figure("status", func(s *pack.Solution) { s.Status = status })
		}
	}
	if c.good.Status == pack.Proved {
		c.figure("no proof", func(s *pack.Solution) { s.ProvedBy = "" })
	} else {
		c.figure("a proof of nothing", func(s *pack.Solution) { s.ProvedBy = "area" })
	}
	c.figure("a bound below nothing", func(s *pack.Solution) { s.Bound = -1 })
	c.figure("an area bound below nothing", func(s *pack.Solution) { s.AreaBound = -1 })
	if c.good.Status == pack.Short {
		return // the bounds speak of plans that lack nothing
	}
	c.figure("a bound above the cost", func(s *pack.Solution) { s.Bound = s.Cost + 1 })
	c.figure("an area bound above the area", func(s *pack.Solution) { s.AreaBound = s.Area + 1 })
	c.figure("more sheets needed than used", func(s *pack.Solution) {
		s.SheetBound = 1
		for _, l := range s.Layouts {
			s.SheetBound += l.Copies
		}
	})
}

// problems corrupts what was asked for: a solution that was right is wrong then.
func (c *corruptions) problems(t *testing.T) {
	refused := func(name string, p pack.Problem) {
		if pack.Check(p, c.good) != nil {
			c.told[name]++
		} else {
			c.missed = append(c.missed, name)
		}
	}
	with := func(i int, change func(s *pack.Sheet)) pack.Problem {
		p := c.p
		p.Sheets = slices.Clone(p.Sheets)
		change(&p.Sheets[i])
		return p
	}
	for _, l := range c.good.Layouts {
		lying, err := spread(c.p, l)
		require.NoError(t, err)
		for _, a := range lying {
			if l.Stock.Sheet == pack.FromRoll {
				continue
			}
			// The tick in each corner of what is used.
			for _, at := range []pack.Point{{X: a.X, Y: a.Y}, {X: a.X + a.W - 1, Y: a.Y}, {X: a.X, Y: a.Y + a.H - 1}, {X: a.X + a.W - 1, Y: a.Y + a.H - 1}} {
				refused("a bad area under it", with(l.Stock.Sheet, func(s *pack.Sheet) {
					s.Bad = append(slices.Clone(s.Bad), pack.Rect{X: at.X, Y: at.Y, W: 1, H: 1})
				}))
			}
			if a.W > 2 && a.H > 2 && c.p.Sheets[l.Stock.Sheet].Outline == nil {
				// A slit from the right edge that ends a tick within it.
				y := a.Y + a.H/2
				refused("a slit in the outline", with(l.Stock.Sheet, func(s *pack.Sheet) {
					s.Outline = pack.Outline{{X: 0, Y: 0}, {X: l.W, Y: 0}, {X: l.W, Y: y}, {X: a.X + a.W - 1, Y: y}, {X: l.W, Y: y + 1}, {X: l.W, Y: l.H}, {X: 0, Y: l.H}}
				}))
			}
		}
	}
}

// wishes corrupts the wishes: a solution is right for one problem alone.
func (c *corruptions) wishes() {
	placed, turned := make([]int, len(c.p.Pieces)), make([]bool, len(c.p.Pieces))
	used := make([]int, len(c.p.Sheets))
	for _, l := range c.good.Layouts {
		for _, q := range l.Placements(c.p.Rules.Kerf) {
			placed[q.Piece] += l.Copies
			turned[q.Piece] = turned[q.Piece] || q.Turned && c.p.Pieces[q.Piece].W != c.p.Pieces[q.Piece].H
		}
		if l.Stock.Sheet != pack.FromRoll {
			used[l.Stock.Sheet] += l.Copies
		}
	}
	refused := func(name string, change func(p *pack.Problem)) {
		p := c.p
		p.Pieces, p.Sheets = slices.Clone(p.Pieces), slices.Clone(p.Sheets)
		if p.Roll != nil {
			roll := *p.Roll
			p.Roll = &roll
		}
		change(&p)
		if pack.Check(p, c.good) != nil {
			c.told[name]++
		} else {
			c.missed = append(c.missed, name)
		}
	}
	for i := range c.p.Pieces {
		refused("one more wanted", func(p *pack.Problem) { p.Pieces[i].Demand++ })
		refused("one less wanted", func(p *pack.Problem) { p.Pieces[i].Demand-- })
		if placed[i] > 0 {
			refused("a piece wider than cut", func(p *pack.Problem) { p.Pieces[i].W++ })
			refused("a piece lower than cut", func(p *pack.Problem) { p.Pieces[i].H-- })
		}
		if turned[i] {
			refused("a piece that may not be turned", func(p *pack.Problem) { p.Pieces[i].Turn = false })
		}
	}
	for i := range c.p.Sheets {
		if used[i] == 0 {
			continue
		}
		refused("fewer sheets than cut", func(p *pack.Problem) { p.Sheets[i].Copies = used[i] - 1 })
		refused("a sheet narrower than cut", func(p *pack.Problem) { p.Sheets[i].W-- })
		refused("a sheet squared by more", func(p *pack.Problem) { p.Sheets[i].Squared.Top++ })
		if !c.p.Sheets[i].Free {
			refused("a dearer sheet", func(p *pack.Problem) { p.Sheets[i].Price++ })
		}
	}
	for _, l := range c.good.Layouts {
		if l.Stock.Sheet != pack.FromRoll {
			continue
		}
		refused("no roll", func(p *pack.Problem) { p.Roll = nil })
		refused("a narrower roll", func(p *pack.Problem) { p.Roll.W-- })
		refused("a roll that ends before", func(p *pack.Problem) { p.Roll.Most = l.Stock.Length - 1 })
		refused("a roll sold from more on", func(p *pack.Problem) { p.Roll.Least = l.Stock.Length + 1 })
		refused("a roll in other steps", func(p *pack.Problem) { p.Roll.Step = l.Stock.Length - 1 })
		refused("a dearer roll", func(p *pack.Problem) { p.Roll.Price *= 2 })
		refused("a roll that shrinks by more", func(p *pack.Problem) { p.Roll.Shrinks++ })
	}
}

// Every single corruption of a right solution is told, or gives all the same what
// was promised.
func TestEveryCorruptionIsTold(t *testing.T) {
	problems := 36
	if testing.Short() {
		problems = 12
	}
	told, harmless := map[string]int{}, map[string]int{}
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 77))
		p := randomProblem(r)
		if seed%3 == 1 {
			p = withOutlines(r, p)
		}
		if seed%5 == 2 {
			p.UseUp = true
			for i := range p.Sheets {
				p.Sheets[i].Scrap = p.Sheets[i].Free
			}
		}
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 2})
		require.NoError(t, err, "seed %d", seed)
		require.NoError(t, judge(p, s), "seed %d", seed)
		c := corruptions{p: p, good: s, told: told, harmless: harmless}
		for _, way := range c.nodes() {
			if n := at(&s, way); n.Leaf == pack.NoLeaf {
				c.cuts(way, n)
			} else {
				c.leaf(way, n)
			}
		}
		c.layouts()
		c.figures()
		c.problems(t)
		c.wishes()
		assert.Empty(t, c.missed, "seed %d", seed)
	}
	tried, stand := 0, 0
	for _, name := range slices.Sorted(maps.Keys(told)) {
		tried += told[name]
		stand += harmless[name]
		t.Logf("%6d told, %5d harmless: %s", told[name], harmless[name], name)
	}
	t.Logf("%d corruptions told, %d harmless", tried, stand)
	assert.Len(t, told, 68, "each kind was tried")
	// What may stand: waste for waste, an offcut not kept or waste kept, and parts
	// exchanged with their like.
	assert.Subset(t, []string{"a leaf that is something else", "a part kept whole", "a part thrown away", "parts exchanged"}, slices.Collect(maps.Keys(harmless)))
	assert.Less(t, 20*stand, tried)
}
