package search_test

import (
	"math"
	"math/rand/v2"
	"slices"

	"pinfold/pack/internal/model"
)

// truth knows what tiny problems come to, by trying every whole cut of every
// region of every sheet, where it lies, within the stages and around what is bad.
// It shares nothing with the engines. Contents are numbers in the mixed base
// demand+1, of less than 64 values, and sets of them are bits.
type truth struct {
	pr    *model.Problem
	base  []int
	sizes int
	sums  [][]int // of two contents, -1 beyond the demands
	held  []uint64
}

func newTruth(pr *model.Problem) *truth {
	t := &truth{pr: pr, sizes: 1}
	for _, it := range pr.Items {
		t.base = append(t.base, t.sizes)
		t.sizes *= it.Demand + 1
	}
	for a := range t.sizes {
		t.sums = append(t.sums, make([]int, t.sizes))
		for b := range t.sizes {
			t.sums[a][b] = a + b
			for i, it := range pr.Items {
				if t.digit(a, i)+t.digit(b, i) > it.Demand {
					t.sums[a][b] = -1
				}
			}
		}
	}
	for i := range pr.Stocks {
		t.held = append(t.held, t.holds(i, pr.Stages))
	}
	return t
}

func (t *truth) digit(v, i int) int { return v / t.base[i] % (t.pr.Items[i].Demand + 1) }

// holds is the set of contents of one sheet of a stock within stages, 0 for no
// limit. With one, the first cuts may run along either axis.
func (t *truth) holds(stock, stages int) uint64 {
	st := t.pr.Stocks[stock]
	whole := region{w: st.W, h: st.H, stages: -1}
	s := sheetTruth{truth: t, bad: st.Bad, memo: map[region]uint64{}}
	if stages == 0 {
		return s.sets(whole)
	}
	whole.stages = stages
	out := s.sets(whole)
	whole.axis = 1
	return out | s.sets(whole)
}

type sheetTruth struct {
	*truth
	bad  []model.Rect
	memo map[region]uint64
}

// region is a part of a sheet that may be cut along axis, then in as many stages
// less one across it; stages is -1 for no limit, when it may be cut either way.
type region struct{ x, y, w, h, stages, axis int }

func (s *sheetTruth) sets(r region) uint64 {
	if len(s.bad) == 0 {
		r.x, r.y = 0, 0
	}
	if got, ok := s.memo[r]; ok {
		return got
	}
	out := uint64(1)
	for i, it := range s.pr.Items {
		if it.Demand > 0 && (s.fits(r, it.W, it.H) || it.Turn && s.fits(r, it.H, it.W)) {
			out |= 1 << s.base[i]
		}
	}
	if r.stages != 0 {
		inner := r.stages
		if r.stages > 0 {
			inner--
			out |= s.sets(region{r.x, r.y, r.w, r.h, inner, 1 - r.axis})
		}
		for c := 1; c < r.w && (r.axis == 0 || r.stages < 0); c++ {
			out |= s.join(s.across(region{r.x, r.y, c, r.h, inner, 1}), s.sets(region{r.x + c, r.y, r.w - c, r.h, r.stages, r.axis}))
		}
		for c := 1; c < r.h && (r.axis == 1 || r.stages < 0); c++ {
			out |= s.join(s.across(region{r.x, r.y, r.w, c, inner, 0}), s.sets(region{r.x, r.y + c, r.w, r.h - c, r.stages, r.axis}))
		}
	}
	s.memo[r] = out
	return out
}

// across is sets, with one way to write a region where the axis says nothing.
func (s *sheetTruth) across(r region) uint64 {
	if r.stages < 0 {
		r.axis = 0
	}
	return s.sets(r)
}

func (t *truth) join(a, b uint64) (out uint64) {
	for i := range t.sizes {
		for j := range t.sizes {
			if a>>i&1 == 1 && b>>j&1 == 1 && t.sums[i][j] >= 0 {
				out |= 1 << t.sums[i][j]
			}
		}
	}
	return out
}

func (s *sheetTruth) fits(r region, w, h int) bool {
	for x := r.x; x+w <= r.x+r.w; x++ {
		for y := r.y; y+h <= r.y+r.h; y++ {
			if clear(s.bad, model.Rect{X: x, Y: y, W: w, H: h}) {
				return true
			}
		}
	}
	return false
}

func clear(bad []model.Rect, q model.Rect) bool {
	return !slices.ContainsFunc(bad, func(b model.Rect) bool {
		return q.X < b.X+b.W && b.X < q.X+q.W && q.Y < b.Y+b.H && b.Y < q.Y+q.H
	})
}

// impossible is the cost of what the stocks do not hold.
const impossible = math.MaxInt64

// least is the least cost of everything, held being what each stock holds and
// prices what each costs.
func (t *truth) least(held []uint64, prices func(model.Stock) int64) int64 {
	copies := 0
	for _, it := range t.pr.Items {
		copies += it.Demand
	}
	best := make([]int64, t.sizes)
	for v := range best[1:] {
		best[v+1] = impossible
	}
	for i, st := range t.pr.Stocks {
		n := st.Copies
		if n == model.Unlimited || n > copies {
			n = copies
		}
		for range n {
			next := slices.Clone(best)
			for v, cost := range best {
				for c := range t.sizes {
					if u := t.sums[v][c]; cost < impossible && u >= 0 && held[i]>>c&1 == 1 {
						next[u] = min(next[u], cost+prices(st))
					}
				}
			}
			best = next
		}
	}
	return best[t.sizes-1]
}

func price(st model.Stock) int64 { return st.Cost }

// most is the most value one sheet of a stock holds.
func (t *truth) most(stock int) (best int64) {
	for v := range t.sizes {
		if t.held[stock]>>v&1 == 0 {
			continue
		}
		sum := int64(0)
		for i, it := range t.pr.Items {
			sum += int64(t.digit(v, i)) * it.Value
		}
		best = max(best, sum)
	}
	return best
}

// all tells whether one sheet of a stock holds everything.
func (t *truth) all(stock int) bool { return t.held[stock]>>(t.sizes-1)&1 == 1 }

// tiny draws a problem whose truth is known in milliseconds: up to three sizes,
// three kinds of sheets with prices, often limited, some with bad regions, and
// any limit of stages.
func tiny(r *rand.Rand) *model.Problem {
	pr := &model.Problem{Stages: []int{0, 0, 0, 2, 3, 1}[r.IntN(6)]}
	sizes := 1
	for range 1 + r.IntN(3) {
		it := model.Item{W: 1 + r.IntN(4), H: 1 + r.IntN(4), Demand: 1 + r.IntN(4), Value: int64(1 + r.IntN(20))}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		if sizes *= it.Demand + 1; sizes > 64 {
			break
		}
		pr.Items = append(pr.Items, it)
	}
	for range 1 + r.IntN(3) {
		st := model.Stock{W: 2 + r.IntN(5), H: 2 + r.IntN(5), Cost: int64(r.IntN(12)), Copies: model.Unlimited}
		if st.Cost == 0 || r.IntN(2) == 0 {
			st.Copies = 1 + r.IntN(3)
		}
		if r.IntN(4) == 0 {
			for range 1 + r.IntN(2) {
				st.Bad = append(st.Bad, model.Rect{X: r.IntN(st.W), Y: r.IntN(st.H), W: 1 + r.IntN(2), H: 1 + r.IntN(2)})
			}
		}
		pr.Stocks = append(pr.Stocks, st)
	}
	return pr
}
