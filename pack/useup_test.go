package pack_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// mostFromScraps is the largest area of pieces that the problem's scraps give, by trying
// every content of every scrap.
func mostFromScraps(p pack.Problem) units.Area {
	demand := make([]int, len(p.Pieces))
	for i, q := range p.Pieces {
		demand[i] = q.Demand
	}
	states := map[string][]int{fmt.Sprint(demand): demand}
	for _, s := range p.Sheets {
		if !s.Scrap {
			continue
		}
		contents := newScrapContents(p.Pieces, s).of(pack.Rect{W: s.W, H: s.H})
		for range s.Copies {
			next := map[string][]int{}
			for _, left := range states {
				next[fmt.Sprint(left)] = left
				for _, c := range contents {
					l := minus(left, c)
					next[fmt.Sprint(l)] = l
				}
			}
			states = next
		}
	}
	var most units.Area
	for _, left := range states {
		var a units.Area
		for i, q := range p.Pieces {
			a += units.Area(q.Demand-left[i]) * units.AreaOf(q.W, q.H)
		}
		most = max(most, a)
	}
	return most
}

// Scraps first: never more than they hold, never a bound below it, and what is
// called proved is that; what they do not give is bought.
func TestScrapsFirstAgainstAllThereIs(t *testing.T) {
	problems := 400
	if testing.Short() {
		problems = 60
	}
	proved, best, some := 0, 0, 0
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 26))
		p := pack.Problem{Pieces: tinyPieces(r), UseUp: true}
		for i := range 1 + r.IntN(3) {
			s := tinyScrap(r, fmt.Sprint("scrap ", i))
			s.Scrap = true
			p.Sheets = append(p.Sheets, s)
		}
		p.Sheets = append(p.Sheets, pack.Sheet{ID: "cut", W: 6, H: 6, Copies: pack.Unlimited, Price: 3})
		want := mostFromScraps(p)
		got, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err, "seed %d: %+v", seed, p)
		require.NotEqual(t, pack.Short, got.Status, "seed %d: %+v", seed, p)
		require.LessOrEqual(t, got.FromScraps, want, "seed %d: %+v", seed, p)
		require.GreaterOrEqual(t, got.MostScraps, want, "seed %d: %+v", seed, p)
		var cut units.Area
		for _, l := range got.Layouts {
			if p.Sheets[l.Stock.Sheet].Scrap {
				for _, q := range l.Placements(0) {
					cut += units.Area(l.Copies) * units.AreaOf(q.W, q.H)
				}
			}
		}
		require.Equal(t, cut, got.FromScraps)
		if got.Status == pack.Proved {
			require.Equal(t, want, got.FromScraps, "seed %d: %+v by %s", seed, p, got.ProvedBy)
			proved++
		}
		if got.FromScraps == want {
			best++
		}
		if want > 0 {
			some++
		}
	}
	t.Logf("of %d problems, %d of which take something from scraps, %d take the most, %d of them proved", problems, some, best, proved)
	assert.Greater(t, some, problems/3)
	assert.Greater(t, best, problems*95/100)
	assert.Greater(t, proved, problems/2)
}

// Of scraps that do, the small ones go first, and all of them before a yard.
func TestSmallScrapsFirst(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		UseUp:  true,
		Pieces: []pack.Piece{{ID: "A", W: 2 * in, H: 2 * in, Demand: 8}},
		Sheets: []pack.Sheet{
			{ID: "yard", W: 40 * in, H: 36 * in, Copies: 1, Free: true},
			{ID: "large", W: 8 * in, H: 4 * in, Copies: 1, Free: true, Scrap: true},
			{ID: "small", W: 4*in + in/4, H: 4 * in, Copies: 2, Free: true, Scrap: true},
			{ID: "cut", W: 18 * in, H: 22 * in, Copies: pack.Unlimited, Price: 300},
		},
	}
	got, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, pack.Proved, got.Status)
	assert.Equal(t, 32*units.SquareInch, got.FromScraps)
	for _, l := range got.Layouts {
		assert.Equal(t, "small", p.Sheets[l.Stock.Sheet].ID)
	}
	p.Pieces[0].Demand = 17
	got, err = pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, pack.Proved, got.Status)
	assert.Equal(t, 64*units.SquareInch, got.FromScraps)
	assert.Zero(t, got.Price)
	var yards int
	for _, l := range got.Layouts {
		if p.Sheets[l.Stock.Sheet].ID == "yard" {
			yards += len(l.Placements(0))
		}
	}
	assert.Equal(t, 1, yards)
}

// A plan that cuts everything comes before one that uses more scraps: the scrap
// alone holds the long piece.
func TestEverythingBeforeScraps(t *testing.T) {
	in := units.Inch
	p := pack.Problem{
		UseUp: true,
		Pieces: []pack.Piece{
			{ID: "long", W: 9 * in, H: in, Demand: 1},
			{ID: "wide", W: 3 * in, H: 3 * in, Demand: 3},
		},
		Sheets: []pack.Sheet{
			{ID: "scrap", W: 9 * in, H: 3 * in, Copies: 1, Free: true, Scrap: true},
			{ID: "yard", W: 8 * in, H: 8 * in, Copies: 1, Free: true},
		},
	}
	got, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
	require.NoError(t, err)
	assert.Equal(t, []int{0, 0}, got.Missing)
	assert.Equal(t, 9*units.SquareInch, got.FromScraps)
}

// Of two sheets at hand that do, the crooked one is cut and the whole one kept,
// whatever their order and whichever way it is crooked.
func TestWholeSheetsAreKept(t *testing.T) {
	in := units.Inch
	for name, crooked := range map[string]pack.Sheet{
		"corner":  {Bad: []pack.Rect{{X: 4 * in, Y: 4 * in, W: 2 * in, H: 2 * in}}},
		"hole":    {Bad: []pack.Rect{{X: 4 * in, Y: 1 * in, W: in, H: in}}},
		"outline": {Outline: pack.Outline{{X: 0, Y: 0}, {X: 6 * in, Y: 0}, {X: 4 * in, Y: 6 * in}, {X: 0, Y: 6 * in}}},
	} {
		crooked.ID, crooked.W, crooked.H, crooked.Copies, crooked.Free = "crooked", 6*in, 6*in, 1, true
		whole := pack.Sheet{ID: "whole", W: 6 * in, H: 6 * in, Copies: 1, Free: true}
		for _, sheets := range [][]pack.Sheet{{crooked, whole}, {whole, crooked}} {
			p := pack.Problem{
				Pieces: []pack.Piece{{ID: "A", W: 4 * in, H: 4 * in, Demand: 1}},
				Sheets: append(sheets, pack.Sheet{ID: "cut", W: 18 * in, H: 22 * in, Copies: pack.Unlimited, Price: 300}),
			}
			got, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
			require.NoError(t, err)
			require.Len(t, got.Layouts, 1, name)
			assert.Equal(t, "crooked", p.Sheets[got.Layouts[0].Stock.Sheet].ID, name)
		}
	}
}
