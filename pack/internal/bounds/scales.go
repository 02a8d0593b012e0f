package bounds

import (
	"encoding/binary"
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// scale is a function of the lengths of one axis. Whatever copies fit side by
// side along a stock's extent, their values add up to at most its capacity.
type scale struct {
	value []int64 // of each length
	caps  []int64 // of each stock
	name  string
}

// The names of the families of functions, in plain words.
const (
	areaName  = "area"
	bigName   = "large pieces"
	className = "size classes"
	countName = "piece counts"
)

const (
	searchRoom    = 24_000_000 // inner steps spent on products, about 20 ms
	maxCapacities = 6
)

// scales lists the functions tried along the x or the y axis.
func (t *task) scales(x bool) []scale {
	a := &t.y
	if x {
		a = &t.x
	}
	capacities := a.capacities()
	functions := 0
	for _, c := range capacities {
		functions += 3 * len(a.thresholds(c))
	}
	row := t.newRow(a, x, functions)
	if row == nil {
		// Only the largest extent's functions hold for all stocks unseen.
		capacities = capacities[:1]
	}
	var out []scale
	seen := map[string]int{}
	for _, c := range capacities {
		for _, k := range a.thresholds(c) {
			for _, s := range []scale{a.big(c, k), a.classes(c, k), t.counts(a, x, c, k)} {
				normalise(&s)
				key := s.key()
				at, ok := seen[key]
				if !ok {
					seen[key] = len(out)
					out = append(out, s)
					continue
				}
				for i := range s.caps {
					out[at].caps[i] = min(out[at].caps[i], s.caps[i])
				}
			}
		}
	}
	if row != nil {
		for i := range out {
			row.tighten(&out[i], a.extent)
		}
	}
	return out
}

func (s *scale) key() string {
	key := make([]byte, 0, 4*len(s.value))
	for _, v := range s.value {
		key = binary.AppendVarint(key, v)
	}
	return string(key)
}

// capacities are the distinct extents that functions are made for, the largest
// first.
func (a *axis) capacities() []int {
	out := slices.Clone(a.extent)
	slices.Sort(out)
	out = slices.Compact(out)
	slices.Reverse(out)
	return out[:min(len(out), maxCapacities)]
}

// thresholds are the parameters worth trying: the lengths up to half of c, the
// complements of the others, 1 and half of c.
func (a *axis) thresholds(c int) []int {
	out := []int{1, c / 2}
	for _, l := range a.lengths {
		switch {
		case l <= c/2:
			out = append(out, l)
		case l < c:
			out = append(out, c-l)
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(k int) bool { return k < 1 || k > c/2 })
}

// tabulate fills a scale from a function on 0..c that holds for the extent c:
// what fits within c is worth f(c) at most. capacity tells the same of an
// extent up to c; extents beyond are left open.
func (a *axis) tabulate(name string, c int, f, capacity func(x int) int64) scale {
	s := scale{name: name, value: make([]int64, len(a.lengths)), caps: make([]int64, len(a.extent))}
	for i, l := range a.lengths {
		s.value[i] = f(min(l, c))
	}
	for i, e := range a.extent {
		s.caps[i] = math.MaxInt64
		if e <= c {
			s.caps[i] = capacity(e)
		}
	}
	return s
}

// big lets lengths under k vanish and counts those over c-k as all of c; k = 1
// is the length itself.
func (a *axis) big(c, k int) scale {
	name := bigName
	if k == 1 {
		name = areaName
	}
	f := func(x int) int64 {
		switch {
		case x > c-k:
			return int64(c)
		case x < k:
			return 0
		}
		return int64(x)
	}
	return a.tabulate(name, c, f, f) // f is superadditive
}

// classes rounds lengths to multiples of k, down below half of c and up above.
func (a *axis) classes(c, k int) scale {
	f := func(x int) int64 {
		switch {
		case 2*x > c:
			return 2 * int64(c/k-(c-x)/k)
		case 2*x == c:
			return int64(c / k)
		}
		return 2 * int64(x/k)
	}
	return a.tabulate(className, c, f, f) // f is superadditive
}

// counts compares long lengths with how many of the middling ones, k to half of
// c, they keep out.
func (t *task) counts(a *axis, x bool, c, k int) scale {
	type middling struct {
		length int
		n      int64
	}
	var mid []middling
	for _, p := range t.pieces {
		least := 0
		for _, w := range p.ways {
			if l := a.lengths[w.along(x)]; l >= k && 2*l <= c && (least == 0 || l < least) {
				least = l
			}
		}
		if least > 0 {
			mid = append(mid, middling{least, p.n})
		}
	}
	slices.SortFunc(mid, func(p, q middling) int { return p.length - q.length })
	most := func(room int) int64 {
		var n int64
		for _, m := range mid {
			fit := min(m.n, int64(room/m.length))
			n += fit
			room -= int(fit) * m.length
			if fit < m.n {
				break
			}
		}
		return n
	}
	all := most(c)
	return a.tabulate(countName, c, func(x int) int64 {
		switch {
		case 2*x > c:
			return all - most(c-x)
		case x >= k:
			return 1
		}
		return 0
	}, func(int) int64 { return all })
}

// normalise divides by the common divisor.
func normalise(s *scale) {
	var g int64
	for _, v := range s.value {
		g = model.GCD(g, v)
	}
	if g < 2 {
		return
	}
	for i := range s.value {
		s.value[i] /= g
	}
	for i := range s.caps {
		s.caps[i] /= g // what fits is a multiple of g
	}
}
