package beam

import (
	"math"

	"pinfold/pack/internal/model"
)

// brute answers tiny problems (up to six pieces) by trying everything: every
// way to part pieces into rows, rows into strips, strips into sheets. It shares
// nothing with the search.
type brute struct {
	pr     *model.Problem
	pieces []model.Item
}

func newBrute(pr *model.Problem) *brute {
	b := &brute{pr: pr}
	for _, it := range pr.Items {
		for range it.Demand {
			b.pieces = append(b.pieces, it)
		}
	}
	return b
}

const never = math.MaxInt / 4

// stripWidth is the least width of one strip that holds the set of pieces in
// rows of a total height of at most h; x is the axis the widths lie along.
func (b *brute) stripWidth(set int, h int, x model.Axis) int {
	best := never
	var lens, highs []int
	var place func(i int)
	place = func(i int) {
		if i == len(b.pieces) {
			w, sum := 0, 0
			for r := range lens {
				w, sum = max(w, lens[r]), sum+highs[r]
			}
			if sum <= h {
				best = min(best, w)
			}
			return
		}
		if set>>i&1 == 0 {
			place(i + 1)
			return
		}
		for _, turned := range []bool{false, true} {
			if turned && !b.pieces[i].Turn {
				continue
			}
			pw, ph := b.pieces[i].Sides(turned)
			if x == model.AxisY {
				pw, ph = ph, pw
			}
			for r := range lens {
				l, g := lens[r], highs[r]
				lens[r], highs[r] = l+pw, max(g, ph)
				place(i + 1)
				lens[r], highs[r] = l, g
			}
			lens, highs = append(lens, pw), append(highs, ph)
			place(i + 1)
			lens, highs = lens[:len(lens)-1], highs[:len(highs)-1]
		}
	}
	place(0)
	return best
}

// widths gives for every set of pieces the least extent along x of a sheet h
// across that holds it.
func (b *brute) widths(h int, x model.Axis, staged int) []int {
	one := make([]int, 1<<len(b.pieces))
	for set := range one {
		one[set] = b.stripWidth(set, h, x)
	}
	if staged == 2 {
		return one
	}
	all := make([]int, len(one))
	for set := 1; set < len(all); set++ {
		all[set] = never
		for sub := set; sub > 0; sub = (sub - 1) & set {
			all[set] = min(all[set], one[sub]+all[set&^sub])
		}
	}
	return all
}

// fits tells for every set of pieces whether one sheet holds it.
func (b *brute) fits(w, h int) []bool {
	staged := 3
	if b.pr.Stages == 2 {
		staged = 2
	}
	out := make([]bool, 1<<len(b.pieces))
	for set, e := range b.widths(h, model.AxisX, staged) {
		out[set] = e <= w
	}
	for set, e := range b.widths(w, model.AxisY, staged) {
		out[set] = out[set] || e <= h
	}
	return out
}

// cost is the least cost of sheets for everything, or never.
func (b *brute) cost() int64 {
	var fits [][]bool
	copies := make([]int, len(b.pr.Stocks))
	for i, s := range b.pr.Stocks {
		fits = append(fits, b.fits(s.W, s.H))
		if copies[i] = s.Copies; s.Copies == model.Unlimited {
			copies[i] = len(b.pieces)
		}
	}
	var rest func(set int) int64
	rest = func(set int) int64 {
		if set == 0 {
			return 0
		}
		best := int64(never)
		low := set & -set
		for k := range copies {
			if copies[k] == 0 {
				continue
			}
			copies[k]--
			for sub := set; sub > 0; sub = (sub - 1) & set {
				if sub&low != 0 && fits[k][sub] {
					best = min(best, b.pr.Stocks[k].Cost+rest(set&^sub))
				}
			}
			copies[k]++
		}
		return best
	}
	return rest(1<<len(b.pieces) - 1)
}

// height is the least height of the strip for everything.
func (b *brute) height(w int) int64 {
	for h := 1; ; h++ {
		if b.fits(w, h)[1<<len(b.pieces)-1] {
			return int64(h)
		}
	}
}

// value is the most value one sheet holds.
func (b *brute) value(w, h int) int64 {
	var best int64
	for set, ok := range b.fits(w, h) {
		if !ok {
			continue
		}
		var v int64
		for i, p := range b.pieces {
			if set>>i&1 == 1 {
				v += p.Value
			}
		}
		best = max(best, v)
	}
	return best
}
