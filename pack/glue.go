package pack

import (
	"slices"

	"pinfold/pack/internal/model"
)

// shape is a block of nx x ny copies of an item, none of them turned.
type shape struct{ item, nx, ny int }

// glued is a problem whose items are blocks of the items of another one. Blocks
// are cut alike and lie in stacks, so that a layout of few blocks takes few
// passes; what holds the blocks holds the items.
type glued struct {
	of     *model.Problem
	square []bool // the items as wide as high, which a turned block leaves unturned
	model  model.Problem
	shapes []shape
}

// add puts count blocks in.
func (g *glued) add(s shape, count int) {
	if i := slices.Index(g.shapes, s); i >= 0 {
		g.model.Items[i].Demand += count
		return
	}
	it := g.of.Items[s.item]
	b := model.Item{W: s.nx * it.W, H: s.ny * it.H, Demand: count}
	b.Turn = b.W != b.H && (it.Turn || g.square[s.item])
	b.Value = b.Area()
	g.shapes = append(g.shapes, s)
	g.model.Items = append(g.model.Items, b)
}

// scheme says how the copies of an item are glued: into blocks of rows rows of k,
// as many as make share percent of them, then, in rows of k, more of that share;
// into rows of rest what is over, and one row of what is over then.
type scheme struct {
	k, rows int
	along   bool // rows run along y
	share   int
	even    bool // only whole stacks of blocks
	rest    int
}

// glue adds an item's copies by a scheme. layers is the height of a stack.
func (g *glued) glue(item int, s scheme, layers int) {
	left := g.of.Items[item].Demand
	put := func(k, rows, n int) {
		n = min(n, left/(k*rows))
		if k*rows == 0 || n <= 0 {
			return
		}
		left -= n * k * rows
		if s.along {
			g.add(shape{item, rows, k}, n)
		} else {
			g.add(shape{item, k, rows}, n)
		}
	}
	whole := func(size int) int {
		n := left * s.share / 100 / size
		if s.even && n > layers {
			n -= n % layers
		}
		return n
	}
	if s.rows > 1 {
		put(s.k, s.rows, whole(s.k*s.rows))
	}
	put(s.k, 1, whole(s.k))
	put(s.rest, 1, left)
	if left > 0 {
		put(left, 1, 1)
	}
}

// estimate is about how many passes the blocks take: those within the blocks, and
// some to part them.
func (g *glued) estimate(layers int) int {
	sum := 0
	for i, s := range g.shapes {
		n := g.model.Items[i].Demand
		rows := ceilDiv(n, layers)*(s.ny-1) + ceilDiv(n*s.ny, layers)*(s.nx-1)
		columns := ceilDiv(n, layers)*(s.nx-1) + ceilDiv(n*s.nx, layers)*(s.ny-1)
		sum += min(rows, columns) + (n+1)/2
	}
	return sum
}

// fits tells whether every block fits some stock.
func (g *glued) fits() bool {
	for _, it := range g.model.Items {
		if !slices.ContainsFunc(g.model.Stocks, func(st model.Stock) bool {
			return len(st.Bad) == 0 && st.Copies != 0 && it.Fits(st.W, st.H)
		}) {
			return false
		}
	}
	return true
}
