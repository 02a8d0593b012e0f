package bounds

// row finds what the copies that fit side by side along an extent can be worth:
// a knapsack over one axis, each copy used at most as often as it is wanted.
type row struct {
	extent int
	groups []group
	best   []int64
	dearest
}

// group is one piece's copies; each copy lies in one of the lengths.
type group struct {
	copies  int // 0: more than could ever fit
	lengths [2]int
	at      [2]int // of the lengths among the axis's
	n       int
}

// knapsackRoom is how many inner steps the knapsacks of one axis may take, about
// 10 ms.
const knapsackRoom = 12_000_000

// newRow prepares the knapsacks of an axis for the given number of functions, or
// returns nil when they would take too long.
func (t *task) newRow(a *axis, x bool, functions int) *row {
	r := &row{}
	for _, e := range a.extent {
		r.extent = max(r.extent, e)
	}
	bounded, free := 0, 0
	for _, p := range t.pieces {
		g := group{}
		shortest := r.extent
		for _, w := range p.ways {
			l := a.lengths[w.along(x)]
			if g.n == 1 && g.lengths[0] == l {
				continue
			}
			g.lengths[g.n], g.at[g.n] = l, w.along(x)
			g.n++
			shortest = min(shortest, l)
		}
		if fit := r.extent / shortest; p.n < int64(fit) {
			g.copies = int(p.n)
		}
		bounded += max(1, g.copies) * g.n * r.extent
		free += g.n * r.extent
		r.groups = append(r.groups, g)
	}
	switch {
	case bounded*functions <= knapsackRoom:
	case free*functions <= knapsackRoom:
		for i := range r.groups {
			r.groups[i].copies = 0
		}
	default:
		return nil
	}
	r.best = make([]int64, r.extent+1)
	return r
}

// tighten lowers the capacities of s to what can really lie side by side.
func (r *row) tighten(s *scale, extents []int) {
	clear(r.best)
	for i := range r.groups {
		g := &r.groups[i]
		v0, v1 := s.value[g.at[0]], int64(0)
		if g.n == 2 {
			v1 = s.value[g.at[1]]
		}
		switch {
		case v0 == 0 && v1 == 0:
		case g.copies == 0:
			r.anyNumber(g.lengths[0], v0)
			if g.n == 2 {
				r.anyNumber(g.lengths[1], v1)
			}
		default:
			for range g.copies {
				r.once(g, v0, v1)
			}
		}
	}
	for k, e := range extents {
		s.caps[k] = min(s.caps[k], r.best[e])
	}
}

func (r *row) anyNumber(length int, value int64) {
	for c := length; c <= r.extent; c++ {
		r.best[c] = max(r.best[c], r.best[c-length]+value)
	}
}

func (r *row) once(g *group, v0, v1 int64) {
	l0, l1 := g.lengths[0], g.lengths[1]
	if g.n == 1 {
		for c := r.extent; c >= l0; c-- {
			r.best[c] = max(r.best[c], r.best[c-l0]+v0)
		}
		return
	}
	if l0 > l1 {
		l0, l1, v0, v1 = l1, l0, v1, v0
	}
	for c := r.extent; c >= l1; c-- {
		r.best[c] = max(r.best[c], r.best[c-l0]+v0, r.best[c-l1]+v1)
	}
	for c := min(l1-1, r.extent); c >= l0; c-- {
		r.best[c] = max(r.best[c], r.best[c-l0]+v0)
	}
}
