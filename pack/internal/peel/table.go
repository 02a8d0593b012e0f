package peel

import (
	"math"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/random"
)

// What steers the making of a table.
const (
	deep   = 2  // blocks kept of a size
	deeper = 8  // the same of few pieces, when nothing may be wasted
	splits = 24 // cuts of a size that are looked at
)

// kind is an item with the copies that blocks may use.
type kind struct {
	item   int
	w, h   int
	turn   bool
	copies int
	merit  int32 // of one copy
}

// block is a rectangle filled without waste: a piece, or two blocks side by side
// or one above the other.
type block struct {
	w, h   int32
	a, b   int32 // the two blocks; of a piece a is its kind
	merit  int32 // the less, the rather it is kept
	piece  bool
	turned bool
	must   bool // holds the kind that must be
}

// table holds, for sizes up to width x height, a few blocks of exactly that size.
type table struct {
	width, height int
	region        int // the height of the region, perhaps more than the table's
	kinds         []kind
	fields        *fields
	deep          int32 // blocks kept of a size
	must          int   // a kind; as many blocks again are kept that hold it; -1 for none
	rnd           *random.Stream

	row    int // the last height whose blocks were made
	single map[[2]int][]block
	blocks []block
	sums   []uint64 // the counts of the blocks
	sum    counts   // of the block being made
	cells  []cell   // by height, then width
	slots  []int32  // the blocks of each cell
	work   int64
}

// cell is the blocks of one size: slots from from.
type cell struct {
	from, n int32
	// Of the blocks without and with the kind that must be: how many there are,
	// and the merit that one more has to beat.
	held, worst [2]int32
}

func (t *table) at(w, h int) *cell { return &t.cells[h*(t.width+1)+w] }

func (t *table) of(c *cell) []int32 { return t.slots[c.from : c.from+c.n] }

func (t *table) counts(i int32) counts {
	n := len(t.sum)
	return t.sums[int(i)*n : int(i)*n+n]
}

// begin makes the table empty. Kinds, fields, sizes and must are set.
func (t *table) begin() {
	t.row = 0
	t.blocks, t.slots, t.sums = t.blocks[:0], t.slots[:0], t.sums[:0]
	t.sum = make(counts, len(t.fields.over))
	n := (t.width + 1) * (t.height + 1)
	t.cells = slices.Grow(t.cells[:0], n)[:n]
	clear(t.cells)
	t.work += int64(n) / 4
	t.single = make(map[[2]int][]block)
	for i, k := range t.kinds {
		size := [2]int{k.w, k.h}
		t.single[size] = append(t.single[size], block{a: int32(i), piece: true, merit: k.merit})
		if size = [2]int{k.h, k.w}; k.turn {
			t.single[size] = append(t.single[size], block{a: int32(i), piece: true, merit: k.merit, turned: true})
		}
	}
}

// fill makes blocks until the work is end, and tells whether all are made.
func (t *table) fill(end int64) bool {
	for t.row < t.height && t.work < end {
		t.row++
		for w := 1; w <= t.width; w++ {
			c := t.at(w, t.row)
			c.from = int32(len(t.slots))
			c.worst = [2]int32{math.MaxInt32, math.MaxInt32}
			for _, b := range t.single[[2]int{w, t.row}] {
				t.fields.one(t.sum, int(b.a))
				t.keep(c, b, w, t.row)
			}
			t.combine(c, w, t.row)
		}
	}
	return t.row == t.height
}

// combine makes blocks of a size from two: at every cut if it may be a row or a
// column, else at some.
func (t *table) combine(c *cell, w, h int) {
	cuts := w/2 + h/2
	some := cuts > splits && w < t.width && h < t.region
	n := cuts
	if some {
		n = splits
	}
	t.work += int64(n)
	for k := range n {
		if some {
			k = t.rnd.Below(cuts)
		}
		if k < w/2 {
			t.pair(c, t.at(k+1, h), t.at(w-k-1, h), w, h)
		} else {
			k -= w / 2
			t.pair(c, t.at(w, k+1), t.at(w, h-k-1), w, h)
		}
	}
}

// pair makes blocks of a size from those of two sizes.
func (t *table) pair(c, p, q *cell, w, h int) {
	t.work += int64(p.n * q.n)
	for _, i := range t.of(p) {
		for _, j := range t.of(q) {
			m := t.blocks[i].merit + t.blocks[j].merit
			if m >= c.worst[0] && m >= c.worst[1] || !t.fields.sum(t.sum, t.counts(i), t.counts(j)) {
				continue
			}
			t.keep(c, block{a: i, b: j, merit: m}, w, h)
		}
	}
}

// keep keeps the block whose counts are t.sum if it is among the best of its size.
func (t *table) keep(c *cell, b block, w, h int) {
	b.w, b.h = int32(w), int32(h)
	class := 0
	if t.must >= 0 && t.fields.of(t.sum, t.must) > 0 {
		b.must, class = true, 1
	}
	if b.merit >= c.worst[class] {
		return
	}
	t.work += int64(c.n)
	// The worst of its class, and the merit of the next.
	worst, next := int32(-1), int32(math.MinInt32)
	for _, i := range t.of(c) {
		x := &t.blocks[i]
		switch {
		case slices.Equal(t.counts(i), t.sum):
			return
		case x.must != b.must:
		case worst < 0:
			worst = i
		case x.merit > t.blocks[worst].merit:
			next, worst = max(next, t.blocks[worst].merit), i
		default:
			next = max(next, x.merit)
		}
	}
	if c.held[class] == t.deep {
		// No block is built of this one yet: those of its size come first.
		t.blocks[worst] = b
		copy(t.counts(worst), t.sum)
		c.worst[class] = max(next, b.merit)
		return
	}
	t.slots = append(t.slots, int32(len(t.blocks)))
	t.blocks = append(t.blocks, b)
	t.sums = append(t.sums, t.sum...)
	c.n++
	if c.held[class]++; c.held[class] == t.deep {
		c.worst[class] = max(b.merit, t.blocks[worst].merit)
	}
}

// lay lists what block i holds from its corner at x, y.
func (t *table) lay(out []model.Placed, i int32, x, y int) []model.Placed {
	b := &t.blocks[i]
	if b.piece {
		return append(out, model.Placed{Item: int32(t.kinds[b.a].item), X: int32(x), Y: int32(y), Turned: b.turned})
	}
	a := &t.blocks[b.a]
	out = t.lay(out, b.a, x, y)
	if a.h == b.h {
		return t.lay(out, b.b, x+int(a.w), y)
	}
	return t.lay(out, b.b, x, y+int(a.h))
}
