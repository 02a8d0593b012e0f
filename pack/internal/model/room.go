package model

import (
	"cmp"
	"slices"
)

// Room is the area of one sheet less its bad regions.
func (s Stock) Room() int64 {
	if len(s.Bad) == 0 {
		return s.Area()
	}
	within := func(x, most int) int { return min(max(x, 0), most) }
	xs := []int{0, s.W}
	for _, b := range s.Bad {
		xs = append(xs, within(b.X, s.W), within(b.X+b.W, s.W))
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	bad := slices.Clone(s.Bad)
	slices.SortFunc(bad, func(a, b Rect) int { return cmp.Compare(a.Y, b.Y) })
	var room int64
	for i := 1; i < len(xs); i++ {
		free, top := 0, 0
		for _, b := range bad {
			if b.X < xs[i] && xs[i-1] < b.X+b.W {
				free += max(0, within(b.Y, s.H)-top)
				top = max(top, within(b.Y+b.H, s.H))
			}
		}
		free += s.H - top
		room += int64(xs[i]-xs[i-1]) * int64(free)
	}
	return room
}
