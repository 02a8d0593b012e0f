package blocks

import (
	"math"

	"pinfold/pack/internal/model"
)

// mender improves a layout by taking parts out and filling what they leave, over
// and over: the goal-driven ruin and recreate of Gardeyn & Wauters (EJOR 301,
// 2022) for the value of one sheet.
type mender struct {
	s     *sheet
	value []int64
	rnd   uint64

	now, try mendTree
	best     int64
	history  []mendRank
	at       int
	steps    int64
	order    []int32 // shapes' items in the order tried
	key      []uint64
}

// mendRank orders layouts: more value first, then what is left in fewer pieces.
type mendRank struct {
	value int64
	left  float64
}

func (a mendRank) better(b mendRank) bool {
	return a.value > b.value || a.value == b.value && a.left > b.left
}

// mendTree is a cut tree: node 0 is the sheet.
type mendTree struct {
	nodes []mendNode
	left  []int // copies not on the sheet, by item
	rank  mendRank
}

// mendNode is a piece, a rectangle left over, or a region cut along an axis into
// the nodes from first on, linked by next.
type mendNode struct {
	what        int32 // shape, or one of those below
	w, h        int32
	first, next int32
}

const (
	leftover int32 = -1
	cutX     int32 = -2
	cutY     int32 = -3
	gone     int32 = -4 // to be left over
)

// The sizes of a step: up to mendDepth*2-1 parts are taken out, and a layout is
// accepted if it is better than that of mendMemory acceptances before.
const (
	mendDepth  = 4
	mendMemory = 60
)

func newMender(s *sheet, value []int64) *mender {
	m := &mender{s: s, value: value, rnd: 1}
	m.history = make([]mendRank, mendMemory)
	m.key = make([]uint64, len(value))
	for i, d := range s.demand {
		if d > 0 {
			m.order = append(m.order, int32(i))
		}
	}
	return m
}

func (m *mender) random() uint64 {
	m.rnd += 0x9e3779b97f4a7c15
	z := m.rnd
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

func (m *mender) below(n int) int { return int(m.random() >> 33 % uint64(n)) }

// load takes a layout to start from.
func (m *mender) load(placed []model.Placed) bool {
	tree, err := model.Build(m.s.pr, m.s.w, m.s.h, 0, placed)
	if err != nil {
		return false
	}
	t := &m.now
	t.nodes = t.nodes[:0]
	t.left = append(t.left[:0], m.s.demand...)
	for _, q := range placed {
		t.left[q.Item]--
	}
	m.copyTree(t, tree, placed, m.s.w, m.s.h)
	m.judge(t)
	for i := range m.history {
		m.history[i] = t.rank
	}
	m.best = t.rank.value
	return true
}

func (m *mender) copyTree(t *mendTree, n *model.Tree, placed []model.Placed, w, h int) int32 {
	i := int32(len(t.nodes))
	t.nodes = append(t.nodes, mendNode{what: leftover, w: int32(w), h: int32(h), first: none, next: none})
	switch {
	case n.Empty():
	case n.Leaf:
		q := placed[n.Piece]
		for k, s := range m.s.shapes {
			if s.item == q.Item && s.turned == q.Turned {
				t.nodes[i].what = int32(k)
			}
		}
	default:
		t.nodes[i].what = cutX - int32(n.Axis)
		before := none
		for k, part := range n.Parts {
			pw, ph := n.Len[k], h
			if n.Axis == model.AxisY {
				pw, ph = w, n.Len[k]
			}
			c := m.copyTree(t, part, placed, pw, ph)
			if before == none {
				t.nodes[i].first = c
			} else {
				t.nodes[before].next = c
			}
			before = c
		}
	}
	return i
}

// judge works out a layout's rank.
func (m *mender) judge(t *mendTree) {
	t.rank = mendRank{}
	for _, n := range t.nodes {
		switch {
		case n.what >= 0:
			t.rank.value += m.value[m.s.shapes[n.what].item]
		case n.what == leftover:
			t.rank.left += worthLeft(n.w, n.h)
		}
	}
}

// worthLeft is what a leftover counts: more than its parts would.
func worthLeft(w, h int32) float64 {
	a := float64(w) * float64(h)
	return a * math.Sqrt(math.Sqrt(a))
}

// run takes about the given number of steps, and tells whether a layout better
// than any before was found.
func (m *mender) run(steps int64) bool {
	for end := m.steps + steps; m.steps < end; {
		m.ruin()
		m.rebuild()
		m.recreate()
		m.judge(&m.try)
		m.steps += int64(len(m.try.nodes)) * 12
		h := &m.history[m.at]
		if !m.try.rank.better(*h) && !m.try.rank.better(m.now.rank) && m.try.rank != m.now.rank {
			m.restore()
			continue
		}
		m.now, m.try = m.try, m.now
		*h = m.now.rank
		m.at = (m.at + 1) % len(m.history)
		if m.now.rank.value > m.best {
			m.best = m.now.rank.value
			return true
		}
	}
	return false
}

// ruin marks a few parts of the present layout as gone.
func (m *mender) ruin() {
	nodes := m.now.nodes
	for n := 1 + m.below(2*mendDepth-1); n > 0 && len(nodes) > 1; n-- {
		i := 1 + m.below(len(nodes)-1)
		// A leftover says where, not what: take its neighbour in the list.
		if nodes[i].what == leftover && i+1 < len(nodes) {
			i++
		}
		if w := nodes[i].what; w == gone || w == leftover || w >= goneMark-8 {
			continue
		}
		nodes[i].what += goneMark
	}
}

// goneMark is added to what a node is when it is taken out, so that it can be
// put back.
const goneMark = 1 << 20

// restore undoes ruin.
func (m *mender) restore() {
	for i := range m.now.nodes {
		if n := &m.now.nodes[i]; n.what >= goneMark-8 {
			n.what -= goneMark
		}
	}
}

// placed lists the pieces of the present layout.
func (m *mender) placed() []model.Placed {
	var out []model.Placed
	var walk func(i, x, y int32)
	walk = func(i, x, y int32) {
		n := m.now.nodes[i]
		if n.what >= 0 {
			q := m.s.shapes[n.what]
			out = append(out, model.Placed{Item: q.item, X: x, Y: y, Turned: q.turned})
			return
		}
		for c := n.first; c != none; c = m.now.nodes[c].next {
			walk(c, x, y)
			if n.what == cutX {
				x += m.now.nodes[c].w
			} else {
				y += m.now.nodes[c].h
			}
		}
	}
	walk(0, 0, 0)
	return out
}
