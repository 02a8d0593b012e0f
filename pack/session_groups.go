package pack

import (
	"cmp"
	"container/heap"
)

// group is the regions that may lie in one stack.
type group[L any] struct {
	key  groupKey
	lots []L
}

// groups are the regions that wait to be cut; use newGroups.
type groups[L any] struct {
	by    map[groupKey]*group[L]
	order groupHeap[L]
}

func newGroups[L any]() *groups[L] { return &groups[L]{by: map[groupKey]*group[L]{}} }

// at returns the group of a key, which waits from now on.
func (s *groups[L]) at(k groupKey) *group[L] {
	g := s.by[k]
	if g == nil {
		g = &group[L]{key: k}
		s.by[k] = g
		heap.Push(&s.order, g)
	}
	return g
}

// next takes out the group of the largest regions, nil if none waits. A part is
// smaller than what it comes from, so all of the group are there.
func (s *groups[L]) next() *group[L] {
	if len(s.order) == 0 {
		return nil
	}
	g := heap.Pop(&s.order).(*group[L])
	delete(s.by, g.key)
	return g
}

// groupHeap gives the largest region first; ties have a fixed order.
type groupHeap[L any] []*group[L]

func (h groupHeap[L]) Len() int           { return len(h) }
func (h groupHeap[L]) Less(i, j int) bool { return h[i].key.before(h[j].key) }
func (h groupHeap[L]) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *groupHeap[L]) Push(x any)        { *h = append(*h, x.(*group[L])) }
func (h *groupHeap[L]) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}

// before orders groups: the larger region first, ties in a fixed order.
func (k groupKey) before(l groupKey) bool {
	flat := func(k groupKey) int {
		if k.flat {
			return 1
		}
		return 0
	}
	return cmp.Or(
		cmp.Compare(int64(l.w)*int64(l.h), int64(k.w)*int64(k.h)),
		cmp.Compare(l.w, k.w), cmp.Compare(k.axis, l.axis),
		cmp.Compare(flat(k), flat(l)), cmp.Compare(k.kerf, l.kerf),
		cmp.Compare(k.own.cloth, l.own.cloth), cmp.Compare(k.own.sheet, l.own.sheet),
		cmp.Compare(k.own.x, l.own.x), cmp.Compare(k.own.y, l.own.y)) < 0
}
