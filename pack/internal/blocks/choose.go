package blocks

import (
	"encoding/binary"

	"pinfold/pack/internal/model"
)

// chooser takes listed contents one after another until every piece is taken:
// the next content always holds a piece of the item for which there is least
// choice among those still wanted.
type chooser struct {
	c    *CoverSearch
	pack *packing
	with [][]listed // by item
	rank []int      // items, least choice first

	stack  []choiceNode
	copies []int // of each stock, used
	seen   map[string]bool
}

// choiceNode is a state with the place in the list being tried.
type choiceNode struct {
	left  []uint64 // wanted still
	worth int64    // of it
	cost  int64    // still to spend
	item  int
	next  int
	took  listed
}

func newChooser(c *CoverSearch) *chooser {
	h := &chooser{c: c, seen: map[string]bool{}, copies: make([]int, len(c.tables))}
	n := len(c.pr.Items)
	counted, demand := make([]bool, n), make([]int, n)
	for i, it := range c.pr.Items {
		counted[i], demand[i] = true, it.Demand
	}
	h.pack = newPacking(demand, counted)
	h.with = make([][]listed, n)
	for _, t := range c.tables {
		for _, l := range t.list {
			for i := range n {
				if h.pack.get(l.copies, i) > 0 {
					h.with[i] = append(h.with[i], l)
				}
			}
		}
	}
	for i := range n {
		h.rank = append(h.rank, i)
	}
	// Stable by hand: few items.
	for a := 1; a < n; a++ {
		for b := a; b > 0 && len(h.with[h.rank[b]]) < len(h.with[h.rank[b-1]]); b-- {
			h.rank[b], h.rank[b-1] = h.rank[b-1], h.rank[b]
		}
	}
	all := make([]uint64, h.pack.words)
	for i, it := range c.pr.Items {
		if f := h.pack.field[i]; f.word >= 0 {
			all[f.word] |= uint64(it.Demand) << f.shift
		}
	}
	h.push(all, c.total, c.cost, listed{stock: -1})
	return h
}

func (h *chooser) push(left []uint64, worth, cost int64, took listed) {
	item := -1
	for _, i := range h.rank {
		if h.pack.get(left, i) > 0 {
			item = i
			break
		}
	}
	h.stack = append(h.stack, choiceNode{left: left, worth: worth, cost: cost, item: item, took: took})
}

// choose goes on for about the given number of steps.
func (c *CoverSearch) choose(steps int64) {
	h := c.choice
	for end := c.steps + steps; c.steps < end; {
		if len(h.stack) == 0 {
			c.verdict, c.stage = No, decided
			return
		}
		top := &h.stack[len(h.stack)-1]
		if top.item < 0 {
			c.finish()
			return
		}
		if top.next == len(h.with[top.item]) {
			h.leave()
			c.steps += 50
			continue
		}
		l := h.with[top.item][top.next]
		top.next++
		c.steps += 4
		price, copies := c.price[l.stock], c.copies[l.stock]
		if copies != model.Unlimited && h.copies[l.stock] >= copies || price > top.cost {
			continue
		}
		left, ok := h.minus(top.left, l.copies)
		if !ok {
			continue
		}
		h.copies[l.stock]++
		c.steps += 200
		if h.seen[h.key(left, top.cost-price)] || !c.affords(h, top.worth-l.worth, top.cost-price) {
			h.copies[l.stock]--
			continue
		}
		h.push(left, top.worth-l.worth, top.cost-price, l)
	}
}

// maxSeen bounds the states remembered as hopeless.
const maxSeen = 500_000

// leave goes back to the state before the last choice and remembers that what it
// led to is hopeless.
func (h *chooser) leave() {
	n := h.stack[len(h.stack)-1]
	if len(h.seen) < maxSeen {
		h.seen[h.key(n.left, n.cost)] = true
	}
	if n.took.stock >= 0 {
		h.copies[n.took.stock]--
	}
	h.stack = h.stack[:len(h.stack)-1]
}

// key names a state: what is wanted, what may be spent, what is used of stocks
// that may run out.
func (h *chooser) key(left []uint64, cost int64) string {
	b := make([]byte, 0, 8*(len(left)+2+len(h.copies)))
	for _, w := range left {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	b = binary.LittleEndian.AppendUint64(b, uint64(cost))
	for i, n := range h.copies {
		if h.c.copies[i] != model.Unlimited {
			b = binary.AppendUvarint(b, uint64(n))
		}
	}
	return string(b)
}

// minus takes copies from left, if they are all there.
func (h *chooser) minus(left, copies []uint64) ([]uint64, bool) {
	out := make([]uint64, len(left))
	for k := range left {
		d := (left[k] | h.pack.guard[k]) - copies[k]
		if d&h.pack.guard[k] != h.pack.guard[k] {
			return nil, false
		}
		out[k] = d &^ h.pack.guard[k]
	}
	return out, true
}

// affords tells whether the money left could buy enough worth, if each sheet held
// the most it can: the free ones first, then the cheapest for what it holds as if
// it could be had for all the money.
func (c *CoverSearch) affords(h *chooser, worth, cost int64) bool {
	for i, t := range c.tables {
		if c.price[i] > 0 || t.relax == nil {
			continue
		}
		if c.copies[i] == model.Unlimited {
			return true
		}
		worth -= int64(c.copies[i]-h.copies[i]) * t.most
	}
	if worth <= 0 {
		return true
	}
	for i, t := range c.tables {
		if c.price[i] > 0 && cost*t.most >= worth*c.price[i] {
			return true
		}
	}
	return false
}

// finish lays the choice out.
func (c *CoverSearch) finish() {
	sol := &model.Solution{}
	for _, n := range c.choice.stack[1:] {
		t := c.tables[n.took.stock]
		if len(c.pr.Stocks[n.took.stock].Bad) > 0 {
			c.stage = decided // layouts know nothing of bad areas
			return
		}
		sol.Add(model.Pattern{Stock: n.took.stock, Placed: t.enum.placed(n.took.block)}, 1)
	}
	c.best, c.verdict, c.stage = sol, Yes, decided
}
