package pack

import (
	"errors"
	"fmt"

	"pinfold/units"
)

// Check verifies a solution against its problem from the cut trees alone: every
// cut lies in its region, parts and kerfs fill it, each piece leaf has exactly
// the piece's measures and is turned only if it may be, nothing lies on a bad
// area or reaches out of an outline, the stages, copies and demands are kept, and cost, price and area are
// what the sheets used add up to. It shares no code with the engines. The error
// joins everything that is wrong.
func Check(p Problem, s Solution) error {
	c := checker{p: p}
	c.sheets(s)
	c.totals(s)
	c.status(s)
	return errors.Join(c.errs...)
}

type checker struct {
	p      Problem
	errs   []error
	placed []int
	scraps units.Area // of the pieces cut from scraps
	noTree bool       // the layout's cuts cannot be followed
}

func (c *checker) fail(format string, args ...any) {
	if len(c.errs) < 50 {
		c.errs = append(c.errs, fmt.Errorf("check: "+format, args...))
	}
}

func (c *checker) sheets(s Solution) {
	c.placed = make([]int, len(c.p.Pieces))
	copies := make([]int, len(c.p.Sheets))
	rolls := 0
	for i, l := range s.Layouts {
		if l.Copies <= 0 {
			c.fail("layout %d is cut %d times", i, l.Copies)
			continue
		}
		sheet, ok := c.stock(i, l, copies, &rolls)
		if !ok {
			continue
		}
		if w, h := sheet.Usable(); l.W != w || l.H != h {
			c.fail("layout %d is %v x %v, its cloth %v x %v", i, l.H, l.W, h, w)
			continue
		}
		if l.Cuts == nil {
			c.fail("layout %d has no cuts", i)
			continue
		}
		c.noTree = false
		c.node(i, l.Cuts, Rect{0, 0, l.W, l.H}, l.Copies, sheet)
		if most := c.p.Rules.Stages; most > 0 && !c.noTree {
			if n := stages(l.Cuts); n > most {
				c.fail("layout %d takes %d stages of %d", i, n, most)
			}
		}
	}
	for i, n := range copies {
		if most := c.p.Sheets[i].Copies; most != Unlimited && n > most {
			c.fail("sheet %q is used %d times, there are %d", c.p.Sheets[i].ID, n, most)
		}
	}
	if rolls > 1 {
		c.fail("%d lengths are taken from the roll", rolls)
	}
}

// stock returns the cloth of a layout; a length off the roll is a sheet of what
// can be used of it.
func (c *checker) stock(i int, l Layout, copies []int, rolls *int) (Sheet, bool) {
	if l.Stock.Sheet == FromRoll {
		r := c.p.Roll
		if r == nil {
			c.fail("layout %d is cut from a roll that is not there", i)
			return Sheet{}, false
		}
		n := l.Stock.Length
		if _, sold := r.Sold(n); !sold {
			c.fail("layout %d takes %v off the roll, which is not sold", i, n)
			return Sheet{}, false
		}
		*rolls += l.Copies
		w, h := r.Usable(n)
		return Sheet{W: w, H: h}, true
	}
	if l.Stock.Sheet < 0 || l.Stock.Sheet >= len(c.p.Sheets) {
		c.fail("layout %d is cut from sheet %d of %d", i, l.Stock.Sheet, len(c.p.Sheets))
		return Sheet{}, false
	}
	copies[l.Stock.Sheet] += l.Copies
	return c.p.Sheets[l.Stock.Sheet], true
}

func (c *checker) node(layout int, n *Node, r Rect, copies int, sheet Sheet) {
	if n == nil {
		c.noTree = true
		c.fail("layout %d has an empty part", layout)
		return
	}
	if n.Leaf == NoLeaf {
		c.cut(layout, n, r, copies, sheet)
		return
	}
	if len(n.At) > 0 || len(n.Parts) > 0 {
		c.fail("layout %d has a leaf with parts", layout)
	}
	if n.Leaf == WasteLeaf {
		return
	}
	for _, b := range sheet.Bad {
		if b.Meets(r) {
			c.fail("layout %d uses the bad area at %v, %v", layout, b.X, b.Y)
		}
	}
	if sheet.Outline != nil && !sheet.Outline.Holds(r) {
		c.fail("layout %d has %v x %v at %v, %v, which is not all cloth", layout, r.H, r.W, r.Y, r.X)
	}
	if n.Leaf == OffcutLeaf {
		if !keeps(c.p.Rules.Keep, r) {
			c.fail("layout %d keeps an offcut of %v x %v", layout, r.H, r.W)
		}
		return
	}
	if n.Piece < 0 || n.Piece >= len(c.p.Pieces) {
		c.fail("layout %d holds piece %d of %d", layout, n.Piece, len(c.p.Pieces))
		return
	}
	q := c.p.Pieces[n.Piece]
	w, h := q.W, q.H
	if n.Turned {
		w, h = h, w
		if !q.Turn {
			c.fail("layout %d turns piece %q", layout, q.ID)
		}
	}
	if r.W != w || r.H != h {
		c.fail("layout %d has %v x %v for piece %q of %v x %v", layout, r.H, r.W, q.ID, h, w)
	}
	c.placed[n.Piece] += copies
	if sheet.Scrap && sheet.Free {
		c.scraps += units.Area(copies) * units.AreaOf(q.W, q.H)
	}
}

func (c *checker) cut(layout int, n *Node, r Rect, copies int, sheet Sheet) {
	if len(n.At) == 0 || len(n.Parts) != len(n.At)+1 || n.Axis > Y {
		c.noTree = true
		c.fail("layout %d has a region with %d cuts and %d parts", layout, len(n.At), len(n.Parts))
		return
	}
	from, end := r.X, r.X+r.W
	if n.Axis == Y {
		from, end = r.Y, r.Y+r.H
	}
	for i, part := range n.Parts {
		to := end
		if i < len(n.At) {
			to = n.At[i]
		}
		if to < from || to > end {
			c.fail("layout %d cuts at %v outside %v .. %v", layout, to, from, end)
			return
		}
		sub := Rect{from, r.Y, to - from, r.H}
		if n.Axis == Y {
			sub = Rect{r.X, from, r.W, to - from}
		}
		c.node(layout, part, sub, copies, sheet)
		from = min(to+c.p.Rules.Kerf, end)
	}
}

// stages counts the changes of cutting direction below n, a trim of a single
// piece not counted.
func stages(n *Node) int {
	pieces, trims := 0, 0
	n.leaves(&pieces)
	for m := n; pieces == 1 && m.Leaf == NoLeaf; {
		trims++
		next := m.Parts[0]
		for _, p := range m.Parts {
			has := 0
			if p.leaves(&has); has > 0 {
				next = p
			}
		}
		m = next
	}
	switch pieces {
	case 0:
		return 0
	case 1:
		return max(0, trims-1)
	}
	deepest := 0
	for _, p := range n.Parts {
		d := stages(p)
		if p.Leaf == NoLeaf && p.Axis == n.Axis {
			d-- // a cut along the same axis belongs to the same stage
		}
		deepest = max(deepest, d)
	}
	return 1 + deepest
}

func (n *Node) leaves(pieces *int) {
	if n.Leaf == PieceLeaf {
		*pieces++
	}
	for _, p := range n.Parts {
		p.leaves(pieces)
	}
}

func (c *checker) totals(s Solution) {
	if len(s.Missing) != len(c.p.Pieces) {
		c.fail("%d entries for what is missing, %d pieces", len(s.Missing), len(c.p.Pieces))
		return
	}
	for i, q := range c.p.Pieces {
		if s.Missing[i] < 0 || c.placed[i] != q.Demand-s.Missing[i] {
			c.fail("piece %q is cut %d times, wanted %d, missing %d", q.ID, c.placed[i], q.Demand, s.Missing[i])
		}
	}
	var price int64
	var area units.Area
	for _, l := range s.Layouts {
		n := int64(l.Copies)
		switch {
		case l.Stock.Sheet == FromRoll && c.p.Roll != nil:
			price += n * c.p.Roll.Cost(l.Stock.Length)
			area += units.Area(n) * units.AreaOf(c.p.Roll.W, l.Stock.Length)
		case l.Stock.Sheet >= 0 && l.Stock.Sheet < len(c.p.Sheets):
			if sh := c.p.Sheets[l.Stock.Sheet]; !sh.Free {
				price += n * sh.Price
				area += units.Area(n) * sh.Area()
			}
		}
	}
	if s.Price != price {
		c.fail("the sheets cost %d, not %d", price, s.Price)
	}
	if s.Area != area {
		c.fail("%d square ticks are bought, not %d", area, s.Area)
	}
	cost := price
	if c.p.Goal == LeastArea {
		cost = int64(area)
	}
	if s.Cost != cost {
		c.fail("the goal comes to %d, not %d", cost, s.Cost)
	}
}

func (c *checker) status(s Solution) {
	missing := 0
	for _, n := range s.Missing {
		missing += n
	}
	sheets := 0
	for _, l := range s.Layouts {
		sheets += l.Copies
	}
	reached := s.Bound == s.Cost
	given := c.scraps
	if c.p.UseUp && s.MostScraps > 0 {
		reached = s.FromScraps == s.MostScraps
	} else {
		given = 0
	}
	if s.FromScraps != given || s.FromScraps > s.MostScraps || !c.p.UseUp && s.MostScraps != 0 {
		c.fail("scraps give %d square ticks of the pieces, not %d of at most %d", given, s.FromScraps, s.MostScraps)
	}
	switch {
	case s.Status > Short:
		c.fail("there is no status %d", s.Status)
	case s.Bound < 0 || s.AreaBound < 0 || s.SheetBound < 0:
		c.fail("a bound is negative")
	case s.Status != Short && s.SheetBound > sheets:
		c.fail("%d sheets are cut, where no plan does with less than %d", sheets, s.SheetBound)
	case (missing > 0) != (s.Status == Short):
		c.fail("%d pieces are missing, but the status is %q", missing, s.Status)
	case s.Status != Short && s.Bound > s.Cost:
		c.fail("the bound %d is above the cost %d", s.Bound, s.Cost)
	case s.Status != Short && s.AreaBound > s.Area:
		c.fail("the bound on the area is above the area")
	case s.Status == Proved && (!reached || s.ProvedBy == ""):
		c.fail("proved best with bound %d of %d by %q", s.Bound, s.Cost, s.ProvedBy)
	case s.Status != Proved && s.ProvedBy != "":
		c.fail("status %q names the proof %q", s.Status, s.ProvedBy)
	}
}
