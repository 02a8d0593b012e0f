package pack

import "cmp"

// groupHeap gives the largest region first; ties have a fixed order.
type groupHeap []*group

func (h groupHeap) Len() int      { return len(h) }
func (h groupHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *groupHeap) Push(x any)   { *h = append(*h, x.(*group)) }

func (h *groupHeap) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}

func (h groupHeap) Less(i, j int) bool { return h[i].key.before(h[j].key) }

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
