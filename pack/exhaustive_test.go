package pack_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// exhaustive finds the least cost of a tiny problem by trying everything: for
// every rectangle all contents that can be cut from it, then every multiset of
// sheets. It shares nothing with the engines. Lengths are whole ticks.
type exhaustive struct {
	p    pack.Problem
	memo map[[2]int][][]int
}

// contents lists the maximal counts of pieces that a w x h rectangle yields.
func (e *exhaustive) contents(w, h int) [][]int {
	if got, ok := e.memo[[2]int{w, h}]; ok {
		return got
	}
	n := len(e.p.Pieces)
	all := [][]int{make([]int, n)}
	for i, q := range e.p.Pieces {
		if int(q.W) <= w && int(q.H) <= h || q.Turn && int(q.H) <= w && int(q.W) <= h {
			one := make([]int, n)
			one[i] = min(1, q.Demand)
			all = append(all, one)
		}
	}
	join := func(a, b [][]int) {
		for _, u := range a {
			for _, v := range b {
				s := make([]int, n)
				for i := range s {
					s[i] = min(u[i]+v[i], e.p.Pieces[i].Demand)
				}
				all = append(all, s)
			}
		}
	}
	for c := 1; c <= w/2; c++ {
		join(e.contents(c, h), e.contents(w-c, h))
	}
	for c := 1; c <= h/2; c++ {
		join(e.contents(w, c), e.contents(w, h-c))
	}
	all = maximal(all)
	e.memo[[2]int{w, h}] = all
	return all
}

// maximal drops counts that another entry covers.
func maximal(all [][]int) [][]int {
	var out [][]int
	for i, u := range all {
		if !slices.ContainsFunc(out, func(v []int) bool { return covers(v, u) }) &&
			!slices.ContainsFunc(all[i+1:], func(v []int) bool { return covers(v, u) }) {
			out = append(out, u)
		}
	}
	return out
}

func covers(v, u []int) bool {
	for i := range v {
		if v[i] < u[i] {
			return false
		}
	}
	return true
}

// least is the least cost, math.MaxInt64 when the stock does not hold
// everything.
func (e *exhaustive) least() int64 {
	demand := make([]int, len(e.p.Pieces))
	for i, q := range e.p.Pieces {
		demand[i] = q.Demand
	}
	best := e.sheets(demand, 0, map[string]int64{})
	for _, r := range bolts(e.p) {
		for l := max(r.Step, r.Least.RoundUp(r.Step)); l <= r.Most; l += r.Step {
			if r.Cost(l) >= best {
				break
			}
			w, h := r.Usable(l)
			for _, c := range e.contents(int(w), int(h)) {
				if rest := e.sheets(minus(demand, c), 0, map[string]int64{}); rest < math.MaxInt64 {
					best = min(best, r.Cost(l)+rest)
				}
			}
		}
	}
	return best
}

func bolts(p pack.Problem) []pack.Roll {
	if p.Roll == nil {
		return nil
	}
	return p.Roll.Bolts()
}

func minus(u, v []int) []int {
	s := make([]int, len(u))
	for i := range s {
		s[i] = max(u[i]-v[i], 0)
	}
	return s
}

// sheets is the least cost of cutting demand from the sheets from the i-th on.
func (e *exhaustive) sheets(demand []int, i int, memo map[string]int64) int64 {
	if slices.Max(demand) == 0 {
		return 0
	}
	if i == len(e.p.Sheets) {
		return math.MaxInt64
	}
	key := fmt.Sprint(i, demand)
	if got, ok := memo[key]; ok {
		return got
	}
	memo[key] = math.MaxInt64 // a sheet that takes nothing leads back here
	s := e.p.Sheets[i]
	best := e.sheets(demand, i+1, memo)
	w, h := s.Usable()
	if s.Copies == pack.Unlimited {
		for _, c := range e.contents(int(w), int(h)) {
			if rest := minus(demand, c); !slices.Equal(rest, demand) {
				if cost := e.sheets(rest, i, memo); cost < math.MaxInt64 {
					best = min(best, s.Price+cost)
				}
			}
		}
	} else {
		left := [][]int{demand}
		for n := int64(1); n <= int64(s.Copies); n++ {
			var next [][]int
			for _, d := range left {
				for _, c := range e.contents(int(w), int(h)) {
					next = append(next, minus(d, c))
				}
			}
			left = next
			for _, d := range left {
				if cost := e.sheets(d, i+1, memo); cost < math.MaxInt64 {
					best = min(best, n*s.Price+cost)
				}
			}
		}
	}
	memo[key] = best
	return best
}

// tinyProblem makes a problem that exhaustive can solve.
func tinyProblem(r *rand.Rand) pack.Problem {
	var p pack.Problem
	for i := range 1 + r.IntN(3) {
		p.Pieces = append(p.Pieces, pack.Piece{
			ID: fmt.Sprint(i), W: units.Length(1 + r.IntN(4)), H: units.Length(1 + r.IntN(4)), Demand: 1 + r.IntN(3), Turn: r.IntN(2) == 0,
		})
	}
	for i := range 1 + r.IntN(2) {
		s := pack.Sheet{ID: fmt.Sprint(i), W: units.Length(3 + r.IntN(4)), H: units.Length(3 + r.IntN(4)), Copies: 1 + r.IntN(2), Price: int64(r.IntN(9))}
		switch r.IntN(3) {
		case 0:
			s.Copies = pack.Unlimited
			s.Price++
		case 1:
			s.Free, s.Price = true, 0
		}
		p.Sheets = append(p.Sheets, s)
	}
	if r.IntN(2) == 0 {
		p.Roll = &pack.Roll{ID: "roll", W: units.Length(3 + r.IntN(4)), Step: 1, Least: units.Length(r.IntN(3)), Most: 8, Price: int64(1 + r.IntN(4)), Per: units.Length(1 + r.IntN(2))}
	}
	return p
}

// Every plan that is called proved best is best, no bound is above what can be
// reached, and nothing is called short that can be cut.
func TestProvedIsBest(t *testing.T) {
	problems := 3000
	if testing.Short() {
		problems = 300
	}
	proved, best := 0, 0
	for seed := range problems {
		p := tinyProblem(rand.New(rand.NewPCG(uint64(seed), 3)))
		e := exhaustive{p: p, memo: map[[2]int][][]int{}}
		want := e.least()
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 4})
		require.NoError(t, err, "seed %d", seed)
		if want == math.MaxInt64 {
			require.Equal(t, pack.Short, s.Status, "seed %d: %+v", seed, p)
			continue
		}
		require.NotEqual(t, pack.Short, s.Status, "seed %d: %+v costs %d", seed, p, want)
		require.GreaterOrEqual(t, s.Cost, want, "seed %d: %+v", seed, p)
		require.LessOrEqual(t, s.Bound, want, "seed %d: %+v by %s", seed, p, s.ProvedBy)
		if s.Status == pack.Proved {
			require.Equal(t, want, s.Cost, "seed %d: %+v", seed, p)
			proved++
		}
		if s.Cost == want {
			best++
		}
	}
	t.Logf("of %d problems %d are solved best, %d of them proved", problems, best, proved)
}

// smallFabric is a fabric with up to four pieces of stash, one to three sold
// cuts and a bolt.
func smallFabric(r *rand.Rand) pack.Problem {
	var p pack.Problem
	for i := range 1 + r.IntN(3) {
		p.Pieces = append(p.Pieces, pack.Piece{
			ID: fmt.Sprint(i), W: units.Length(1 + r.IntN(4)), H: units.Length(1 + r.IntN(3)), Demand: 1 + r.IntN(4), Turn: r.IntN(3) > 0,
		})
	}
	for i := range r.IntN(5) {
		p.Sheets = append(p.Sheets, pack.Sheet{ID: fmt.Sprint("stash ", i), W: units.Length(2 + r.IntN(3)), H: units.Length(2 + r.IntN(3)), Copies: 1, Free: true})
	}
	for i := range 1 + r.IntN(3) {
		s := pack.Sheet{ID: fmt.Sprint("cut ", i), W: units.Length(3 + r.IntN(3)), H: units.Length(3 + r.IntN(2)), Copies: pack.Unlimited, Price: int64(3 + r.IntN(9))}
		if r.IntN(3) == 0 {
			s.Copies = 1 + r.IntN(2)
		}
		p.Sheets = append(p.Sheets, s)
	}
	p.Roll = &pack.Roll{ID: "bolt", W: units.Length(5 + r.IntN(2)), Step: units.Length(1 + r.IntN(2)), Least: units.Length(r.IntN(3)), Most: 8, Price: int64(2 + r.IntN(4)), Per: 1}
	return p
}

// The price of small fabrics with everything they can come from is the least
// there is, and nearly always proved to be.
func TestPriceOfSmallFabrics(t *testing.T) {
	fabrics := 500
	if testing.Short() {
		fabrics = 60
	}
	solved, proved := 0, 0
	for seed := range fabrics {
		p := smallFabric(rand.New(rand.NewPCG(uint64(seed), 4)))
		e := exhaustive{p: p, memo: map[[2]int][][]int{}}
		want := e.least()
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 20})
		require.NoError(t, err, "seed %d", seed)
		if want == math.MaxInt64 {
			require.Equal(t, pack.Short, s.Status, "seed %d", seed)
			continue
		}
		require.Equal(t, want, s.Cost, "seed %d: %+v", seed, p)
		solved++
		if s.Status == pack.Proved {
			proved++
		}
	}
	t.Logf("of %d fabrics with a price %d are proved", solved, proved)
	require.Greater(t, 100*proved, 98*solved)
}
