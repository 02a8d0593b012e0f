package peel

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// cutUp cuts a sheet from edge to edge at random into n pieces, none narrower
// than two, and returns the problem of cutting them again.
func cutUp(r *rand.Rand, w, h, n int, turn bool) *model.Problem {
	parts := [][2]int{{w, h}}
	for len(parts) < n {
		// The largest of three is cut.
		at := r.IntN(len(parts))
		for range 2 {
			if o := r.IntN(len(parts)); parts[o][0]*parts[o][1] > parts[at][0]*parts[at][1] {
				at = o
			}
		}
		p := parts[at]
		axis := r.IntN(2)
		if p[axis] < 4 {
			continue
		}
		a, b := p, p
		a[axis] = 2 + r.IntN(p[axis]-3)
		b[axis] -= a[axis]
		parts[at] = a
		parts = append(parts, b)
	}
	pr := &model.Problem{Stocks: []model.Stock{{W: w, H: h, Copies: 1}}}
	at := map[[2]int]int{}
	for _, p := range parts {
		if turn && p[0] < p[1] {
			p[0], p[1] = p[1], p[0]
		}
		if i, ok := at[p]; ok {
			pr.Items[i].Demand++
			continue
		}
		at[p] = len(pr.Items)
		pr.Items = append(pr.Items, model.Item{W: p[0], H: p[1], Demand: 1, Turn: turn && p[0] != p[1]})
	}
	return pr
}

// attempts runs until one succeeds or the work is spent.
func attempts(s *Search, height int, quantum, budget int64) (work int64, r Result) {
	for work < budget && r != Found && r != Useless {
		var spent int64
		spent, r = s.Run(height, quantum)
		work += spent + 1
	}
	return work, r
}

func checkLayout(t *testing.T, pr *model.Problem, height int, p model.Pattern) {
	t.Helper()
	sol := &model.Solution{}
	sol.Add(p, 1)
	for i, n := range sol.Missing(pr) {
		require.Zero(t, n, "item %d", i)
	}
	_, err := model.Build(pr, pr.Stocks[0].W, height, 0, p.Placed)
	require.NoError(t, err)
	for _, q := range p.Placed {
		require.False(t, q.Turned && !pr.Items[q.Item].Turn)
	}
}

// What was cut up goes into a sheet little longer more often than not, now and then
// into one as long, without turning and with, and is never said to go into less.
func TestSheetsCutUpArePutTogether(t *testing.T) {
	sheets, longer, whole := 12, 0, 0
	if testing.Short() {
		sheets = 3
	}
	for seed := range uint64(sheets) {
		r := rand.New(rand.NewPCG(seed, 63))
		w, h := 50+r.IntN(50), 100
		pr := cutUp(r, w, h, 40+r.IntN(80), seed%2 == 0)
		name := fmt.Sprintf("%d: %d of %d x %d", seed, len(pr.Items), w, h)
		s := New(pr, seed)
		if _, res := attempts(s, h+2, 50_000, 100_000); res == Found {
			longer++
			checkLayout(t, pr, h+2, s.Layout())
		}
		if _, res := attempts(s, h, 50_000, 100_000); res == Found {
			whole++
			checkLayout(t, pr, h, s.Layout())
		}
		_, res := New(pr, seed).Run(h-1, 1_000)
		require.Equal(t, Impossible, res, name)
	}
	t.Logf("of %d sheets %d fit one 2 %% longer, %d one as long", sheets, longer, whole)
	assert.GreaterOrEqual(t, longer, sheets/2)
	assert.True(t, whole > 0 || testing.Short())
}

// The same work in one go and in small parts comes to the same.
func TestQuantaDoNotMatter(t *testing.T) {
	pr := cutUp(rand.New(rand.NewPCG(3, 64)), 70, 90, 80, false)
	var layouts []model.Pattern
	for _, quantum := range []int64{1 << 40, 1_000} {
		s := New(pr, 5)
		_, r := attempts(s, 93, quantum, 1<<41)
		require.Equal(t, Found, r)
		layouts = append(layouts, s.Layout())
	}
	assert.Equal(t, layouts[0], layouts[1])
}

// Few pieces are left to others, and so are measures so fine that no table holds
// them.
func TestUseless(t *testing.T) {
	pr := cutUp(rand.New(rand.NewPCG(1, 65)), 40, 40, few, false)
	_, r := attempts(New(pr, 1), 41, 1_000, 1_000_000)
	assert.Equal(t, Useless, r)

	pr = cutUp(rand.New(rand.NewPCG(1, 65)), 40, 40, 60, false)
	for i := range pr.Items {
		pr.Items[i].W *= 1_000
		pr.Items[i].H *= 1_000
	}
	pr.Stocks[0].W *= 1_000
	_, r = attempts(New(pr, 1), 41_000, 1_000, 1_000_000)
	assert.Equal(t, Useless, r)
}

// A piece that is too tall for the sheet makes attempts impossible.
func TestTooTall(t *testing.T) {
	pr := cutUp(rand.New(rand.NewPCG(1, 66)), 40, 40, 60, false)
	pr.Items = append(pr.Items, model.Item{W: 1, H: 60, Demand: 1})
	_, r := New(pr, 1).Run(50, 1_000)
	assert.Equal(t, Impossible, r)
}
