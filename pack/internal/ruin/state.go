package ruin

type item struct {
	w, h  int32
	turn  bool
	area  int64
	worth int64 // what leaving one copy outside costs: its area, and what it gained
	key   int64 // the larger, the earlier it is put back
}

type kind struct {
	w, h   int32
	cost   int64
	copies int // unused; may dip below 0 in the middle of back
	stock  int32
}

// state is a set of sheets and the pieces that are on none of them, with what
// is needed to take back every change since the last mark.
type state struct {
	items  []item
	kinds  []kind
	stages int32
	values *values

	sheets []sheet // slots[:open] name those in use
	gates  []gate  // of the sheets, by number
	slots  []int32
	open   int
	cost   int64
	limit  int64   // cost is kept at or below it
	value  int64   // of the open sheets
	outs   []int32 // copies outside, by item
	list   []int32 // the items with copies outside
	turn   int     // whose turn in the list it is to be put back
	worth  int64   // of the pieces outside

	stamp   uint32
	touched []int32
	undo    undo
	work    int64
}

// undo is what the state was at the mark.
type undo struct {
	sheets             []sheet // copies of the first len(touched) sheets
	slots              []int32
	open               int
	moved              bool // slots were changed, and saved
	list, outs         []int32
	cost, value, worth int64
}

// mark makes the present state the one that back returns to.
func (s *state) mark() {
	s.stamp++
	s.touched = s.touched[:0]
	u := &s.undo
	u.moved = false
	u.cost, u.value, u.worth = s.cost, s.value, s.worth
	u.list = append(u.list[:0], s.list...)
	u.outs = u.outs[:0]
	for _, i := range s.list {
		u.outs = append(u.outs, s.outs[i])
	}
}

// back undoes everything done since the mark.
func (s *state) back() {
	u := &s.undo
	for k, i := range s.touched {
		if c, was := s.sheets[i].kind, u.sheets[k].kind; c != was {
			s.use(c, 1)
			s.use(was, -1)
		}
		s.sheets[i], u.sheets[k] = u.sheets[k], s.sheets[i]
		s.gates[i] = s.sheets[i].gate
	}
	s.touched = s.touched[:0]
	if u.moved {
		copy(s.slots, u.slots)
		s.open = u.open
		u.moved = false
	}
	for _, i := range s.list {
		s.outs[i] = 0
	}
	s.list = append(s.list[:0], u.list...)
	for k, i := range s.list {
		s.outs[i] = u.outs[k]
	}
	s.cost, s.value, s.worth = u.cost, u.value, u.worth
	s.stamp++
}

// touch saves sheet i before its first change since the mark.
func (s *state) touch(i int32) *sheet {
	t := &s.sheets[i]
	if t.stamp != s.stamp {
		k := len(s.touched)
		if k == len(s.undo.sheets) {
			s.undo.sheets = append(s.undo.sheets, sheet{})
		}
		s.undo.sheets[k].copyFrom(t)
		s.touched = append(s.touched, i)
		s.work += int64(len(t.nodes)) + 10
		t.stamp = s.stamp
	}
	return t
}

func (s *state) use(k int32, d int) {
	if k != closed {
		s.kinds[k].copies += d
	}
}

// saveSlots keeps the order of the slots before its first change.
func (s *state) saveSlots() {
	if !s.undo.moved {
		s.undo.moved = true
		s.undo.open = s.open
		s.undo.slots = append(s.undo.slots[:0], s.slots...)
	}
}

// canOpen tells whether one more sheet of kind k is to be had.
func (s *state) canOpen(k int32) bool {
	return s.kinds[k].copies != 0 && s.cost+s.kinds[k].cost <= s.limit
}

// openSheet takes a sheet of kind k into use and returns its number.
func (s *state) openSheet(k int32) int32 {
	s.saveSlots()
	if s.open == len(s.slots) {
		s.slots = append(s.slots, int32(len(s.sheets)))
		s.undo.slots = append(s.undo.slots, int32(len(s.sheets)))
		s.sheets = append(s.sheets, sheet{kind: closed})
		s.gates = append(s.gates, gate{})
	}
	i := s.slots[s.open]
	s.open++
	t := s.touch(i)
	t.reset(k, s.kinds[k].w, s.kinds[k].h)
	t.value = 0
	s.use(k, -1)
	s.cost += s.kinds[k].cost
	s.refresh(i)
	return i
}

// closeSheet gives the empty sheet in slots[p] back.
func (s *state) closeSheet(p int) {
	s.saveSlots()
	i := s.slots[p]
	t := s.touch(i)
	s.use(t.kind, 1)
	s.cost -= s.kinds[t.kind].cost
	s.value -= t.value
	t.kind, t.value, t.gate = closed, 0, gate{}
	s.gates[i] = gate{}
	s.open--
	s.slots[p], s.slots[s.open] = s.slots[s.open], i
}

// refresh brings changed sheet i up to date.
func (s *state) refresh(i int32) {
	t := &s.sheets[i]
	s.value -= t.value
	t.refresh(s.values, s.stages)
	s.value += t.value
	s.gates[i] = t.gate
	s.work += 12*int64(len(t.nodes)) + 10
}

// takeOut removes the subtree of node n of sheet i; the sheet is to be refreshed.
func (s *state) takeOut(i int32, n int) {
	t := s.touch(i)
	for _, v := range t.nodes[n : n+int(t.nodes[n].size)] {
		if v.item >= 0 {
			s.drop(v.item, 1)
		}
	}
	s.work += int64(len(t.nodes)) + 10
	t.remove(n)
}

// drop adds copies of an item to those outside.
func (s *state) drop(it int32, copies int32) {
	if copies == 0 {
		return
	}
	if s.outs[it] == 0 {
		s.list = append(s.list, it)
	}
	s.outs[it] += copies
	s.worth += int64(copies) * s.items[it].worth
}

// putIn places one copy of an item into spot p of sheet i. An item with no copies left outside stays on the list until trim.
func (s *state) putIn(it int32, i int32, p int, turned bool) {
	t := s.touch(i)
	w, h := s.items[it].w, s.items[it].h
	if turned {
		w, h = h, w
	}
	t.insert(p, it, w, h)
	s.outs[it]--
	s.worth -= s.items[it].worth
	s.refresh(i)
}

// trim takes the items with no copies outside off the list.
func (s *state) trim() {
	n := 0
	for _, it := range s.list {
		if s.outs[it] > 0 {
			s.list[n] = it
			n++
		}
	}
	s.list = s.list[:n]
}
