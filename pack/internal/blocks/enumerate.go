package blocks

import (
	"cmp"
	"slices"

	"pinfold/pack/internal/model"
)

// block is a rectangle cut into pieces and waste: one piece, or two blocks
// beside or above one another.
type block struct {
	w, h  int32
	worth int64 // of the pieces, in the relaxation's values
	value int64 // of the pieces
	a, b  int32 // the two blocks; for a piece its shape
	chain int32 // next block of equal hash
	link  int32 // next block waiting in the same group
	kind  kind
	deep  uint8  // stages
	parts uint16 // pieces
	state state
}

// kind says along which axis a block is cut first.
type kind uint8

const (
	piece kind = iota
	besideX
	aboveY
	either // the same pieces in the same rectangle can be had both ways
)

type state uint8

const (
	waiting state = iota
	settled
	dead
)

// group is all blocks of one size, the worthiest first.
type group struct {
	w, h     int32
	from, to int32 // in enumeration.order
	best     int64 // worth of the first
	slack    int64 // by how much the first could be worse and still be of use
	loss     int64 // by how much the first is worse than an unlimited filling
}

// enumeration builds, smallest first, every block that could be part of a
// layout worth the target: those whose worth and the bound on what fits outside
// come to it (Wang 1983; Wang, Baldacci, Liu & Wei 2025). Of blocks of equal
// copies only those no larger than another are left out, so that running to the
// end without a layout proves that there is none.
type enumeration struct {
	s     *sheet
	pack  *packing
	out   *outside
	worth []int64 // by item: what the relaxation counts for one copy
	value []int64 // by item
	scale int64   // worth = scale * value - price, price 0 if demand is no limit
	base  int64   // sum of price * demand

	target int64  // a layout is wanted worth at least this
	most   int    // blocks at once
	ever   int    // and in any enumeration
	width  int    // blocks kept of one size; 0 for all
	salt   uint64 // chooses among blocks that seem alike
	every  bool   // every layout worth the target is wanted, not the best

	blocks  []block
	copies  []uint64 // words of each block
	heads   []int32  // by hash
	order   []int32
	groups  []group
	queue   []uint64 // heap of sizes that wait
	waitsAt map[uint64]int32
	tmp     []uint64

	g, f    int // groups being combined: g with groups up to f
	steps   int64
	cut     bool // something was left out for want of room
	found   *model.Pattern
	foundAt int64 // its value
}

func newEnumeration(s *sheet, p *packing, o *outside, memory int) *enumeration {
	return &enumeration{s: s, pack: p, out: o, ever: memory / (blockBytes + 8*p.words), waitsAt: map[uint64]int32{}, tmp: make([]uint64, p.words)}
}

// start begins anew for a target.
func (e *enumeration) start(target int64, most, width int) {
	e.target, e.most, e.width = target, most, width
	e.blocks, e.copies = e.blocks[:0], e.copies[:0]
	e.order, e.groups, e.queue = e.order[:0], e.groups[:0], e.queue[:0]
	clear(e.waitsAt)
	n := 1 << 10
	for n < most && n < 1<<21 {
		n *= 2
	}
	if len(e.heads) != n {
		e.heads = make([]int32, n)
	}
	for i := range e.heads {
		e.heads[i] = none
	}
	e.g, e.f = -1, 0
	e.steps, e.cut, e.found = int64(n/16), false, nil
	for i, q := range e.s.shapes {
		e.pack.one(e.tmp, q.item)
		e.add(block{
			w: q.w, h: q.h, worth: e.worth[q.item], value: e.value[q.item], a: int32(i), b: none, kind: piece, parts: 1,
		}, e.bound(e.s.cell(int(q.w), int(q.h))))
	}
}

const none = int32(-1)

// blockBytes is what a block takes besides its copies.
const blockBytes = 56

// bound is the least worth that a block at a cell needs.
func (e *enumeration) bound(cell int) int64 {
	return e.scale*e.target - e.base - e.out.most[cell]
}

// outcome of a run of an enumeration.
type outcome uint8

const (
	running outcome = iota
	complete
	full // more blocks than allowed
)

// run works for about the given number of steps.
func (e *enumeration) run(steps int64) outcome {
	for end := e.steps + steps; e.steps < end; {
		if len(e.blocks) >= e.most {
			e.cut = true
			return full
		}
		if e.g < 0 || e.f > e.g {
			if len(e.queue) == 0 {
				return complete
			}
			e.settle()
			continue
		}
		to := min(e.f+4096, e.g+1)
		e.combine(e.g, e.f, to)
		e.f = to
	}
	return running
}

// settle takes the next size, at which nothing more can arrive, and makes it a
// group.
func (e *enumeration) settle() {
	key := e.pop()
	g := group{w: int32(key >> 32), h: int32(key & (1<<32 - 1)), from: int32(len(e.order))}
	cell := e.s.cell(int(g.w), int(g.h))
	need := e.bound(cell)
	for i := e.waitsAt[key]; i != none; i = e.blocks[i].link {
		b := &e.blocks[i]
		e.steps += 4
		if b.state == dead {
			continue
		}
		if b.worth < need {
			b.state = dead
			continue
		}
		b.state = settled
		e.order = append(e.order, i)
	}
	delete(e.waitsAt, key)
	list := e.order[g.from:]
	slices.SortFunc(list, func(a, b int32) int {
		if d := cmp.Compare(e.blocks[b].worth, e.blocks[a].worth); d != 0 {
			return d
		}
		// Small pieces are the easier to place later.
		if d := cmp.Compare(e.blocks[a].parts, e.blocks[b].parts); d != 0 {
			return d
		}
		if d := cmp.Compare(mix(a, e.salt), mix(b, e.salt)); d != 0 {
			return d
		}
		return cmp.Compare(a, b)
	})
	e.steps += int64(len(list)) * 20
	if e.width > 0 && len(list) > e.width {
		e.cut = true
		for _, i := range list[e.width:] {
			e.blocks[i].state = dead
		}
		e.order = e.order[:int(g.from)+e.width]
	}
	g.to = int32(len(e.order))
	if g.to == g.from {
		return
	}
	g.best = e.blocks[e.order[g.from]].worth
	g.slack = g.best - need
	g.loss = e.out.r.best[cell] - g.best
	e.groups = append(e.groups, g)
	e.g, e.f = len(e.groups)-1, 0
}

// mix is a fixed number for a block that tells nothing of it.
func mix(i int32, salt uint64) uint64 { return (uint64(i) ^ salt) * 0x9e3779b97f4a7c15 >> 20 }

// combine puts every block of group g beside and above those of groups from to
// to.
func (e *enumeration) combine(gi, from, to int) {
	g := e.groups[gi]
	width, height := int32(e.s.w)-g.w, int32(e.s.h)-g.h
	e.steps += int64(to - from)
	for fi := from; fi < to; fi++ {
		f := &e.groups[fi]
		if f.loss > g.slack || g.loss > f.slack {
			continue
		}
		if f.w <= width {
			e.join(g, *f, gi == fi, besideX, g.w+f.w, max(g.h, f.h))
		}
		if f.h <= height {
			e.join(g, *f, gi == fi, aboveY, max(g.w, f.w), g.h+f.h)
		}
	}
}

// join makes the blocks of size w x h from one block of g and one of f.
func (e *enumeration) join(g, f group, same bool, k kind, w, h int32) {
	e.steps += 4
	need := e.bound(e.s.cell(int(w), int(h)))
	if g.best+f.best < need {
		return
	}
	words := e.pack.words
	fs := e.order[f.from:f.to]
	for i := g.from; i < g.to; i++ {
		ai := e.order[i]
		a := &e.blocks[ai]
		if a.worth+f.best < need {
			break
		}
		if same {
			fs = e.order[i:f.to]
		}
		rest := need - a.worth
		for _, bi := range fs {
			b := &e.blocks[bi]
			if b.worth < rest {
				break
			}
			e.steps += 2
			// Of a run of parts along one axis the last is not itself such a run.
			if a.kind == k && b.kind == k {
				continue
			}
			if !e.pack.add(e.tmp, e.copies[int(ai)*words:int(ai)*words+words], e.copies[int(bi)*words:int(bi)*words+words]) {
				continue
			}
			deep := max(a.stages(k), b.stages(k))
			if most := e.s.pr.Stages; most > 0 && int(deep) > most {
				continue
			}
			worth := a.worth + b.worth
			e.add(block{w: w, h: h, worth: worth, value: a.value + b.value, a: ai, b: bi, kind: k, deep: deep, parts: a.parts + b.parts}, need)
			if len(e.blocks) >= e.most {
				return
			}
			a = &e.blocks[ai] // the blocks may have moved
		}
	}
}

// stages is how many stages b takes as part of a run cut as k.
func (b *block) stages(k kind) uint8 {
	if b.kind == k {
		return b.deep
	}
	return min(b.deep+1, 250)
}

// add puts a block, whose copies are in tmp, among those that wait, unless it
// is worth less than need or another has the same copies in no larger a
// rectangle.
func (e *enumeration) add(b block, need int64) {
	if b.worth < need {
		return
	}
	e.steps += 30
	head := &e.heads[hashWords(e.tmp)&uint64(len(e.heads)-1)]
	words := e.pack.words
	for i := *head; i != none; i = e.blocks[i].chain {
		c := &e.blocks[i]
		e.steps++
		if c.state == dead || !slices.Equal(e.tmp, e.copies[int(i)*words:int(i)*words+words]) {
			continue
		}
		if c.w <= b.w && c.h <= b.h && c.worth >= b.worth && e.noDeeper(c, &b) {
			if c.w == b.w && c.h == b.h && c.kind != b.kind {
				c.kind = either
			}
			return
		}
		if c.state == waiting && b.w <= c.w && b.h <= c.h && b.worth >= c.worth && e.noDeeper(&b, c) {
			c.state = dead
		}
	}
	i := int32(len(e.blocks))
	b.chain = *head
	*head = i
	key := uint64(b.w)<<32 | uint64(b.h)
	at, ok := e.waitsAt[key]
	if !ok {
		at = none
		e.push(key)
	}
	b.link = at
	e.waitsAt[key] = i
	e.grow()
	e.blocks = append(e.blocks, b)
	e.copies = append(e.copies, e.tmp...)
	if b.value >= e.target && !e.every {
		e.found = &model.Pattern{Stock: e.s.stock, Placed: e.placed(i)}
		e.foundAt = b.value
		e.target = b.value + 1
	}
}

// grow makes room for a block. Beyond few blocks the room is made at once for as
// many as there may ever be: memory not touched costs nothing, and no half of it
// is left behind as garbage.
func (e *enumeration) grow() {
	const few = 1 << 16
	if len(e.blocks) < few || len(e.blocks) < cap(e.blocks) {
		return
	}
	e.blocks = append(make([]block, 0, e.ever+few), e.blocks...)
	e.copies = append(make([]uint64, 0, (e.ever+few)*e.pack.words), e.copies...)
}

// noDeeper tells whether a takes no more stages than b in any surroundings.
func (e *enumeration) noDeeper(a, b *block) bool {
	if e.s.pr.Stages == 0 {
		return true
	}
	// Kinds are told apart here, so that either never arises.
	return a.kind == b.kind && a.deep <= b.deep
}

// placed lists the pieces of a block in the corner of the sheet.
func (e *enumeration) placed(i int32) []model.Placed {
	type at struct{ block, x, y int32 }
	var out []model.Placed
	for todo := []at{{i, 0, 0}}; len(todo) > 0; {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		b := &e.blocks[t.block]
		if b.b == none {
			q := e.s.shapes[b.a]
			out = append(out, model.Placed{Item: q.item, X: t.x, Y: t.y, Turned: q.turned})
			continue
		}
		first := &e.blocks[b.a]
		// A block that can be had both ways keeps the parts of the first way found.
		second := &e.blocks[b.b]
		beside := b.kind == besideX || b.kind == either && first.w+second.w == b.w && max(first.h, second.h) == b.h
		if beside {
			todo = append(todo, at{b.b, t.x + first.w, t.y})
		} else {
			todo = append(todo, at{b.b, t.x, t.y + first.h})
		}
		todo = append(todo, at{b.a, t.x, t.y})
	}
	return out
}
