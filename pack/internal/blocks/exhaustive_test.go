package blocks

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// exhaustive knows every count vector that some guillotine layout of a
// rectangle holds, by trying every whole cut position: the reference for tiny
// problems. Vectors are numbers in the mixed base demand+1.
type exhaustive struct {
	pr    *model.Problem
	base  []int
	sizes int
	memo  map[[4]int][]bool
}

func newExhaustive(pr *model.Problem) *exhaustive {
	e := &exhaustive{pr: pr, sizes: 1, memo: map[[4]int][]bool{}}
	for _, it := range pr.Items {
		e.base = append(e.base, e.sizes)
		e.sizes *= it.Demand + 1
	}
	return e
}

func (e *exhaustive) digit(v, i int) int { return v / e.base[i] % (e.pr.Items[i].Demand + 1) }

// plus adds two vectors, or returns -1 when a demand is exceeded.
func (e *exhaustive) plus(a, b int) int {
	for i, it := range e.pr.Items {
		if e.digit(a, i)+e.digit(b, i) > it.Demand {
			return -1
		}
	}
	return a + b
}

// sets returns what a w x h region can hold. With a stage limit the first cuts
// run along axis and the region takes at most that many stages; without,
// stages is -1.
func (e *exhaustive) sets(w, h, stages, axis int) []bool {
	key := [4]int{w, h, stages, axis}
	if s, ok := e.memo[key]; ok {
		return s
	}
	s := make([]bool, e.sizes)
	s[0] = true
	for i, it := range e.pr.Items {
		if it.Demand > 0 && (it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h) {
			s[e.base[i]] = true
		}
	}
	join := func(a, b []bool) {
		for i, x := range a {
			if !x {
				continue
			}
			for j, y := range b {
				if y {
					if v := e.plus(i, j); v >= 0 {
						s[v] = true
					}
				}
			}
		}
	}
	if stages != 0 {
		inner := stages
		if stages > 0 {
			inner--
			for v, ok := range e.sets(w, h, inner, 1-axis) {
				s[v] = s[v] || ok
			}
		}
		for a := 1; a < w && (axis == 0 || stages < 0); a++ {
			join(e.sets(a, h, inner, 1-axis), e.sets(w-a, h, stages, axis))
		}
		for a := 1; a < h && (axis == 1 || stages < 0); a++ {
			join(e.sets(w, a, inner, 1-axis), e.sets(w, h-a, stages, axis))
		}
	}
	e.memo[key] = s
	return s
}

// sheet returns what the sheet can hold under the problem's stage limit.
func (e *exhaustive) sheet(stock int) []bool {
	st := e.pr.Stocks[stock]
	if e.pr.Stages == 0 {
		// Which axis is named does not matter without a limit; name one only.
		return e.free(st.W, st.H)
	}
	one, two := e.sets(st.W, st.H, e.pr.Stages, 0), e.sets(st.W, st.H, e.pr.Stages, 1)
	both := make([]bool, e.sizes)
	for v := range both {
		both[v] = one[v] || two[v]
	}
	return both
}

func (e *exhaustive) free(w, h int) []bool { return e.sets(w, h, -1, 0) }

func (e *exhaustive) value(v int) (sum int64) {
	for i, it := range e.pr.Items {
		sum += int64(e.digit(v, i)) * it.Value
	}
	return sum
}

func (e *exhaustive) best(stock int) (best int64) {
	for v, ok := range e.sheet(stock) {
		if ok {
			best = max(best, e.value(v))
		}
	}
	return best
}

// tiny returns a random problem with one stock that exhaustive can do.
func tiny(r *rand.Rand, side, items, demand, stages int) *model.Problem {
	pr := &model.Problem{Stages: stages, Stocks: []model.Stock{{W: 2 + r.IntN(side-1), H: 2 + r.IntN(side-1), Copies: 1}}}
	byArea := r.IntN(2) == 0
	for range 1 + r.IntN(items) {
		it := model.Item{W: 1 + r.IntN(side*2/3), H: 1 + r.IntN(side*2/3), Demand: 1 + r.IntN(demand)}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		it.Value = it.Area()
		if !byArea {
			it.Value = 1 + int64(r.IntN(30))
		}
		pr.Items = append(pr.Items, it)
	}
	return pr
}

// checkPattern requires a layout within the demands that can be cut.
func checkPattern(t *testing.T, pr *model.Problem, p model.Pattern, value int64, note ...any) {
	t.Helper()
	counts := make([]int, len(pr.Items))
	p.Count(counts)
	var sum int64
	for i, n := range counts {
		require.LessOrEqual(t, n, pr.Items[i].Demand, note...)
		sum += int64(n) * pr.Items[i].Value
	}
	require.Equal(t, value, sum, note...)
	st := pr.Stocks[p.Stock]
	_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
	require.NoError(t, err, note...)
	for _, q := range p.Placed {
		w, h := pr.Items[q.Item].Sides(q.Turned)
		for _, b := range st.Bad {
			meets := int(q.X) < b.X+b.W && b.X < int(q.X)+w && int(q.Y) < b.Y+b.H && b.Y < int(q.Y)+h
			require.False(t, meets, note...)
		}
		require.True(t, !q.Turned || pr.Items[q.Item].Turn, note...)
	}
}

// finish runs a search to its end in steps of a given size.
func finish(f *FillSearch, step int64) {
	for more := true; more; {
		_, more = f.Run(step)
	}
}

// Every result equals that of trying everything, is proved, and its layout can
// be cut; with stage limits too.
func TestFillAgainstExhaustive(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	rounds := 6000
	if testing.Short() {
		rounds = 1500
	}
	for round := range rounds {
		pr := tiny(r, 9, 4, 3, []int{0, 0, 1, 2, 3}[round%5])
		want := newExhaustive(pr).best(0)
		f := NewFill(pr, FillOptions{})
		finish(f, 1+int64(round%7)*50)
		p, v := f.Best()
		require.Equal(t, want, v, "round %d: %+v", round, pr)
		assert.True(t, f.Proved(), "round %d: %+v, bound %d", round, pr, f.Bound())
		checkPattern(t, pr, p, v, "round %d: %+v", round, pr)
	}
}
