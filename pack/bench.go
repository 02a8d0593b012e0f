package pack

import (
	"context"
	"math/rand/v2"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/ruin"
	"pinfold/units"
)

// bench lays the pieces of one cloth out again on the sheets they are cut from,
// or on others at hand, in blocks. Layouts of sheets with bad
// areas or an outline stay.
type bench struct {
	cloth  Cloth
	prefer Prefer
	limit  units.Area // the most cloth at hand that may be cut
	sc     *scaled
	pr     model.Problem
	square []bool
	stays  []Layout
	spans  []int // what rows may have to fill
	layers int
	rnd    *rand.Rand

	best   standing
	found  []Layout // better than the cloth's own, nil if none is
	placed []scheme // of found
	work   int64
}

// newBench returns nil where nothing can be laid out again.
func newBench(c Cloth, prefer Prefer, limit units.Area, seed uint64) *bench {
	b := &bench{cloth: c, prefer: prefer, limit: limit, layers: max(c.Problem.Rules.Layers, 1), rnd: rand.New(rand.NewPCG(seed, 5))}
	used := map[Stock]int{}
	var lengths []units.Length
	for _, l := range c.Layouts {
		used[l.Stock] += l.Copies
		if l.Stock.Sheet == FromRoll {
			lengths = append(lengths, l.Stock.Length)
		}
	}
	sc, err := newScaled(c.Problem, lengths)
	if err != nil {
		return nil
	}
	b.sc, b.pr = sc, sc.model
	item := make([]int, len(c.Problem.Pieces))
	for i, ms := range sc.members {
		if len(ms) != 1 {
			return nil // which piece goes where is another question
		}
		item[ms[0].piece] = i
		q := c.Problem.Pieces[ms[0].piece]
		b.square = append(b.square, q.W == q.H && sc.gx == sc.gy)
	}
	b.pr.Items, b.pr.Stocks = slices.Clone(b.pr.Items), slices.Clone(b.pr.Stocks)
	for i := range b.pr.Items {
		b.pr.Items[i].Demand = 0
	}
	for _, l := range c.Layouts {
		if l.Stock.Sheet != FromRoll && !c.Problem.Sheets[l.Stock.Sheet].whole() {
			b.stays = append(b.stays, l)
			continue
		}
		for _, q := range l.Placements(c.Problem.Rules.Kerf) {
			b.pr.Items[item[q.Piece]].Demand += l.Copies
		}
	}
	for i := range b.pr.Stocks {
		st, from := &b.pr.Stocks[i], sc.stocks[i]
		st.Cost = 0
		free := from.Sheet != FromRoll && c.Problem.Sheets[from.Sheet].Free
		switch {
		case from.Sheet != FromRoll && !c.Problem.Sheets[from.Sheet].whole():
			st.Copies = 0
		case free && prefer != Thrift && st.Copies != model.Unlimited:
			// All there is, as far as the limit lets.
		default:
			st.Copies = used[from]
		}
		if st.Copies > 0 {
			for _, side := range []int{st.W, st.H} {
				b.spans = append(b.spans, side, side/2, side/3)
			}
		}
	}
	b.best = standingOf([]Cloth{c})
	return b
}

// random is some scheme for an item.
func (b *bench) random(item int) scheme {
	it := b.pr.Items[item]
	s := scheme{along: b.rnd.IntN(2) == 0, rows: 1, even: b.rnd.IntN(3) == 0}
	side := it.W
	if s.along {
		side = it.H
	}
	s.k = min(max(1, b.spans[b.rnd.IntN(len(b.spans))]/side), 24)
	if b.rnd.IntN(2) == 0 {
		s.rows = 1 + b.rnd.IntN(8)
	}
	s.share = []int{100, 100, 90, 75, 50}[b.rnd.IntN(5)]
	s.rest = max(1, s.k/(1+b.rnd.IntN(4)))
	return s
}

// patience is the work after which a climb may be given up.
const patience = 60_000

// fitWork is what is spent on one question whether blocks fit.
const fitWork = 4_000

// climb changes the schemes one or two at a time and keeps what is better, for
// about budget units, or until it has got nowhere for as long as it took to come
// there.
func (b *bench) climb(ctx context.Context, budget int64) {
	var items []int
	for i, it := range b.pr.Items {
		if it.Demand > 0 {
			items = append(items, i)
		}
	}
	if len(items) == 0 || len(b.spans) == 0 {
		return
	}
	now := make([]scheme, len(b.pr.Items))
	have := standing{}
	least := 0
	won := int64(patience)
	for b.work < min(budget, 2*won) && ctx.Err() == nil {
		next := slices.Clone(now)
		if b.placed == nil {
			for _, i := range items {
				next[i] = b.random(i)
			}
		} else {
			for range 1 + b.rnd.IntN(2) {
				i := items[b.rnd.IntN(len(items))]
				next[i] = b.random(i)
			}
		}
		g := &glued{of: &b.pr, square: b.square}
		g.model.Stocks, g.model.Stages = b.pr.Stocks, b.pr.Stages
		for _, i := range items {
			g.glue(i, next[i], b.layers)
		}
		b.work += 3
		est := g.estimate(b.layers)
		if !g.fits() || b.placed != nil && est > least+least/20+1 {
			continue
		}
		ls := b.lay(g)
		if ls == nil {
			continue
		}
		ls, got := b.judge(ls)
		if b.placed == nil || b.prefer.compare(got, have) <= 0 {
			now, have, b.placed, least = next, got, next, est
			if b.prefer.compare(got, b.best) < 0 {
				b.best, b.found = got, ls
				won = max(won, b.work)
			}
		}
	}
}

// lay looks for layouts of the blocks, nil if none are found.
func (b *bench) lay(g *glued) []Layout {
	e := ruin.New(&g.model, ruin.Options{Seed: b.rnd.Uint64() % 4})
	spent, _ := e.Run(fitWork)
	b.work += spent + 50
	m := e.Best()
	if m == nil {
		return nil
	}
	out := slices.Clone(b.stays)
	for i, p := range m.Patterns {
		l, err := b.layout(g, p)
		if err != nil || b.pr.Stages > 0 && stages(l.Cuts) > b.pr.Stages {
			return nil
		}
		l.Copies = m.Copies[i]
		out = append(out, l)
	}
	if b.cloth.Problem.hand(out) > b.limit {
		return nil
	}
	return out
}

// layout is a pattern of blocks as a cut tree.
func (b *bench) layout(g *glued, p model.Pattern) (Layout, error) {
	k := b.cloth.Problem.Rules.Kerf
	l := Layout{Stock: b.sc.stocks[p.Stock], Copies: 1}
	l.W, l.H = b.sc.usable(l.Stock)
	boxes := make([]model.Rect, len(p.Placed))
	for i, q := range p.Placed {
		w, h := g.model.Items[q.Item].Sides(q.Turned)
		boxes[i] = model.Rect{
			X: int(units.Length(q.X) * b.sc.gx), Y: int(units.Length(q.Y) * b.sc.gy),
			W: int(units.Length(w) * b.sc.gx), H: int(units.Length(h) * b.sc.gy),
		}
	}
	tree, err := model.Cut(int(l.W+k), int(l.H+k), 0, int(k), boxes, true)
	if err != nil {
		return l, err
	}
	l.Cuts = b.cloth.Problem.tree(tree, Rect{W: l.W, H: l.H}, Sheet{}, func(i int, r Rect) *Node {
		return b.block(g, p.Placed[i], r)
	})
	return l, nil
}

// block is a block as it lies at r, cut into rows first.
func (b *bench) block(g *glued, q model.Placed, r Rect) *Node {
	s := g.shapes[q.Item]
	m := b.sc.members[s.item][0]
	nx, ny := s.nx, s.ny
	turned := m.flipped
	if q.Turned {
		nx, ny = ny, nx
		turned = turned != !b.square[s.item]
	}
	k := b.cloth.Problem.Rules.Kerf
	leaf := &Node{Leaf: PieceLeaf, Piece: m.piece, Turned: turned}
	return rows(Y, ny, r, k, func(r Rect) *Node {
		return rows(X, nx, r, k, func(Rect) *Node { return leaf })
	})
}

// rows cuts r into n equal parts.
func rows(axis Axis, n int, r Rect, kerf units.Length, part func(Rect) *Node) *Node {
	if n == 1 {
		return part(r)
	}
	out := &Node{Axis: axis}
	from, _ := r.span(axis)
	each := (r.along(axis) - units.Length(n-1)*kerf) / units.Length(n)
	for i := 1; i < n; i++ {
		out.At = append(out.At, from+units.Length(i)*(each+kerf)-kerf)
	}
	for i := range n {
		out.Parts = append(out.Parts, part(out.part(i, r, kerf)))
	}
	return out
}

// judge cuts layouts again and tells where they stand then.
func (b *bench) judge(ls []Layout) ([]Layout, standing) {
	r := newRecutter([]Cloth{{b.cloth.Problem, ls}}, b.prefer)
	r.improve(recutWork)
	b.work += r.work
	return r.layouts()[0], r.at
}

// recutWork is what is spent on cutting the same blocks another way.
const recutWork = 1_000
