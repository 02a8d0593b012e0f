package pack

import (
	"slices"

	"pinfold/units"
)

// recutter looks for other ways to cut the same sheets into the same parts, by
// three kinds of moves. Where a run of equal parts is cut off one by one and each
// is then cut alike, they may come off together and be cut first across: of 5
// strips of 4 squares, 4 columns make one stack where the strips make two. A run
// may be parted into equal groups, to be stacked: a strip of 16 squares takes 15
// passes, but 5 when it is halved, halved again, and the quarters cut in a stack.
// And all the parts of a region may be dealt out to equal groups.
type recutter struct {
	*cellar
	cloths []Cloth
	prefer Prefer
	table  Rules
	sheets []sheetCell
	trims  int // passes that square the cloth
	at     standing
	uses   map[int32]int64 // of cells: what their offcuts count
	work   int64
	over   func() bool // tells that the search is to end; nil for never
}

// move changes one cell or, if in is -1, every one that it fits.
type move struct {
	kind  kind
	in, p int32 // p is the part that runs; none for deal
	n     int   // how many parts are taken together; in how many groups parts are dealt
}

type kind uint8

const (
	across kind = iota
	inGroups
	deal
)

// newRecutter takes the layouts of cloths with equal rules, which it does not
// change.
func newRecutter(cloths []Cloth, prefer Prefer) *recutter {
	table := cloths[0].Problem.Rules
	r := &recutter{cellar: newCellar(table.Kerf), cloths: cloths, prefer: prefer, table: table, uses: map[int32]int64{}}
	g := gatherer{cloths: cloths, table: table, waiting: newGroups[Lot]()}
	g.square()
	for _, j := range g.jobs {
		r.trims += j.Passes
	}
	for ci, c := range cloths {
		for _, l := range c.Layouts {
			id := r.of(l.Cuts, Rect{W: l.W, H: l.H}, c.Problem.ground(ci, l.Stock))
			r.sheets = append(r.sheets, sheetCell{id, l.Copies})
			r.work += 5
		}
		r.at.hand += c.Problem.hand(c.Layouts)
		r.at.cost += c.Problem.costOf(c.Layouts)
	}
	r.at = r.stand(r.sheets)
	return r
}

// stand tells where sheets stand.
func (r *recutter) stand(sheets []sheetCell) standing {
	out := standing{scraps: r.at.scraps, cost: r.at.cost, hand: r.at.hand}
	n, settings, work := r.cellar.passes(r.table, sheets)
	out.passes, out.settings = n+r.trims, settings
	for _, s := range sheets {
		out.useful += int64(s.copies) * r.usefulness(s.cell)
	}
	r.work += work/8 + 1
	return out
}

func (r *recutter) usefulness(id int32) int64 {
	c := &r.cells[id]
	if c.leaf != NoLeaf {
		if c.empty() && !c.fixed && keeps(r.table.Keep, Rect{W: c.w, H: c.h}) {
			return r.table.useful(c.w, c.h)
		}
		return 0
	}
	if u, ok := r.uses[id]; ok {
		return u
	}
	var sum int64
	for _, p := range c.parts {
		sum += r.usefulness(p)
	}
	r.uses[id] = sum
	return sum
}

// layouts returns the layouts of each cloth as they stand.
func (r *recutter) layouts() [][]Layout {
	out := make([][]Layout, len(r.cloths))
	k := 0
	for i, c := range r.cloths {
		for _, l := range c.Layouts {
			l.Cuts = r.node(r.sheets[k].cell, Rect{W: l.W, H: l.H}, r.table.Keep)
			out[i] = append(out[i], l)
			k++
		}
	}
	return out
}

// improve makes moves that are for the better until none is or the work is done.
func (r *recutter) improve(budget int64) {
	end := r.work + budget
	for saved := true; saved && r.work < end; {
		saved = false
		for _, ms := range r.moves() {
			best, at := r.sheets, r.at
			for _, m := range ms {
				if r.work >= end || r.over != nil && r.over() {
					end = 0
					break
				}
				sheets := r.apply(m)
				if slices.Equal(sheets, r.sheets) {
					continue
				}
				if got := r.stand(sheets); r.prefer.compare(got, at) < 0 && r.allowed(sheets) {
					best, at = sheets, got
				}
			}
			if r.prefer.compare(at, r.at) < 0 {
				r.sheets, r.at, saved = best, at, true
			}
		}
	}
}

// allowed tells whether sheets keep the limit on stages.
func (r *recutter) allowed(sheets []sheetCell) bool {
	if r.table.Stages == 0 {
		return true
	}
	for _, s := range sheets {
		c := &r.cells[s.cell]
		if stages(r.node(s.cell, Rect{W: c.w, H: c.h}, r.table.Keep)) > r.table.Stages {
			return false
		}
	}
	return true
}

// moves lists what may be tried, the largest cells first; of each list the best
// is taken.
func (r *recutter) moves() [][]move {
	var out [][]move
	active := r.active()
	wide := map[int32]int{} // the longest run of each part
	var order []int32
	for _, id := range active {
		c := &r.cells[id]
		if c.fixed || c.leaf != NoLeaf {
			continue
		}
		var deals []move
		for n := 2; n <= 8; n++ {
			deals = append(deals, move{deal, id, 0, n})
		}
		out = append(out, deals)
		for i := 0; i < len(c.parts); {
			p, n := c.parts[i], 0
			for ; i < len(c.parts) && c.parts[i] == p; i++ {
				n++
			}
			if n < 2 || r.cells[p].empty() {
				continue
			}
			if wide[p] == 0 {
				order = append(order, p)
			}
			wide[p] = max(wide[p], n)
			out = append(out, r.runs(id, p, n))
		}
	}
	slices.Sort(order)
	slices.Reverse(order)
	var first [][]move
	for _, p := range order {
		first = append(first, r.runs(-1, p, wide[p]))
	}
	return append(first, out...)
}

// runs lists the moves of a run of n parts p.
func (r *recutter) runs(in, p int32, n int) []move {
	var out []move
	for _, b := range []int{n, n / 2, n / 3, n / 4, n / 5, n / 6, n / 8, 4, 8, 2, 3, 5, 6, 7} {
		for _, k := range []kind{across, inGroups} {
			m := move{k, in, p, b}
			if b >= 2 && b <= n && (k == across || b <= n/2) && !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	return out
}

// active lists the cells of the sheets, the last first.
func (r *recutter) active() []int32 {
	seen := map[int32]bool{}
	var out []int32
	var visit func(id int32)
	visit = func(id int32) {
		if seen[id] {
			return
		}
		seen[id] = true
		out = append(out, id)
		for _, p := range r.cells[id].parts {
			visit(p)
		}
	}
	for _, s := range r.sheets {
		visit(s.cell)
	}
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

// apply returns the sheets after a move.
func (r *recutter) apply(m move) []sheetCell {
	memo := map[int32]int32{}
	out := make([]sheetCell, len(r.sheets))
	for i, s := range r.sheets {
		out[i] = sheetCell{r.rebuilt(s.cell, m, memo), s.copies}
	}
	return out
}

func (r *recutter) rebuilt(id int32, m move, memo map[int32]int32) int32 {
	c := r.cells[id]
	if c.leaf != NoLeaf || id < m.p || id < m.in {
		return id
	}
	if to, ok := memo[id]; ok {
		return to
	}
	parts := make([]int32, len(c.parts))
	for i, p := range c.parts {
		parts[i] = r.rebuilt(p, m, memo)
	}
	to := id
	switch {
	case c.fixed:
		c.parts = parts
		to = r.id(c)
	case m.in >= 0 && m.in != id, m.in < 0 && !slices.Contains(parts, m.p):
		if !slices.Equal(parts, c.parts) {
			to = r.cut(c.w, c.h, c.axis, c.flat, parts)
		}
	case m.kind == deal:
		to = r.cut(c.w, c.h, c.axis, c.flat, r.dealt(c, m.n))
	default:
		to = r.cut(c.w, c.h, c.axis, c.flat, r.taken(c, parts, m))
	}
	if c.group && to != id && r.cells[to].leaf == NoLeaf && !r.cells[to].fixed {
		to = r.grouped(to)
	}
	memo[id] = to
	return to
}

// taken returns parts of c with m.n of the parts m.p taken together as often as
// possible.
func (r *recutter) taken(c cell, parts []int32, m move) []int32 {
	n := count(parts, m.p)
	out := slices.DeleteFunc(slices.Clone(parts), func(p int32) bool { return p == m.p })
	p := r.cells[m.p]
	one := int32(-1)
	switch {
	case m.kind == inGroups && n/m.n >= 2:
		one = r.grouped(r.row(m.p, m.n, c.axis, c.flat))
	case m.kind == across && p.leaf == NoLeaf && !p.fixed && p.axis != c.axis && n >= m.n:
		one = r.together(m.p, m.n, c.axis)
	default:
		return parts
	}
	for ; n >= m.n; n -= m.n {
		out = append(out, one)
	}
	return append(out, slices.Repeat([]int32{m.p}, n)...)
}

// dealt returns the parts of c dealt out to n equal groups, what is over beside
// them.
func (r *recutter) dealt(c cell, n int) []int32 {
	var one, out []int32
	size := -r.kerf
	for i := 0; i < len(c.parts); {
		p, k := c.parts[i], 0
		for ; i < len(c.parts) && c.parts[i] == p; i++ {
			k++
		}
		each := k / n
		if r.cells[p].empty() {
			each = 0
		}
		one = append(one, slices.Repeat([]int32{p}, each)...)
		out = append(out, slices.Repeat([]int32{p}, k-each*n)...)
		size += units.Length(each) * (r.cells[p].along(c.axis) + r.kerf)
	}
	if len(one) < 2 {
		return c.parts
	}
	w, h := size, c.h
	if c.axis == Y {
		w, h = c.w, size
	}
	g := r.grouped(r.cut(w, h, c.axis, c.flat, one))
	return append(out, slices.Repeat([]int32{g}, n)...)
}

// times returns the measures of n cells p side by side along an axis.
func (r *recutter) times(p int32, n int, axis Axis) (w, h units.Length) {
	w, h = r.cells[p].w, r.cells[p].h
	if axis == X {
		return w*units.Length(n) + r.kerf*units.Length(n-1), h
	}
	return w, h*units.Length(n) + r.kerf*units.Length(n-1)
}

// row is n cells p side by side along an axis.
func (r *recutter) row(p int32, n int, axis Axis, flat bool) int32 {
	w, h := r.times(p, n, axis)
	return r.cut(w, h, axis, flat, slices.Repeat([]int32{p}, n))
}

// together is n cells p side by side along an axis, cut first across it.
func (r *recutter) together(p int32, n int, axis Axis) int32 {
	c := r.cells[p]
	parts := make([]int32, len(c.parts))
	for i, id := range c.parts {
		parts[i] = r.row(id, n, axis, c.flat)
	}
	w, h := r.times(p, n, axis)
	return r.cut(w, h, c.axis, c.flat, parts)
}
