package pack

import (
	"cmp"
	"slices"

	"pinfold/units"
)

// sheetCell is a layout as a cell, so many times.
type sheetCell struct {
	cell   int32
	copies int
}

// passes counts the passes of the sheets, squaring not included, and how often the
// ruler is set, as [NewSession] does once [Arrange] has put the parts in order.
// work counts what was looked at.
func (s *cellar) passes(table Rules, sheets []sheetCell) (passes, settings int, work int64) {
	top := int32(-1)
	for _, l := range sheets {
		top = max(top, l.cell)
	}
	e := counter{cellar: s, table: table, count: make([]int, top+1), tally: map[cutting]int{}, order: map[int32][]int32{}, waiting: newGroups[cellLot]()}
	for _, l := range sheets {
		e.count[l.cell] += l.copies
	}
	for id := top; id >= 0; id-- {
		n := e.count[id]
		if n == 0 {
			continue
		}
		c := &s.cells[id]
		for _, p := range c.parts {
			e.count[p] += n
			if q := &s.cells[p]; !q.empty() {
				e.tally[cuttingOf(c.axis, Rect{W: q.w, H: q.h})] += n
			}
			e.work++
		}
	}
	for _, l := range sheets {
		e.add(l.cell, 0, l.copies, s.cells[l.cell].w, s.cells[l.cell].h)
	}
	for g := e.waiting.next(); g != nil; g = e.waiting.next() {
		e.cut(g)
	}
	return e.sum, e.settings, e.work
}

// counter collects regions into stacks as gatherer does, equal ones by number.
type counter struct {
	*cellar
	table   Rules
	count   []int // of each cell
	tally   map[cutting]int
	order   map[int32][]int32
	waiting *groups[cellLot]
	// sum counts passes, settings how often the ruler is set.
	sum, settings int
	work          int64
}

// cellLot is a number of regions of one cell, cut up to part from.
type cellLot struct {
	cell  int32
	from  int
	count int
}

func (e *counter) add(id int32, from, count int, w, h units.Length) {
	c := &e.cells[id]
	if c.leaf != NoLeaf {
		return
	}
	k := groupKey{w: w, h: h, axis: c.axis, kerf: e.kerf}
	if c.own != (crooked{}) {
		own := crooked{c.own.cloth, c.own.sheet, c.own.x + c.w - w, c.own.y + c.h - h}
		if !e.edges[crooked{cloth: own.cloth, sheet: own.sheet}].Holds(Rect{own.x, own.y, w, h}) {
			k.own = own
		}
	}
	k.flat = (c.flat || k.own != crooked{}) && e.table.Ruler > 0 && k.cut() > e.table.Ruler
	g := e.waiting.at(k)
	for i := range g.lots {
		if g.lots[i].cell == id && g.lots[i].from == from {
			g.lots[i].count += count
			return
		}
	}
	g.lots = append(g.lots, cellLot{id, from, count})
	e.work++
}

// ordered returns a cell's parts in the order in which they come off.
func (e *counter) ordered(id int32) []int32 {
	c := &e.cells[id]
	if c.fixed {
		return c.parts
	}
	if parts, ok := e.order[id]; ok {
		return parts
	}
	type ranked struct {
		part  int32
		tally int
		size  units.Length
	}
	rs := make([]ranked, len(c.parts))
	for i, p := range c.parts {
		q := &e.cells[p]
		rs[i] = ranked{part: p, size: q.along(c.axis), tally: -1}
		if !q.empty() {
			if i > 0 && c.parts[i-1] == p {
				rs[i].tally = rs[i-1].tally
			} else {
				rs[i].tally = e.tally[cuttingOf(c.axis, Rect{W: q.w, H: q.h})]
			}
		}
	}
	slices.SortFunc(rs, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.tally, a.tally), cmp.Compare(b.size, a.size), cmp.Compare(a.part, b.part))
	})
	parts := make([]int32, len(rs))
	for i, r := range rs {
		parts[i] = r.part
	}
	e.order[id] = parts
	e.work += int64(len(parts))
	return parts
}

// cut counts the jobs of a group.
func (e *counter) cut(g *group[cellLot]) {
	type next struct {
		cellLot
		measure units.Length
		run     int
	}
	ns := make([]next, len(g.lots))
	for i, l := range g.lots {
		parts := e.ordered(l.cell)
		n := next{cellLot: l, measure: e.cells[parts[l.from]].along(g.key.axis), run: 1}
		for l.from+n.run < len(parts)-1 && e.cells[parts[l.from+n.run]].along(g.key.axis) == n.measure {
			n.run++
		}
		ns[i] = n
	}
	slices.SortFunc(ns, func(a, b next) int {
		return cmp.Or(cmp.Compare(b.measure, a.measure), cmp.Compare(a.cell, b.cell), cmp.Compare(a.from, b.from))
	})
	for i := 0; i < len(ns); {
		j, count, cuts := i, 0, ns[i].run
		for ; j < len(ns) && ns[j].measure == ns[i].measure; j++ {
			count += ns[j].count
			cuts = min(cuts, ns[j].run)
		}
		e.sum += cuts * e.table.way(count, g.key.cut(), g.key.flat).passes()
		e.settings += e.table.settings(ns[i].measure, g.key.along()-units.Length(cuts)*(ns[i].measure+e.kerf))
		for _, n := range ns[i:j] {
			e.pass(g.key, n.cellLot, n.measure, cuts)
		}
		i = j
	}
}

// pass hands on what a job leaves of a lot.
func (e *counter) pass(k groupKey, l cellLot, measure units.Length, cuts int) {
	parts := e.ordered(l.cell)
	for i, n := l.from, 1; i < l.from+cuts; i += n {
		for n = 1; i+n < l.from+cuts && parts[i+n] == parts[i]; n++ {
		}
		q := &e.cells[parts[i]]
		e.add(parts[i], 0, n*l.count, q.w, q.h)
	}
	end := l.from + cuts
	if end == len(parts)-1 {
		q := &e.cells[parts[end]]
		e.add(parts[end], 0, l.count, q.w, q.h)
		return
	}
	off := units.Length(cuts) * (measure + e.kerf)
	if k.axis == X {
		e.add(l.cell, end, l.count, k.w-off, k.h)
	} else {
		e.add(l.cell, end, l.count, k.w, k.h-off)
	}
}
