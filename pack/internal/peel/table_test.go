package peel

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/random"
)

// Packed counts add and overflow as plain ones do.
func TestCountsAddAsPlainOnes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 61))
	tooMany, fit := 0, 0
	for range 300 {
		copies := make([]int, 1+r.IntN(100))
		for i := range copies {
			copies[i] = 1 + r.IntN(9)
		}
		f, ok := layOut(copies)
		require.True(t, ok)
		draw := func() ([]int, counts) {
			plain, packed := make([]int, len(copies)), make(counts, len(f.over))
			one := make(counts, len(f.over))
			for range 1 + r.IntN(len(copies)) {
				if i := r.IntN(len(copies)); plain[i] < copies[i] {
					plain[i]++
					f.one(one, i)
					require.True(t, f.sum(packed, packed, one))
				}
			}
			return plain, packed
		}
		a, pa := draw()
		b, pb := draw()
		within := true
		for i := range a {
			require.Equal(t, a[i], f.of(pa, i))
			within = within && a[i]+b[i] <= copies[i]
		}
		sum := make(counts, len(pa))
		require.Equal(t, within, f.sum(sum, pa, pb))
		if !within {
			tooMany++
			continue
		}
		fit++
		for i := range a {
			require.Equal(t, a[i]+b[i], f.of(sum, i))
		}
	}
	assert.Greater(t, tooMany, 20)
	assert.Greater(t, fit, 20)
	_, ok := layOut(slices.Repeat([]int{1}, 32*mostWords+1))
	assert.False(t, ok)
}

// exhaustive lists the sizes that each set of pieces fills without waste, by
// trying every way to part the set. Sets are bits.
func exhaustive(ps []model.Item) [][][2]int {
	out := make([][][2]int, 1<<len(ps))
	for set := 1; set < len(out); set++ {
		found := map[[2]int]bool{}
		for a := (set - 1) & set; a > 0; a = (a - 1) & set {
			for _, p := range out[a] {
				for _, q := range out[set&^a] {
					if p[1] == q[1] {
						found[[2]int{p[0] + q[0], p[1]}] = true
					}
					if p[0] == q[0] {
						found[[2]int{p[0], p[1] + q[1]}] = true
					}
				}
			}
		}
		for i, p := range ps {
			if set == 1<<i {
				found[[2]int{p.W, p.H}] = true
				if p.Turn {
					found[[2]int{p.H, p.W}] = true
				}
			}
		}
		for size := range found {
			out[set] = append(out[set], size)
		}
	}
	return out
}

// Every block of a table is one that exhaustive enumeration knows, its layout
// fills it, and of few pieces hardly a size is missing.
func TestTableAgainstExhaustive(t *testing.T) {
	sizes, made := 0, 0
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 62))
		pr := &model.Problem{Stocks: []model.Stock{{W: 14, H: 14, Copies: 1}}}
		rnd := random.Stream(seed)
		s := New(pr, seed)
		var ps []model.Item
		for range 2 + r.IntN(3) {
			it := model.Item{W: 1 + r.IntN(5), H: 1 + r.IntN(5), Demand: 1 + r.IntN(2)}
			if slices.ContainsFunc(pr.Items, func(o model.Item) bool {
				return o.W == it.W && o.H == it.H || o.W == it.H && o.H == it.W
			}) {
				continue
			}
			it.Turn = it.W != it.H && r.IntN(2) == 0
			pr.Items = append(pr.Items, it)
			for range it.Demand {
				ps = append(ps, it)
			}
		}
		s.rest = nil
		for _, it := range pr.Items {
			s.rest = append(s.rest, it.Demand)
		}
		s.kindOf = make([]int, len(pr.Items))
		s.choose()
		tb := &s.table
		tb.width, tb.height, tb.region, tb.rnd, tb.must, tb.deep = 14, 14, 14, &rnd, -1, deep
		if seed%2 == 0 {
			tb.must = 0
		}
		tb.begin()
		for !tb.fill(tb.work + 100) {
		}

		truth := map[[2]int]bool{}
		for _, of := range exhaustive(ps) {
			for _, size := range of {
				if size[0] <= 14 && size[1] <= 14 {
					truth[size] = true
				}
			}
		}
		sizes += len(truth)
		for h := 1; h <= 14; h++ {
			for w := 1; w <= 14; w++ {
				of := tb.of(tb.at(w, h))
				if len(of) > 0 {
					made++
					require.True(t, truth[[2]int{w, h}], "%d x %d of %v", w, h, pr.Items)
				}
				for _, i := range of {
					placed := tb.lay(nil, i, 0, 0)
					p := model.Pattern{Placed: placed}
					require.Equal(t, int64(w*h), p.Area(pr))
					_, err := model.Build(pr, w, h, 0, placed)
					require.NoError(t, err)
					n := make([]int, len(pr.Items))
					p.Count(n)
					for item, k := range s.kindOf {
						require.Equal(t, n[item], tb.fields.of(tb.counts(i), k))
						require.LessOrEqual(t, n[item], pr.Items[item].Demand)
					}
				}
			}
		}
	}
	t.Logf("%d of %d sizes", made, sizes)
	assert.Greater(t, made, sizes*97/100)
}
