package insert

import (
	"cmp"
	"math"
	"slices"

	"pinfold/pack/internal/model"
)

// askWork is the work between two looks at the context, so that what is soon done
// never depends on it.
const askWork = 50_000

// Work is what insertion may take of a problem when share is set aside for it: more if
// that is little, and more for each stock, as all of them are filled to compare them.
func Work(pr *model.Problem, share int64) int64 {
	const least, stock, most = 250_000, 2_000, 4_000_000
	return max(share, min(least+stock*int64(len(pr.Stocks)), most))
}

// over tells whether insertion has had its work, or the context has ended: the rest
// goes on shelves.
func (p *packer) over() bool {
	if !p.ended && p.work >= p.ask {
		p.ask = p.work + askWork
		p.ended = p.ctx.Err() != nil
	}
	return p.ended || p.work >= p.limit
}

// lying is an item as it lies on a shelf.
type lying struct {
	item   int
	w, h   int
	turned bool
}

// shelve fills the leftovers of a sheet with shelves, the tallest pieces first:
// columns of equal pieces side by side, as high as the first piece of the shelf. It
// takes a look at each size for a shelf, however many copies there are, and is what
// insertion falls back on.
func (p *packer) shelve(s *sheet, demand []int) {
	regions := s.free
	s.free = nil
	slices.SortStableFunc(regions, func(a, b region) int { return cmp.Compare(area(b.Rect), area(a.Rect)) })
	for _, r := range regions {
		left := r.H
		y := r.next(model.AxisY)
		if s.stages > 0 && y > s.stages {
			continue
		}
		seq := p.flat(r.W, r.H, demand)
		for len(seq) > 0 {
			r.Y, r.H = r.Y+r.H-left, left
			high := p.shelf(s, r, s.stages == 0 || y < s.stages, s.stages == 0 || y+1 < s.stages, seq, demand)
			left -= high
			seq = slices.DeleteFunc(seq, func(l lying) bool { return demand[l.item] == 0 || l.h > left })
		}
	}
}

// flat lists the items that fit w x h and are still wanted, each with the lower side
// up that fits, the highest first.
func (p *packer) flat(w, h int, demand []int) []lying {
	var out []lying
	for i, it := range p.pr.Items {
		if demand[i] == 0 {
			continue
		}
		best := lying{h: math.MaxInt}
		for _, turned := range []bool{false, true} {
			a, b := it.Sides(turned)
			if (it.Turn || !turned) && a <= w && b <= h && b < best.h {
				best = lying{i, a, b, turned}
			}
		}
		if best.h < math.MaxInt {
			out = append(out, best)
		}
	}
	p.work += int64(len(p.pr.Items)+7) / 8
	slices.SortStableFunc(out, func(a, b lying) int { return cmp.Or(cmp.Compare(b.h, a.h), cmp.Compare(b.w, a.w)) })
	return out
}

// shelf lays one shelf on the floor of r and returns its height. Only several lets it
// have more than one column, only stacks let those be of more than one piece.
func (p *packer) shelf(s *sheet, r region, several, stacks bool, seq []lying, demand []int) int {
	high, x, columns := seq[0].h, 0, int64(0)
	defer func() { p.work += (int64(len(seq)) + columns + 7) / 8 }()
	for _, l := range seq {
		rows := 1
		if stacks {
			rows = high / l.h
		}
		for demand[l.item] > 0 && x+l.w <= r.W {
			n := min(rows, demand[l.item])
			for k := range n {
				s.placed = append(s.placed, model.Placed{Item: int32(l.item), X: int32(r.X + x), Y: int32(r.Y + k*l.h), Turned: l.turned})
			}
			demand[l.item] -= n
			x += l.w
			columns++
			if !several {
				return high
			}
		}
	}
	return high
}

// rest lays what is still wanted on shelves of sheets not yet open, those that cost
// least for their area first and of equals the smallest, each layout as often as it
// serves.
func (p *packer) rest(out *model.Solution) {
	order := make([]int, len(p.pr.Stocks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		s, t := p.pr.Stocks[a], p.pr.Stocks[b]
		return cmp.Or(cmp.Compare(float64(s.Cost)*float64(t.Area()), float64(t.Cost)*float64(s.Area())), cmp.Compare(s.Area(), t.Area()))
	})
	for _, st := range order {
		for p.left[st] != 0 {
			s := newSheet(p.pr, st)
			p.shelve(&s, slices.Clone(p.demand))
			if !p.repeat(s, out) {
				break
			}
		}
	}
}
