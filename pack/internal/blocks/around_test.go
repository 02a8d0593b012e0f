package blocks

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// exhaustiveAround is what each region of a sheet with bad areas can hold, by
// every whole cut position and every place.
type exhaustiveAround struct {
	*exhaustive
	bad  []model.Rect
	memo map[model.Rect][]bool
}

func (e *exhaustiveAround) fits(r model.Rect, w, h int) bool {
	for x := r.X; x+w <= r.X+r.W; x++ {
	next:
		for y := r.Y; y+h <= r.Y+r.H; y++ {
			for _, b := range e.bad {
				if x < b.X+b.W && b.X < x+w && y < b.Y+b.H && b.Y < y+h {
					continue next
				}
			}
			return true
		}
	}
	return false
}

func (e *exhaustiveAround) region(r model.Rect) []bool {
	if s, ok := e.memo[r]; ok {
		return s
	}
	s := make([]bool, e.sizes)
	s[0] = true
	for i, it := range e.pr.Items {
		if e.fits(r, it.W, it.H) || it.Turn && e.fits(r, it.H, it.W) {
			s[e.base[i]] = true
		}
	}
	join := func(a, b model.Rect) {
		for i, x := range e.region(a) {
			for j, y := range e.region(b) {
				if x && y {
					if v := e.plus(i, j); v >= 0 {
						s[v] = true
					}
				}
			}
		}
	}
	for c := 1; c < r.W; c++ {
		join(model.Rect{X: r.X, Y: r.Y, W: c, H: r.H}, model.Rect{X: r.X + c, Y: r.Y, W: r.W - c, H: r.H})
	}
	for c := 1; c < r.H; c++ {
		join(model.Rect{X: r.X, Y: r.Y, W: r.W, H: c}, model.Rect{X: r.X, Y: r.Y + c, W: r.W, H: r.H - c})
	}
	e.memo[r] = s
	return s
}

// On small sheets with bad areas the result is the best there is, and proved.
func TestFillAroundBadAreas(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	rounds := 800
	if testing.Short() {
		rounds = 200
	}
	for round := range rounds {
		pr := tiny(r, 7, 3, 3, 0)
		st := &pr.Stocks[0]
		for range 1 + r.IntN(2) {
			b := model.Rect{X: r.IntN(st.W), Y: r.IntN(st.H)}
			b.W, b.H = 1+r.IntN(min(3, st.W-b.X)), 1+r.IntN(min(3, st.H-b.Y))
			st.Bad = append(st.Bad, b)
		}
		e := &exhaustiveAround{newExhaustive(pr), st.Bad, map[model.Rect][]bool{}}
		want := int64(0)
		for v, ok := range e.region(model.Rect{W: st.W, H: st.H}) {
			if ok {
				want = max(want, e.value(v))
			}
		}
		f := NewFill(pr, FillOptions{})
		finish(f, 50)
		p, v := f.Best()
		require.Equal(t, want, v, "round %d: %+v", round, pr)
		assert.True(t, f.Proved(), "round %d: %+v, bound %d", round, pr, f.Bound())
		checkPattern(t, pr, p, v, "round %d: %+v", round, pr)
	}
}

// On large sheets with bad areas, and under stage limits, layouts keep off them
// and bounds are not below what is found.
func TestFillAroundBadAreasOfLargeSheets(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	for round := range 8 {
		pr := &model.Problem{Stages: []int{0, 2, 3}[round%3], Stocks: []model.Stock{{W: 300, H: 260, Copies: 1}}}
		for range 8 {
			it := model.Item{W: 20 + r.IntN(60), H: 20 + r.IntN(60), Demand: 1 + r.IntN(6), Turn: true}
			it.Value = it.Area()
			pr.Items = append(pr.Items, it)
		}
		for range 1 + round%4*5 {
			b := model.Rect{X: r.IntN(290), Y: r.IntN(250)}
			b.W, b.H = min(40, 300-b.X), min(30, 260-b.Y)
			pr.Stocks[0].Bad = append(pr.Stocks[0].Bad, b)
		}
		f := NewFill(pr, FillOptions{})
		var spent int64
		for more := true; more && spent < 100_000; {
			var n int64
			n, more = f.Run(50_000)
			spent += n
		}
		p, v := f.Best()
		checkPattern(t, pr, p, v, "round %d", round)
		assert.Positive(t, v)
		assert.LessOrEqual(t, v, f.Bound())
	}
}
