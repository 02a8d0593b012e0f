package bounds

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// contents answers tiny problems by trying everything. What can be cut from a
// sheet is a set of count vectors, each a mixed-radix number below 64, so a set
// is one word.
type contents struct {
	pr    *model.Problem
	step  []int // of each item's count in the vector's number
	goods int   // the vector of everything wanted
	memo  map[[2]int]uint64
}

func newContents(pr *model.Problem) *contents {
	c := &contents{pr: pr, memo: map[[2]int]uint64{}}
	step := 1
	for _, it := range pr.Items {
		c.step = append(c.step, step)
		c.goods += step * it.Demand
		step *= it.Demand + 1
	}
	if step > 64 {
		panic("too many count vectors")
	}
	return c
}

// plus adds two vectors, or reports that a demand would be passed.
func (c *contents) plus(a, b int) (int, bool) {
	for i, it := range c.pr.Items {
		if a/c.step[i]%(it.Demand+1)+b/c.step[i]%(it.Demand+1) > it.Demand {
			return 0, false
		}
	}
	return a + b, true
}

func (c *contents) sums(s, t uint64) uint64 {
	var out uint64
	for a := range 64 {
		if s>>a&1 == 0 {
			continue
		}
		for b := range 64 {
			if t>>b&1 == 1 {
				if v, ok := c.plus(a, b); ok {
					out |= 1 << v
				}
			}
		}
	}
	return out
}

// of returns everything that can be cut edge to edge from a w x h sheet.
func (c *contents) of(w, h int) uint64 {
	if s, ok := c.memo[[2]int{w, h}]; ok {
		return s
	}
	set := uint64(1)
	for i, it := range c.pr.Items {
		if it.Demand > 0 && (it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h) {
			set |= 1 << c.step[i]
		}
	}
	for q := 1; 2*q <= w; q++ {
		set |= c.sums(c.of(q, h), c.of(w-q, h))
	}
	for q := 1; 2*q <= h; q++ {
		set |= c.sums(c.of(w, q), c.of(w, h-q))
	}
	c.memo[[2]int{w, h}] = set
	return set
}

// cheapest returns the least cost of cutting everything, or false when the
// stocks do not hold it.
func (c *contents) cheapest() (int64, bool) {
	cost := make([]int64, 64)
	for i := range cost {
		cost[i] = math.MaxInt64
	}
	cost[0] = 0
	for _, s := range c.pr.Stocks {
		set := c.of(s.W, s.H)
		for n := 0; n != s.Copies; n++ {
			next := append([]int64(nil), cost...)
			changed := false
			for a := range 64 {
				for b := range 64 {
					if cost[a] == math.MaxInt64 || set>>b&1 == 0 {
						continue
					}
					if v, ok := c.plus(a, b); ok && cost[a]+s.Cost < next[v] {
						next[v] = cost[a] + s.Cost
						changed = true
					}
				}
			}
			cost = next
			if !changed {
				break
			}
		}
	}
	return cost[c.goods], cost[c.goods] != math.MaxInt64
}

func randomProblem(r *rand.Rand, kinds int) *model.Problem {
	pr := &model.Problem{}
	for range kinds {
		s := model.Stock{W: 3 + r.IntN(9), H: 3 + r.IntN(9), Copies: model.Unlimited, Cost: int64(1 + r.IntN(30))}
		if kinds > 1 && r.IntN(2) == 0 {
			s.Copies = r.IntN(3)
			s.Cost *= int64(r.IntN(2))
		}
		pr.Stocks = append(pr.Stocks, s)
	}
	turn := r.IntN(3)
	vectors := 1
	for range 2 + r.IntN(4) {
		it := model.Item{W: 1 + r.IntN(10), H: 1 + r.IntN(10), Demand: 1 + r.IntN(4)}
		it.Turn = it.W != it.H && (turn == 1 || turn == 2 && r.IntN(2) == 0)
		if vectors*(it.Demand+1) > 64 || !fitsAny(it.W, it.H, pr.Stocks) && !(it.Turn && fitsAny(it.H, it.W, pr.Stocks)) {
			continue
		}
		vectors *= it.Demand + 1
		pr.Items = append(pr.Items, it)
	}
	return pr
}

// scaledUp is the same problem in a finer unit.
func scaledUp(pr *model.Problem, n int) *model.Problem {
	fine := &model.Problem{}
	for _, it := range pr.Items {
		it.W, it.H = it.W*n, it.H*n
		fine.Items = append(fine.Items, it)
	}
	for _, s := range pr.Stocks {
		s.W, s.H = s.W*n, s.H*n
		fine.Stocks = append(fine.Stocks, s)
	}
	return fine
}

func TestBoundsNeverPassTheOptimum(t *testing.T) {
	n := 6000
	if testing.Short() {
		n = 400
	}
	met := 0
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 1))
		pr := randomProblem(r, 1+seed%4)
		c := newContents(pr)
		least, ok := c.cheapest()
		if !ok {
			continue
		}
		bound, name := Cost(pr)
		require.LessOrEqual(t, bound, least, "seed %d: %s: %+v", seed, name, pr)
		if bound == least {
			met++
		}
		// Extents too fine for the knapsacks take another way.
		bound, name = Cost(scaledUp(pr, 1_000_003))
		require.LessOrEqual(t, bound, least, "seed %d, fine: %s: %+v", seed, name, pr)
		count := *pr
		count.Stocks = append([]model.Stock(nil), pr.Stocks...)
		for i := range count.Stocks {
			count.Stocks[i].Cost = 1
		}
		least, ok = newContents(&count).cheapest()
		require.True(t, ok)
		sheets, name := Sheets(pr)
		require.LessOrEqual(t, int64(sheets), least, "seed %d: %s: %+v", seed, name, pr)
	}
	t.Logf("the bound is the optimum in %d of %d", met, n)
	assert.Greater(t, met, n/2, "the bounds have become weak")
}

func TestStripBoundNeverPassesTheOptimum(t *testing.T) {
	met, n := 0, 400
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 2))
		width := 4 + r.IntN(6)
		pr := &model.Problem{}
		for range 2 + r.IntN(2) {
			it := model.Item{W: 1 + r.IntN(width), H: 1 + r.IntN(width), Demand: 1 + r.IntN(3)}
			it.Turn = it.W != it.H && seed%2 == 0
			pr.Items = append(pr.Items, it)
		}
		c := newContents(pr)
		least := 1
		for c.of(width, least)>>c.goods&1 == 0 {
			least++
		}
		bound, name := stripBound(pr, width)
		require.LessOrEqual(t, bound, least, "seed %d: %s: width %d %+v", seed, name, width, pr)
		if bound == least {
			met++
		}
	}
	t.Logf("the bound is the optimum in %d of %d", met, n)
	assert.Greater(t, met, n/2, "the bounds have become weak")
}

func TestBadRegionsHoldNoArea(t *testing.T) {
	s := model.Stock{W: 10, H: 10, Bad: []model.Rect{{X: 0, Y: 0, W: 4, H: 4}, {X: 2, Y: 2, W: 4, H: 4}, {X: 8, Y: 8, W: 5, H: 5}}}
	assert.EqualValues(t, 100-16-16+4-4, s.Room())
}

func TestVastProblemsDoNotOverflow(t *testing.T) {
	const side = 3_000_000
	pr := &model.Problem{
		Items:  []model.Item{{W: side, H: side, Demand: 1_000_000}, {W: side / 3, H: side / 2, Demand: 1_000_000, Turn: true}},
		Stocks: []model.Stock{{W: side, H: side, Copies: model.Unlimited, Cost: 7}, {W: 2 * side, H: side, Copies: 5, Cost: 3}},
	}
	bound, _ := Cost(pr)
	whole := int64(1_166_667 - 10)
	assert.InDelta(t, 15+7*whole, bound, 20)
	assert.LessOrEqual(t, bound, 15+7*whole+7)
}

func TestNothingToCut(t *testing.T) {
	for _, pr := range []*model.Problem{
		{},
		{Stocks: []model.Stock{{W: 5, H: 5, Copies: model.Unlimited, Cost: 3}}},
		{Items: []model.Item{{W: 2, H: 2, Demand: 3}}},
		{Items: []model.Item{{W: 9, H: 2, Demand: 3}}, Stocks: []model.Stock{{W: 5, H: 5, Copies: model.Unlimited, Cost: 3}}},
	} {
		bound, _ := Cost(pr)
		assert.Zero(t, bound, fmt.Sprint(pr))
		n, _ := Sheets(pr)
		assert.Zero(t, n)
	}
}
