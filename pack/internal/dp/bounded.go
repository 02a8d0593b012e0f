package dp

import (
	"slices"

	"pinfold/pack/internal/model"
)

// Bounded fills sheets with limited copies by keeping one filling, with its
// counts, for every rectangle: the recursion of the free [Table], where two
// parts meet only if together they stay within what is left. A rectangle may
// need a filling that is not its best one to make the whole best, so the value
// found may be improved upon (Russo, Boccia, Sforza and Sterle, International
// Transactions in Operational Research 27, 2020). It has no stage limit. One
// goroutine uses it at a time.
type Bounded struct {
	items []model.Item
	work  int64

	g      grid
	words  int      // counts of a rectangle, eight items to a word
	byteOf []int32  // place of an item among the counts, -1 if none is left
	limit  []uint64 // 127 less what is left, byte for byte

	best  []int64
	count []uint64
	from  []origin
	flat  []int64
	row   []block
	cols  []column

	around around
}

// origin tells where a rectangle's filling comes from.
type origin struct {
	kind splitKind
	part int32 // as in split; the shape of a leaf
}

// NewBounded prepares for filling sheets with the items.
func NewBounded(items []model.Item) *Bounded {
	return &Bounded{items: slices.Clone(items)}
}

// Work is what the last Fill or Lay took, in units of about a microsecond.
func (b *Bounded) Work() int64 { return b.work }

// Dense is the number of rectangles above which the quick tables try only about
// thinTo positions along each axis.
const (
	Dense  = 150_000
	thinTo = 260
)

// high marks the top bit of every byte.
const high = 0x8080808080808080

// most is the largest number of copies a byte counts.
const most = 127

// Fill returns a valuable filling of a w x h sheet with at most left[k] copies
// of item k.
func (b *Bounded) Fill(w, h int, values []int64, left []int) []model.Placed {
	b.Lay(w, h, values, left)
	return b.Read(w, h, values, left)
}

// Lay fills every rectangle within w x h, for [Bounded.Read].
func (b *Bounded) Lay(w, h int, values []int64, left []int) {
	for k := range b.items {
		b.items[k].Demand = left[k]
	}
	b.g.build(b.items, []Size{{w, h}})
	b.work = int64((w+h)*len(b.g.shapes))/(2*stepsPerUnit) + 3
	if b.g.cells() > Dense {
		b.g.thin(thinTo)
	}
	b.prepare(left)
	b.solve(values)
}

// Read returns the filling of a rectangle within the last that was laid, for the
// same values and copies.
func (b *Bounded) Read(w, h int, values []int64, left []int) []model.Placed {
	r := b.recovery(values, left)
	b.write(&r, int(b.g.px[w]), int(b.g.py[h]), model.Rect{W: w, H: h})
	r.refillAll()
	return r.placed
}

func (b *Bounded) recovery(values []int64, left []int) recovery {
	return recovery{Table: &Table{grid: &b.g, value: values}, left: slices.Clone(left)}
}

func (b *Bounded) prepare(left []int) {
	g := &b.g
	b.byteOf = slices.Grow(b.byteOf[:0], len(left))[:len(left)]
	for k := range b.byteOf {
		b.byteOf[k] = -1
	}
	n := int32(0)
	for _, s := range g.shapes {
		if b.byteOf[s.item] < 0 {
			b.byteOf[s.item] = n
			n++
		}
	}
	b.words = int(n+7) / 8
	b.limit = resized(b.limit, b.words)
	for k, p := range b.byteOf {
		if p >= 0 {
			b.limit[p/8] |= uint64(most-min(left[k], most)) << (8 * (p % 8))
		}
	}
	cells := len(g.x) * len(g.y)
	b.best = resized(b.best, cells)
	b.count = resized(b.count, cells*b.words)
	b.from = resized(b.from, cells)
	b.flat = resized(b.flat, len(g.px))
	b.cols = slices.Grow(b.cols[:0], len(g.x))[:len(g.x)]
	for i := range b.cols {
		b.cols[i] = column{blocks: b.cols[i].blocks[:0]}
	}
}

// together tells whether the fillings of cells p and q stay within the limits.
func (b *Bounded) together(p, q int) bool {
	w := b.words
	cp, cq := b.count[p*w:p*w+w], b.count[q*w:q*w+w]
	for k, l := range b.limit {
		if (cp[k]+cq[k]+l)&high != 0 {
			return false
		}
	}
	return true
}

func (b *Bounded) solve(values []int64) {
	g := &b.g
	ny, words := len(g.y), b.words
	steps := 0
	for j := 1; j < ny; j++ {
		row, half, left := b.row[:0], 0, int64(0)
		shapes := g.shapes[g.of[j]:g.of[j+1]]
		for i := 1; i < len(g.x); i++ {
			x, cell := g.x[i], i*ny+j
			for w := g.x[i-1] + 1; w < x; w++ {
				b.flat[w] = left
			}
			v, o, p, q := left, origin{shrunk, int32(i - 1)}, cell-ny, 0
			if below := b.best[cell-1]; below > v {
				v, o, p = below, origin{sunk, int32(j - 1)}, cell-1
			}
			for half < len(row) && 2*g.x[row[half].at] <= x {
				half++
			}
			for _, e := range row[:half] {
				rest := x - g.x[e.at]
				if u := e.value + b.flat[rest]; u > v {
					if pp, qq := int(e.at)*ny+j, int(g.px[rest])*ny+j; b.together(pp, qq) {
						v, o, p, q = u, origin{cutX, e.at}, pp, qq
					}
				}
			}
			col := &b.cols[i]
			for col.half < len(col.blocks) && 2*g.y[col.blocks[col.half].at] <= g.y[j] {
				col.half++
			}
			for _, e := range col.blocks[:col.half] {
				qq := i*ny + int(g.py[g.y[j]-g.y[e.at]])
				if u := e.value + b.best[qq]; u > v {
					if pp := i*ny + int(e.at); b.together(pp, qq) {
						v, o, p, q = u, origin{cutY, e.at}, pp, qq
					}
				}
			}
			steps += half + col.half
			single := int32(-1)
			for k := range shapes {
				if s := &shapes[k]; int(s.i) == i && values[s.item] > v {
					v, o, single = values[s.item], origin{leaf, int32(g.of[j] + k)}, s.item
				}
			}
			count := b.count[cell*words : cell*words+words]
			switch {
			case single >= 0:
				k := b.byteOf[single]
				count[k/8] = 1 << (8 * (k % 8))
			case o.kind == cutX || o.kind == cutY:
				cp, cq := b.count[p*words:], b.count[q*words:]
				for k := range count {
					count[k] = cp[k] + cq[k]
				}
			default:
				copy(count, b.count[p*words:p*words+words])
			}
			b.best[cell], b.from[cell] = v, o
			if v > left {
				row = append(row, block{v, int32(i)})
			}
			if v > b.best[cell-1] {
				col.blocks = append(col.blocks, block{v, int32(j)})
			}
			b.flat[x], left = v, v
		}
		b.row = row
	}
	b.work += int64(steps*3+len(b.best)*(12+words)) / stepsPerUnit
}

// write places the filling of the rectangle (i, j) in the region at.
func (b *Bounded) write(r *recovery, i, j int, at model.Rect) {
	g := &b.g
	ny := len(g.y)
	for b.best[i*ny+j] > 0 {
		o := b.from[i*ny+j]
		sub := at
		switch o.kind {
		case shrunk:
			i = int(o.part)
			continue
		case sunk:
			j = int(o.part)
			continue
		case leaf:
			r.place(g.shapes[o.part], hole{at, -1, model.AxisX})
			return
		case cutX:
			sub.W = g.x[o.part]
			at.X, at.W = at.X+sub.W, at.W-sub.W
			b.write(r, int(o.part), j, sub)
			i = int(g.px[g.x[i]-sub.W])
		case cutY:
			sub.H = g.y[o.part]
			at.Y, at.H = at.Y+sub.H, at.H-sub.H
			b.write(r, i, int(o.part), sub)
			j = int(g.py[g.y[j]-sub.H])
		}
	}
	if at.W > 0 && at.H > 0 {
		r.free = append(r.free, hole{at, -1, model.AxisX})
	}
}
