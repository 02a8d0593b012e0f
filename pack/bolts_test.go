package pack_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// manyBolts is a small fabric sold by length on two or three terms.
func manyBolts(r *rand.Rand) pack.Problem {
	p := smallFabric(r)
	if r.IntN(3) == 0 {
		p.Sheets = nil
	}
	if r.IntN(4) == 0 {
		p.Roll.Most = units.Length(2 + r.IntN(6))
	}
	for range 1 + r.IntN(2) {
		p.Roll.Also = append(p.Roll.Also, pack.Terms{
			ID: "another", Step: units.Length(1 + r.IntN(3)), Least: units.Length(r.IntN(4)), Most: units.Length(3 + r.IntN(6)),
			Price: int64(2 + r.IntN(9)), Per: units.Length(1 + r.IntN(2)),
		})
	}
	return p
}

// One length off one of several bolts, next to sheets and stash, costs the least
// there is, and the bound is never above it.
func TestSeveralBolts(t *testing.T) {
	fabrics := 300
	if testing.Short() {
		fabrics = 80
	}
	solved, proved, onOthers, shorts := 0, 0, 0, 0
	for seed := range fabrics {
		p := manyBolts(rand.New(rand.NewPCG(uint64(seed), 8)))
		for i := range p.Roll.Bolts() {
			require.Positive(t, p.Roll.Bolts()[i].Most) // the enumeration needs an end
		}
		e := exhaustive{p: p, memo: map[[2]int][][]int{}}
		want := e.least()
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 20})
		require.NoError(t, err, "seed %d", seed)
		require.NoError(t, pack.Check(p, s))
		if want == math.MaxInt64 {
			require.Equal(t, pack.Short, s.Status, "seed %d", seed)
			shorts++
			continue
		}
		require.Equal(t, want, s.Cost, "seed %d: %+v %+v", seed, p, p.Roll)
		require.LessOrEqual(t, s.Bound, want, "seed %d", seed)
		solved++
		if s.Status == pack.Proved {
			proved++
		}
		for _, l := range s.Layouts {
			if l.Stock.Sheet == pack.FromRoll {
				if i, _ := p.Roll.Sold(l.Stock.Length); i > 0 {
					onOthers++
				}
			}
		}
	}
	t.Logf("of %d fabrics with a price %d are proved, %d buy off another bolt than the first; %d are short", solved, proved, onOthers, shorts)
	require.Greater(t, 100*proved, 95*solved)
	require.Positive(t, onOthers)
}

// Without prices the least area is bought, off whichever bolt sells it.
func TestSeveralBoltsByArea(t *testing.T) {
	for seed := range 100 {
		p := manyBolts(rand.New(rand.NewPCG(uint64(seed), 9)))
		p.Goal = pack.LeastArea
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err)
		// The same in money: a coin for every unit of area.
		q := p
		q.Sheets = append([]pack.Sheet(nil), p.Sheets...)
		for i := range q.Sheets {
			if sh := &q.Sheets[i]; !sh.Free {
				sh.Price = int64(units.AreaOf(sh.W, sh.H))
			}
		}
		roll := *p.Roll
		roll.Price, roll.Per = int64(roll.W), 1
		roll.Also = append([]pack.Terms(nil), roll.Also...)
		for i := range roll.Also {
			roll.Also[i].Price, roll.Also[i].Per = int64(roll.W), 1
		}
		q.Roll, q.Goal = &roll, pack.LeastPrice
		e := exhaustive{p: q, memo: map[[2]int][][]int{}}
		want := e.least()
		if want == math.MaxInt64 {
			require.Equal(t, pack.Short, s.Status, "seed %d", seed)
			continue
		}
		require.Equal(t, want, s.Cost, "seed %d: %+v", seed, p)
		require.LessOrEqual(t, s.Bound, want, "seed %d", seed)
	}
}

// A bolt that is dearer for its length wins by its step, its least cut or by how
// much there is.
func TestTheDearerBoltWins(t *testing.T) {
	strips := func(n int) []pack.Piece {
		return []pack.Piece{{ID: "A", W: 10, H: 1, Demand: n}}
	}
	for _, c := range []struct {
		name        string
		pieces      int
		cheap, dear pack.Terms
		length      units.Length
		bolt        int
		cost        int64
	}{
		{"finer step", 5, pack.Terms{Step: 4, Price: 10, Per: 1}, pack.Terms{Step: 1, Price: 12, Per: 1}, 5, 1, 60},
		{"smaller least cut", 3, pack.Terms{Step: 1, Least: 8, Price: 10, Per: 1}, pack.Terms{Step: 1, Price: 15, Per: 1}, 3, 1, 45},
		{"too little of the cheap one", 9, pack.Terms{Step: 1, Most: 6, Price: 10, Per: 1}, pack.Terms{Step: 1, Price: 15, Per: 1}, 9, 1, 135},
		{"the step does not matter", 8, pack.Terms{Step: 4, Price: 10, Per: 1}, pack.Terms{Step: 1, Price: 12, Per: 1}, 8, 0, 80},
		{"a longer length for less", 5, pack.Terms{Step: 4, Price: 5, Per: 1}, pack.Terms{Step: 1, Price: 12, Per: 1}, 8, 0, 40},
		{"the same for both", 4, pack.Terms{Step: 2, Price: 10, Per: 1}, pack.Terms{Step: 1, Price: 10, Per: 1}, 4, 0, 40},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := pack.Problem{Pieces: strips(c.pieces), Roll: &pack.Roll{
				ID: "cheap", W: 10, Step: c.cheap.Step, Least: c.cheap.Least, Most: c.cheap.Most, Price: c.cheap.Price, Per: c.cheap.Per,
				Also: []pack.Terms{c.dear},
			}}
			s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
			require.NoError(t, err)
			require.Len(t, s.Layouts, 1)
			assert.Equal(t, c.length, s.Layouts[0].Stock.Length)
			assert.Equal(t, c.cost, s.Cost)
			i, sold := p.Roll.Sold(c.length)
			assert.True(t, sold)
			assert.Equal(t, c.bolt, i)
			assert.Equal(t, pack.Proved, s.Status)

			// A length that no bolt sells is no answer.
			s.Layouts[0].Stock.Length = 7
			p.Roll.Step, p.Roll.Also[0].Step = 4, 2
			assert.ErrorContains(t, pack.Check(p, s), "not sold")
		})
	}
}
