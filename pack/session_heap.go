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

func (h groupHeap) Less(i, j int) bool {
	a, b := h[i].key, h[j].key
	flat := func(k groupKey) int {
		if k.flat {
			return 1
		}
		return 0
	}
	return cmp.Or(
		cmp.Compare(int64(b.w)*int64(b.h), int64(a.w)*int64(a.h)),
		cmp.Compare(b.w, a.w), cmp.Compare(a.axis, b.axis),
		cmp.Compare(flat(a), flat(b)), cmp.Compare(a.kerf, b.kerf),
		cmp.Compare(a.own.cloth, b.own.cloth), cmp.Compare(a.own.sheet, b.own.sheet),
		cmp.Compare(a.own.x, b.own.x), cmp.Compare(a.own.y, b.own.y)) < 0
}
