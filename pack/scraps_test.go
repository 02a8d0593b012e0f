package pack_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// scrapContents tries everything on one sheet with bad areas or an outline, tick
// by tick; see [exhaustive]. Here it matters where a rectangle lies.
type scrapContents struct {
	pieces []pack.Piece
	sheet  pack.Sheet
	memo   map[pack.Rect][][]int
	cells  map[pack.Point]bool // square ticks that can be used
}

func newScrapContents(pieces []pack.Piece, s pack.Sheet) *scrapContents {
	e := &scrapContents{pieces: pieces, sheet: s, memo: map[pack.Rect][][]int{}, cells: map[pack.Point]bool{}}
	for x := range s.W {
		for y := range s.H {
			q := pack.Rect{X: x, Y: y, W: 1, H: 1}
			e.cells[pack.Point{X: x, Y: y}] = (s.Outline == nil || insideSlowly(s.Outline, q)) && !slices.ContainsFunc(s.Bad, q.Meets)
		}
	}
	return e
}

func (e *scrapContents) of(r pack.Rect) [][]int {
	if got, ok := e.memo[r]; ok {
		return got
	}
	all := [][]int{make([]int, len(e.pieces))}
	for i, q := range e.pieces {
		if e.fits(q.W, q.H, r) || q.Turn && e.fits(q.H, q.W, r) {
			one := make([]int, len(e.pieces))
			one[i] = min(1, q.Demand)
			all = append(all, one)
		}
	}
	join := func(a, b [][]int) {
		for _, u := range a {
			for _, v := range b {
				s := make([]int, len(u))
				for i := range s {
					s[i] = min(u[i]+v[i], e.pieces[i].Demand)
				}
				all = append(all, s)
			}
		}
	}
	for c := units.Length(1); c < r.W; c++ {
		join(e.of(pack.Rect{X: r.X, Y: r.Y, W: c, H: r.H}), e.of(pack.Rect{X: r.X + c, Y: r.Y, W: r.W - c, H: r.H}))
	}
	for c := units.Length(1); c < r.H; c++ {
		join(e.of(pack.Rect{X: r.X, Y: r.Y, W: r.W, H: c}), e.of(pack.Rect{X: r.X, Y: r.Y + c, W: r.W, H: r.H - c}))
	}
	e.memo[r] = maximal(all)
	return e.memo[r]
}

// fits tells whether w x h lies somewhere in r on cloth that can be used.
func (e *scrapContents) fits(w, h units.Length, r pack.Rect) bool {
	for x := r.X; x+w <= r.X+r.W; x++ {
		for y := r.Y; y+h <= r.Y+r.H; y++ {
			if e.sound(pack.Rect{X: x, Y: y, W: w, H: h}) {
				return true
			}
		}
	}
	return false
}

func (e *scrapContents) sound(q pack.Rect) bool {
	for x := q.X; x < q.X+q.W; x++ {
		for y := q.Y; y < q.Y+q.H; y++ {
			if !e.cells[pack.Point{X: x, Y: y}] {
				return false
			}
		}
	}
	return true
}

// tinyScrap makes a sheet with bad areas, an outline or both.
func tinyScrap(r *rand.Rand, id string) pack.Sheet {
	s := pack.Sheet{ID: id, W: units.Length(2 + r.IntN(5)), H: units.Length(2 + r.IntN(5)), Copies: 1, Free: true}
	if r.IntN(2) == 0 {
		s.Outline = randomOutline(r, s.W, s.H)
	}
	for range r.IntN(3) {
		s.Bad = append(s.Bad, pack.Rect{
			X: units.Length(r.IntN(int(s.W))), Y: units.Length(r.IntN(int(s.H))), W: units.Length(1 + r.IntN(2)), H: units.Length(1 + r.IntN(2)),
		})
	}
	return s
}

// tinyPieces are of one to three sizes; all sides are often even, so that the
// engines' grid is coarser than a tick.
func tinyPieces(r *rand.Rand) []pack.Piece {
	var out []pack.Piece
	step := 1 + r.IntN(2)
	for i := range 1 + r.IntN(3) {
		out = append(out, pack.Piece{
			ID: fmt.Sprint(i), W: units.Length(step * (1 + r.IntN(4/step))), H: units.Length(step * (1 + r.IntN(4/step))),
			Demand: 1 + r.IntN(3), Turn: r.IntN(2) == 0,
		})
	}
	return out
}

// What one tiny scrap holds at most is never more than the bound, and what is
// called proved is that.
func TestFillOfTinyScrapsAgainstAllThereIs(t *testing.T) {
	scraps := 4000
	if testing.Short() {
		scraps = 150
	}
	proved, best, some := 0, 0, 0
	for seed := range scraps {
		r := rand.New(rand.NewPCG(uint64(seed), 23))
		p := pack.Problem{Pieces: tinyPieces(r), Sheets: []pack.Sheet{tinyScrap(r, "scrap")}}
		for i := range p.Pieces {
			if r.IntN(2) == 0 {
				p.Pieces[i].Value = int64(1 + r.IntN(9))
			}
		}
		e := newScrapContents(p.Pieces, p.Sheets[0])
		want := int64(0)
		for _, c := range e.of(pack.Rect{W: p.Sheets[0].W, H: p.Sheets[0].H}) {
			v := int64(0)
			for i, q := range p.Pieces {
				worth := q.Value
				if worth == 0 {
					worth = int64(q.W) * int64(q.H)
				}
				v += worth * int64(c[i])
			}
			want = max(want, v)
		}
		got, err := pack.Fill(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err, "seed %d: %+v", seed, p)
		require.LessOrEqual(t, got.Value, want, "seed %d: %+v", seed, p)
		require.GreaterOrEqual(t, got.Bound, want, "seed %d: %+v by %s", seed, p, got.ProvedBy)
		if got.Proved {
			require.Equal(t, want, got.Value, "seed %d: %+v by %s", seed, p, got.ProvedBy)
			proved++
		}
		if got.Value == want {
			best++
		}
		if want > 0 {
			some++
		}
	}
	t.Logf("of %d scraps, %d of which hold something, %d are filled best, %d of them proved", scraps, some, best, proved)
	assert.Greater(t, some, scraps/3)
	assert.Greater(t, proved, scraps/2)
}

// A few tiny scraps and cloth to buy: whatever is called proved best is, whatever
// is called short is, and no bound is above the truth.
func TestSolveOfTinyScrapsAgainstAllThereIs(t *testing.T) {
	problems := 1000
	if testing.Short() {
		problems = 100
	}
	proved, best, missed := 0, 0, 0
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 24))
		p := pack.Problem{Pieces: tinyPieces(r)}
		for i := range 1 + r.IntN(3) {
			p.Sheets = append(p.Sheets, tinyScrap(r, fmt.Sprint("scrap ", i)))
		}
		bought := 1 + r.IntN(2)
		p.Sheets = append(p.Sheets, pack.Sheet{ID: "cut", W: units.Length(3 + r.IntN(4)), H: units.Length(3 + r.IntN(4)), Copies: bought, Price: 3})
		want := leastOf(p)
		got, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err, "seed %d: %+v", seed, p)
		if got.Status == pack.Short {
			if want >= 0 {
				missed++
			}
			continue
		}
		require.GreaterOrEqual(t, want, int64(0), "seed %d: %+v cannot be cut", seed, p)
		require.GreaterOrEqual(t, got.Cost, want, "seed %d: %+v", seed, p)
		require.LessOrEqual(t, got.Bound, want, "seed %d: %+v by %s", seed, p, got.ProvedBy)
		require.LessOrEqual(t, got.AreaBound, got.Area, "seed %d", seed)
		if got.Status == pack.Proved {
			require.Equal(t, want, got.Cost, "seed %d: %+v by %s", seed, p, got.ProvedBy)
			proved++
		}
		if got.Cost == want {
			best++
		}
		held, err := pack.Holds(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err)
		require.NotEqual(t, pack.TooLittle, held.Verdict, "seed %d: %+v by %s", seed, p, held.ProvedBy)
	}
	t.Logf("of %d problems %d are solved best, %d of them proved; %d are missed", problems, best, proved, missed)
	assert.Less(t, missed, problems/50)
	assert.Greater(t, proved, problems/3)
}

// leastOf is the least cost by trying every content of every sheet, -1 if nothing
// holds everything.
func leastOf(p pack.Problem) int64 {
	type state struct {
		left []int
		cost int64
	}
	demand := make([]int, len(p.Pieces))
	for i, q := range p.Pieces {
		demand[i] = q.Demand
	}
	states := []state{{demand, 0}}
	for _, s := range p.Sheets {
		e := newScrapContents(p.Pieces, s)
		contents := e.of(pack.Rect{W: s.W, H: s.H})
		for range s.Copies {
			best := map[string]state{}
			for _, st := range states {
				keep := func(left []int, cost int64) {
					k := fmt.Sprint(left)
					if was, ok := best[k]; !ok || cost < was.cost {
						best[k] = state{left, cost}
					}
				}
				keep(st.left, st.cost)
				for _, c := range contents {
					keep(minus(st.left, c), st.cost+s.Price)
				}
			}
			states = states[:0]
			for _, st := range best {
				states = append(states, st)
			}
		}
	}
	least := int64(-1)
	for _, st := range states {
		if slices.Max(st.left) == 0 && (least < 0 || st.cost < least) {
			least = st.cost
		}
	}
	return least
}
