package blocks

import "pinfold/pack/internal/model"

// contents finds every content that each region of a small sheet with bad areas
// can have, as far as one is not part of another.
type contents struct {
	r      *regions
	pack   *packing
	demand []int
	lists  map[[4]int32][]content
	steps  int64
	left   int // contents that may still be listed
}

// content is a set of copies and how it is had: a piece at a place, or contents
// of the two parts a cut at a position makes.
type content struct {
	copies uint64
	shape  int32 // -1 if cut
	px, py int32
	axis   model.Axis
	at     int32
	a, b   int32
}

// mostContents bounds the contents listed in all, and mostTries the steps for
// them.
const (
	mostContents = 100_000
	mostTries    = 300_000 * stepsPerUnit
)

func newContents(r *regions, demand []int) *contents {
	counted := make([]bool, len(demand))
	for i := range counted {
		counted[i] = true
	}
	return &contents{r: r, pack: newPacking(demand, counted), demand: demand, lists: map[[4]int32][]content{}, left: mostContents}
}

// best returns the most valuable content of the sheet, or false if there was too
// much to try.
func (c *contents) best(value []int64) ([]model.Placed, int64, bool) {
	whole := c.r.list[len(c.r.list)-1]
	if c.pack.words > 1 {
		return nil, 0, false
	}
	list := c.of(whole)
	if c.left <= 0 {
		return nil, 0, false
	}
	best, worth := -1, int64(0)
	for k, l := range list {
		v := int64(0)
		for i, w := range value {
			v += w * int64(c.pack.get([]uint64{l.copies}, i))
		}
		if v > worth {
			best, worth = k, v
		}
	}
	var placed []model.Placed
	if best >= 0 {
		c.place(whole, int32(best), &placed)
		placed = c.within(placed)
	}
	return placed, worth, true
}

func (c *contents) of(g region) []content {
	key := [4]int32{g.x0, g.x1, g.y0, g.y1}
	if l, ok := c.lists[key]; ok || c.left <= 0 {
		return l
	}
	list := []content{{shape: -1, at: -1}}
	a := c.r.rect(g)
	for i, q := range c.r.s.shapes {
		if x, y, ok := c.r.room(q, a); ok {
			one := []uint64{0}
			c.pack.one(one, q.item)
			list = c.keep(list, content{copies: one[0], shape: int32(i), px: x, py: y})
		}
	}
	for p := g.x0 + 1; p < g.x1; p++ {
		list = c.join(list, c.of(region{g.x0, p, g.y0, g.y1}), c.of(region{p, g.x1, g.y0, g.y1}), model.AxisX, p)
	}
	for p := g.y0 + 1; p < g.y1; p++ {
		list = c.join(list, c.of(region{g.x0, g.x1, g.y0, p}), c.of(region{g.x0, g.x1, p, g.y1}), model.AxisY, p)
	}
	c.left -= len(list)
	c.lists[key] = list
	return list
}

func (c *contents) join(list, as, bs []content, axis model.Axis, at int32) []content {
	if c.steps > mostTries {
		c.left = 0
		return list
	}
	for i, a := range as {
		for j, b := range bs {
			list = c.keep(list, content{copies: c.sum(a.copies, b.copies), shape: -1, axis: axis, at: at, a: int32(i), b: int32(j)})
		}
	}
	return list
}

// sum adds copies; what exceeds a demand is left out of the sheet.
func (c *contents) sum(a, b uint64) uint64 {
	s := a + b
	if (s+c.pack.bias[0])&c.pack.guard[0] == 0 {
		return s
	}
	for i, d := range c.demand {
		f := c.pack.field[i]
		if n := int(s >> f.shift & (1<<f.width - 1)); n > d {
			s -= uint64(n-d) << f.shift
		}
	}
	return s
}

// keep adds n to the list unless it is part of another, and drops what is part
// of it.
func (c *contents) keep(list []content, n content) []content {
	c.steps += 10 + int64(len(list))*2
	g := c.pack.guard[0]
	for _, l := range list {
		if ((l.copies|g)-n.copies)&g == g {
			return list
		}
	}
	kept := list[:0:0]
	for _, l := range list {
		if ((n.copies|g)-l.copies)&g != g {
			kept = append(kept, l)
		}
	}
	return append(kept, n)
}

func (c *contents) place(g region, k int32, placed *[]model.Placed) {
	l := c.lists[[4]int32{g.x0, g.x1, g.y0, g.y1}][k]
	switch {
	case l.shape >= 0:
		q := c.r.s.shapes[l.shape]
		*placed = append(*placed, model.Placed{Item: q.item, X: l.px, Y: l.py, Turned: q.turned})
	case l.at < 0:
	case l.axis == model.AxisX:
		c.place(region{g.x0, l.at, g.y0, g.y1}, l.a, placed)
		c.place(region{l.at, g.x1, g.y0, g.y1}, l.b, placed)
	default:
		c.place(region{g.x0, g.x1, g.y0, l.at}, l.a, placed)
		c.place(region{g.x0, g.x1, l.at, g.y1}, l.b, placed)
	}
}

// within leaves out the copies beyond the demands.
func (c *contents) within(placed []model.Placed) []model.Placed {
	n := make([]int, len(c.demand))
	kept := placed[:0]
	for _, q := range placed {
		if n[q.Item]++; n[q.Item] <= c.demand[q.Item] {
			kept = append(kept, q)
		}
	}
	return kept
}
