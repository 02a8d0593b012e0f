package plan

import (
	"cmp"
	"slices"
)

// picker lists vectors of numbers of ornaments that are not known to be
// impossible.
type picker struct {
	most []int // of each line
	// weight[c][line] and room[c] are the areas of each space.
	weight [][]int64
	room   []int64
	rest   []int     // the sum of most, from each line on
	light  [][][]int // light[c][k] are the lines from the k-th on, the lightest in space c first
	nodes  int64     // of all searches
	// banned vectors are impossible, and so is all that covers them; doubted ones
	// were asked for in vain.
	banned, doubted []ban
}

// ban rules out every vector that covers at, whose entries past last, in the
// picker's order, are zero.
type ban struct {
	at    []int
	last  int
	twice bool // asked for a second time
}

// pickNodes bounds one search of a vector, probeNodes one that only looks for a
// better one.
const (
	pickNodes  = 50_000
	probeNodes = 2_000
)

// newPicker takes the lines heaviest first: the light ones then fill up.
func newPicker(spaces []space, most []int) (p *picker, order []int) {
	share := make([]float64, len(most))
	for i := range most {
		order = append(order, i)
		for _, s := range spaces {
			share[i] = max(share[i], float64(s.weight[i])/float64(max(s.room, 1)))
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(share[b], share[a]) })
	p = &picker{}
	for _, i := range order {
		p.most = append(p.most, most[i])
	}
	for _, s := range spaces {
		w := make([]int64, len(order))
		for k, i := range order {
			w[k] = s.weight[i]
		}
		p.weight, p.room = append(p.weight, w), append(p.room, s.room)
	}
	p.prepare()
	return p, order
}

func (p *picker) prepare() {
	p.rest = make([]int, len(p.most)+1)
	for k := len(p.most) - 1; k >= 0; k-- {
		p.rest[k] = p.rest[k+1] + p.most[k]
	}
	p.light = make([][][]int, len(p.weight))
	for c := range p.weight {
		p.light[c] = make([][]int, len(p.most)+1)
		for k := range p.light[c] {
			for i := k; i < len(p.most); i++ {
				p.light[c][k] = append(p.light[c][k], i)
			}
			slices.SortStableFunc(p.light[c][k], func(a, b int) int { return cmp.Compare(p.weight[c][a], p.weight[c][b]) })
		}
	}
}

// work is about how many microseconds all searches took.
func (p *picker) work() int64 { return p.nodes * int64(len(p.weight)*len(p.most)+20) / 400 }

func newBan(at []int) ban {
	b := ban{at: at, last: -1}
	for i, n := range at {
		if n > 0 {
			b.last = i
		}
	}
	return b
}

// second returns a doubted vector that was asked for once, the last one first.
func (p *picker) second() []int {
	for i := len(p.doubted) - 1; i >= 0; i-- {
		if b := &p.doubted[i]; !b.twice {
			b.twice = true
			return b.at
		}
	}
	return nil
}

// clear drops the doubts about v.
func (p *picker) clear(v []int) {
	p.doubted = slices.DeleteFunc(p.doubted, func(b ban) bool { return slices.Equal(b.at, v) })
}

// bound is the largest total that the areas allow.
func (p *picker) bound() int {
	most := p.rest[0]
	s := p.start(steps, true, 0)
	for c := range s.room {
		most = min(most, s.fit(c, 0, most))
	}
	return most
}

// steps is how finely the rooms are narrowed.
const steps = 128

// pick returns a vector of so many ornaments in all that leaves every space as
// empty as can be; doubted vectors are left out unless doubtful ones will do. all
// tells that the search was complete: without a vector there is none.
func (p *picker) pick(total int, doubtful bool) (v []int, all bool) {
	v, all = p.search(total, steps, doubtful, pickNodes)
	if v == nil {
		return nil, all
	}
	from, to := 0, steps
	for to-from > 1 {
		mid := (from + to) / 2
		if w, _ := p.search(total, mid, doubtful, probeNodes); w != nil {
			v, to = w, mid
		} else {
			from = mid
		}
	}
	return v, all
}

// search looks for a vector of total ornaments in part/steps of every room.
func (p *picker) search(total, part int, doubtful bool, nodes int) (v []int, all bool) {
	s := p.start(part, doubtful, nodes)
	found := s.down(0, total)
	p.nodes += int64(nodes - s.left)
	if found {
		return s.v, true
	}
	return nil, s.left > 0
}

// start prepares a search in part/steps of every room.
func (p *picker) start(part int, doubtful bool, nodes int) *pickSearch {
	s := &pickSearch{picker: p, v: make([]int, len(p.most)), doubtful: doubtful, left: nodes}
	for _, r := range p.room {
		s.room = append(s.room, r/steps*int64(part)+r%steps*int64(part)/steps)
	}
	return s
}

// pickSearch is one depth-first search.
type pickSearch struct {
	*picker
	v    []int
	room []int64
	// doubtful vectors may be found.
	doubtful bool
	left     int // nodes
}

// down chooses the numbers from the k-th line on, total in all.
func (s *pickSearch) down(k, total int) bool {
	if s.left--; s.left <= 0 {
		return false
	}
	if k == len(s.v) {
		return total == 0
	}
	if total > s.rest[k] {
		return false
	}
	for c := range s.room {
		if s.fit(c, k, total) < total {
			return false
		}
	}
	high := min(s.most[k], total)
	for c, w := range s.weight {
		if w[k] > 0 {
			high = int(min(int64(high), s.room[c]/w[k]))
		}
	}
	// The lightest lines come last, so the heavy ones take as little as they may.
	for n := max(0, total-s.rest[k+1]); n <= high; n++ {
		s.v[k] = n
		if s.forbidden(k) {
			break
		}
		for c, w := range s.weight {
			s.room[c] -= int64(n) * w[k]
		}
		found := s.down(k+1, total-n)
		for c, w := range s.weight {
			s.room[c] += int64(n) * w[k]
		}
		if found {
			return true
		}
		if s.left <= 0 {
			return false
		}
	}
	s.v[k] = 0
	return false
}

// fit is how many ornaments, of total, space c has room for by area alone.
func (s *pickSearch) fit(c, k, total int) int {
	room, n := s.room[c], 0
	for _, i := range s.light[c][k] {
		w := s.weight[c][i]
		take := min(s.most[i], total-n)
		if w > 0 {
			take = int(min(int64(take), room/w))
		}
		n += take
		room -= int64(take) * w
		if n == total || take < s.most[i] && w > 0 {
			break
		}
	}
	return n
}

// forbidden tells whether the vector up to the k-th line covers one that is ruled
// out. More of the k-th line does not help then.
func (s *pickSearch) forbidden(k int) bool {
	in := func(bs []ban) bool {
		return slices.ContainsFunc(bs, func(b ban) bool {
			return b.last == k && covers(s.v[:k+1], b.at[:k+1])
		})
	}
	return in(s.banned) || !s.doubtful && in(s.doubted)
}
