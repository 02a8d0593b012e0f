package beam

import (
	"cmp"
	"math"
	"slices"
)

// measure is a way of weighing pieces such that no sheet of kind k, however it
// is filled, holds more than cap[k]. Area is one; others round sides in ways
// that keep what fits together fitting together (dual feasible functions:
// Fekete & Schepers, "New classes of fast lower bounds for bin packing
// problems", 2001; Carlier, Clautiaux & Moukrim, "New reduction procedures and
// lower bounds for the two-dimensional bin packing problem with fixed
// orientation", 2007), and see that a sheet is wasted by a few wide pieces.
type measure struct {
	item  []int64 // weight of one copy
	cap   []int64 // by kind
	total int64   // of all pieces
}

// maxMeasures is how many measures besides the area are used.
const maxMeasures = 6

// setMeasures keeps the measures that ask for the most sheets.
func (s *Search) setMeasures() {
	if s.goal != Pack || len(s.kinds) == 0 {
		return
	}
	type rated struct {
		measure
		rate float64
	}
	var all []rated
	xs, ys := s.roundings(0), s.roundings(1)
	s.spent += int64(len(xs)*len(ys)*len(s.shapes[0])) * 2
	item := make([]int64, s.m)
	for _, x := range xs {
		for _, y := range ys {
			m := measure{item: item, cap: make([]int64, len(s.kinds))}
			for k := range m.cap {
				m.cap[k] = x.cap[k] * y.cap[k]
			}
			for j, sh := range s.shapes[0] {
				v := x.side[j] * y.side[j]
				if j == 0 || s.shapes[0][j-1].item != sh.item || v < item[sh.item] {
					item[sh.item] = v
				}
			}
			for i, it := range s.pr.Items {
				m.total += item[i] * int64(it.Demand)
			}
			rate := s.coverCost(&m)
			same := slices.ContainsFunc(all, func(r rated) bool {
				return r.rate == rate && slices.Equal(r.cap, m.cap) && slices.Equal(r.item, item)
			})
			if same || len(all) == maxMeasures && rate <= all[len(all)-1].rate {
				continue
			}
			m.item = slices.Clone(item)
			all = append(all, rated{m, rate})
			slices.SortStableFunc(all, func(a, b rated) int { return cmp.Compare(b.rate, a.rate) })
			all = all[:min(len(all), maxMeasures)]
		}
	}
	for _, r := range all {
		s.measures = append(s.measures, r.measure)
	}
}

// coverCost is about what sheets for a whole measure cost, or for sheets without
// a price, how many of the largest.
func (s *Search) coverCost(m *measure) float64 {
	best := math.Inf(1)
	for k, kd := range s.kinds {
		if m.cap[k] > 0 {
			best = min(best, float64(max(kd.cost, 1))/float64(m.cap[k]))
		}
	}
	return best * float64(m.total)
}

// rounding is a rounded side of every shape, and of every kind of sheet.
type rounding struct {
	side []int64
	cap  []int64
}

// maxRoundings bounds the parameters tried a direction.
const maxRoundings = 24

// roundings lists roundings of the sides along an axis. One kind of sheet allows
// functions made for its extent; several kinds share only the rounding down to
// multiples.
func (s *Search) roundings(axis int) []rounding {
	shapes := s.shapes[axis] // .a lies along the axis
	extent := s.kinds[0].long[axis]
	for _, k := range s.kinds {
		extent = max(extent, k.long[axis])
	}
	var ks []int32
	for _, sh := range shapes {
		for _, k := range []int32{sh.a, extent - sh.a, extent - sh.a + 1} {
			if k > 1 && k <= extent/2 {
				ks = append(ks, k)
			}
		}
	}
	slices.Sort(ks)
	ks = slices.Compact(ks)
	if n := len(ks); n > maxRoundings {
		for i := range maxRoundings {
			ks[i] = ks[i*(n-1)/(maxRoundings-1)]
		}
		ks = ks[:maxRoundings]
	}
	make1 := func(f func(x int32) int64) rounding {
		var r rounding
		for _, sh := range shapes {
			r.side = append(r.side, f(sh.a))
		}
		for _, k := range s.kinds {
			r.cap = append(r.cap, f(k.long[axis]))
		}
		return r
	}
	rs := []rounding{make1(func(x int32) int64 { return int64(x) })}
	for _, k := range ks {
		if len(s.kinds) > 1 {
			rs = append(rs, make1(func(x int32) int64 { return int64(x / k) }))
			continue
		}
		rs = append(rs, make1(func(x int32) int64 {
			switch {
			case x > extent-k:
				return int64(extent)
			case x < k:
				return 0
			}
			return int64(x)
		}), make1(func(x int32) int64 {
			switch {
			case 2*x > extent:
				return 2 * int64(extent/k-(extent-x)/k)
			case 2*x == extent:
				return int64(extent / k)
			}
			return 2 * int64(x/k)
		}))
	}
	return rs
}

// hopeless tells whether, by some measure, what is left outweighs one sheet of
// kind k and all that the budget still buys.
func (s *Search) hopeless(left []int32, k int, budget int64) bool {
	for i := range s.measures {
		m := &s.measures[i]
		room := m.cap[k] + s.buyable(m.cap, budget)
		for j, n := range left[:s.m] {
			room -= int64(n) * m.item[j]
		}
		if room < 0 {
			return true
		}
	}
	s.spent += int64(len(s.measures) * s.m)
	return false
}

// buyable bounds what a budget buys of a capacity by kind: the cheapest first,
// the last sheet in part (whole sheets only if just one kind has a price).
func (s *Search) buyable(capacity []int64, budget int64) int64 {
	if budget < 0 {
		return -1
	}
	const lots = math.MaxInt64 / 4
	var sum int64
	order := make([]int, 0, 8)
	for i, k := range s.kinds {
		switch {
		case k.cost > 0:
			order = append(order, i)
		case k.copies == plenty:
			return lots
		default:
			sum += capacity[i] * int64(k.copies)
		}
	}
	paid := len(order)
	slices.SortFunc(order, func(i, j int) int {
		a, b := float64(s.kinds[i].cost)*float64(capacity[j]), float64(s.kinds[j].cost)*float64(capacity[i])
		return cmp.Or(cmp.Compare(a, b), cmp.Compare(i, j))
	})
	for _, i := range order {
		k := &s.kinds[i]
		n := budget / k.cost
		if n >= int64(k.copies) {
			sum += capacity[i] * int64(k.copies)
			budget -= k.cost * int64(k.copies)
			continue
		}
		if capacity[i] > 0 && n > (lots-sum)/capacity[i] {
			return lots
		}
		sum += n * capacity[i]
		if paid > 1 {
			sum += int64(math.Ceil(float64(budget-n*k.cost) * float64(capacity[i]) / float64(k.cost)))
		}
		break
	}
	return sum
}
