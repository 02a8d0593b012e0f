package dp

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// crooked makes a problem of one sheet with bad areas.
func crooked(r *rand.Rand, side int) *model.Problem {
	pr := &model.Problem{Stocks: []model.Stock{{W: 2 + r.IntN(side), H: 2 + r.IntN(side), Copies: 1}}}
	st := &pr.Stocks[0]
	for range 1 + r.IntN(4) {
		b := model.Rect{X: r.IntN(st.W), Y: r.IntN(st.H)}
		b.W, b.H = 1+r.IntN(min(3, st.W-b.X)), 1+r.IntN(min(3, st.H-b.Y))
		st.Bad = append(st.Bad, b)
	}
	for range 1 + r.IntN(4) {
		it := model.Item{W: 1 + r.IntN(5), H: 1 + r.IntN(5), Demand: 1 + r.IntN(4)}
		it.Turn = it.W != it.H && r.IntN(2) == 0
		it.Value = it.Area() + int64(r.IntN(6))
		pr.Items = append(pr.Items, it)
	}
	return pr
}

func isClear(r model.Rect, bad []model.Rect) bool {
	for _, b := range bad {
		if r.X < b.X+b.W && b.X < r.X+r.W && r.Y < b.Y+b.H && b.Y < r.Y+r.H {
			return false
		}
	}
	return true
}

// worthOf tries every cut and every place, unit by unit, with unlimited copies.
func worthOf(pr *model.Problem, r model.Rect, memo map[model.Rect]int64) int64 {
	if v, ok := memo[r]; ok {
		return v
	}
	v := int64(0)
	for _, it := range pr.Items {
		for _, turned := range []bool{false, true}[:1+btoi(it.Turn)] {
			w, h := it.Sides(turned)
			for x := r.X; x+w <= r.X+r.W; x++ {
				for y := r.Y; y+h <= r.Y+r.H; y++ {
					if it.Value > v && isClear(model.Rect{X: x, Y: y, W: w, H: h}, pr.Stocks[0].Bad) {
						v = it.Value
					}
				}
			}
		}
	}
	for c := 1; c < r.W; c++ {
		v = max(v, worthOf(pr, model.Rect{X: r.X, Y: r.Y, W: c, H: r.H}, memo)+worthOf(pr, model.Rect{X: r.X + c, Y: r.Y, W: r.W - c, H: r.H}, memo))
	}
	for c := 1; c < r.H; c++ {
		v = max(v, worthOf(pr, model.Rect{X: r.X, Y: r.Y, W: r.W, H: c}, memo)+worthOf(pr, model.Rect{X: r.X, Y: r.Y + c, W: r.W, H: r.H - c}, memo))
	}
	memo[r] = v
	return v
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// valid checks a filling and returns its value.
func valid(t *testing.T, pr *model.Problem, placed []model.Placed, left []int) (v int64) {
	t.Helper()
	st := pr.Stocks[0]
	_, err := model.Build(pr, st.W, st.H, pr.Stages, placed)
	require.NoError(t, err)
	used := make([]int, len(pr.Items))
	for _, q := range placed {
		w, h := pr.Items[q.Item].Sides(q.Turned)
		require.True(t, isClear(model.Rect{X: int(q.X), Y: int(q.Y), W: w, H: h}, st.Bad))
		require.True(t, !q.Turned || pr.Items[q.Item].Turn)
		used[q.Item]++
		v += pr.Items[q.Item].Value
	}
	for k, n := range used {
		require.True(t, left == nil || n <= left[k])
	}
	return v
}

// With all positions the regions give what trying everything gives, and the
// pattern is worth it; with limited copies fillings stay within them.
func TestScrapAgainstAllThereIs(t *testing.T) {
	full, equal := 0, 0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 61))
		pr := crooked(r, 7)
		pr.Items[0].Demand = 9
		// Copies without limit: the positions of the table are sums of as many
		// sides as fit.
		many := *pr
		many.Items = append([]model.Item(nil), pr.Items...)
		values, left := make([]int64, len(pr.Items)), make([]int, len(pr.Items))
		for k := range many.Items {
			many.Items[k].Demand = 64
			values[k], left[k] = pr.Items[k].Value, pr.Items[k].Demand
		}
		st := pr.Stocks[0]
		table := New(many.Items, []Size{{st.W, st.H}}, 0)
		table.Solve(values)
		sheets := NewSheets(&many, NewScraps(&many))
		sheets.Read(table)
		want := worthOf(pr, model.Rect{W: st.W, H: st.H}, map[model.Rect]int64{})
		got := sheets.Value(0)
		require.LessOrEqual(t, got, want, "seed %d: %+v", seed, pr)
		if sheets.Most(0) == got {
			full++
		}
		require.GreaterOrEqual(t, sheets.Most(0), want, "seed %d: %+v", seed, pr)
		if got == want {
			equal++
		}
		require.Equal(t, got, valid(t, pr, sheets.Pattern(0), nil))
		valid(t, pr, sheets.Capped(0, left), left)
		b := NewBounded(pr.Items)
		require.LessOrEqual(t, valid(t, pr, b.FillScrap(sheets.scraps.Of(0), values, left), left), want)
	}
	assert.Greater(t, full, 2900)
	assert.GreaterOrEqual(t, equal, full)
}

// Regions chosen among too many still give layouts, worth no more than the plain
// sheet holds and mostly more than its layout less what lies on bad areas.
func TestScrapsTooFineForAllRegions(t *testing.T) {
	var around, cleared int64
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 62))
		pr := &model.Problem{Stocks: []model.Stock{{W: 60 + r.IntN(60), H: 60 + r.IntN(60), Copies: 1}}}
		st := &pr.Stocks[0]
		st.Bad = []model.Rect{{X: r.IntN(50), Y: r.IntN(50), W: 10, H: 7}, {X: st.W - 15, Y: st.H - 20, W: 15, H: 20}}
		for step := range 20 {
			st.Bad = append(st.Bad, model.Rect{X: step * st.W / 20, Y: 0, W: (st.W + 19) / 20, H: 1 + step/2})
		}
		values := make([]int64, 5)
		for k := range 5 {
			it := model.Item{W: 11 + r.IntN(13), H: 11 + r.IntN(13), Demand: 100}
			it.Turn = it.W != it.H
			it.Value = it.Area()
			pr.Items = append(pr.Items, it)
			values[k] = it.Value
		}
		table := New(pr.Items, []Size{{st.W, st.H}}, 0)
		table.Solve(values)
		sheets := NewSheets(pr, NewScraps(pr))
		sheets.Read(table)
		require.False(t, sheets.scraps.Of(0).full)
		require.Equal(t, sheets.Value(0), valid(t, pr, sheets.Pattern(0), nil))
		require.LessOrEqual(t, sheets.Value(0), sheets.Most(0))
		around += sheets.Value(0)
		cleared += valid(t, pr, Clear(table.Pattern(st.W, st.H), pr.Items, st.Bad), nil)
	}
	t.Logf("regions %d, pieces on bad areas left out %d", around, cleared)
	assert.Greater(t, around, cleared*11/10)
}

func BenchmarkScrap(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 63))
	pr := &model.Problem{Stocks: []model.Stock{{W: 96, H: 80, Copies: 1}}}
	for step := range 30 {
		pr.Stocks[0].Bad = append(pr.Stocks[0].Bad, model.Rect{X: step * 3, Y: 0, W: 4, H: 1 + step/2})
	}
	values, left := make([]int64, 6), make([]int, 6)
	for k := range 6 {
		pr.Items = append(pr.Items, model.Item{W: 12 + r.IntN(13), H: 12 + r.IntN(13), Demand: 9, Turn: true})
		values[k], left[k] = pr.Items[k].Area(), 9
	}
	b.Run("make", func(b *testing.B) {
		for b.Loop() {
			newScrap(pr.Items, pr.Stocks[0])
		}
	})
	s := newScrap(pr.Items, pr.Stocks[0])
	b.Run("bounded", func(b *testing.B) {
		f := NewBounded(pr.Items)
		for b.Loop() {
			f.FillScrap(s, values, left)
		}
		b.ReportMetric(float64(f.Work()), "units")
	})
	b.Run("plain", func(b *testing.B) {
		f := NewBounded(pr.Items)
		for b.Loop() {
			f.Fill(96, 80, values, left)
		}
		b.ReportMetric(float64(f.Work()), "units")
	})
	b.Run("table", func(b *testing.B) {
		table := New(pr.Items, []Size{{96, 80}}, 0)
		table.Solve(values)
		a := around{}
		for b.Loop() {
			a.solve(s, plain{grid: table.grid, best: table.best})
		}
		b.ReportMetric(float64(a.work), "units")
	})
	b.Logf("%d regions, %d rooms, making it counted as %d units", len(s.clear), len(s.rooms), s.work)
}
