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

// What is called enough or too little is so, by exhaustive search.
func TestHoldsAgreesWithExhaustiveSearch(t *testing.T) {
	problems := 1500
	if testing.Short() {
		problems = 200
	}
	seen := map[pack.Verdict]int{}
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 29))
		p := tinyProblem(r)
		p.Roll = nil
		for i := range p.Sheets {
			p.Sheets[i].Copies = 1 + r.IntN(2)
		}
		e := exhaustive{p: p, memo: map[[2]int][][]int{}}
		want := pack.Enough
		if e.least() == math.MaxInt64 {
			want = pack.TooLittle
		}
		h, err := pack.Holds(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 4})
		require.NoError(t, err, "seed %d", seed)
		seen[h.Verdict]++
		if h.Verdict != pack.Undecided {
			require.Equal(t, want, h.Verdict, "seed %d: %+v by %s", seed, p, h.ProvedBy)
		}
		require.Equal(t, h.Verdict == pack.TooLittle, h.ProvedBy != "")
	}
	t.Logf("of %d problems: %v", problems, seen)
	assert.Greater(t, seen[pack.Enough], problems/5)
	assert.Greater(t, seen[pack.TooLittle], problems/5)
	assert.Less(t, seen[pack.Undecided], problems/50)
}

// Bad areas and a kerf: what is proved too little has no layout that Solve could
// find, and the other way round.
func TestHoldsWithBadAreasAndKerf(t *testing.T) {
	for seed := range 200 {
		r := rand.New(rand.NewPCG(uint64(seed), 31))
		p := tinyProblem(r)
		p.Roll = nil
		p.Rules = pack.Rules{Kerf: units.Length(r.IntN(2))}
		for i := range p.Sheets {
			s := &p.Sheets[i]
			s.Copies, s.Free, s.Price = 1, true, 0
			s.Bad = []pack.Rect{{X: units.Length(r.IntN(3)), Y: units.Length(r.IntN(3)), W: 1, H: 1}}
		}
		h, err := pack.Holds(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 4})
		require.NoError(t, err)
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 4})
		require.NoError(t, err)
		if h.Verdict == pack.TooLittle {
			require.Equal(t, pack.Short, s.Status, "seed %d: %+v by %s", seed, p, h.ProvedBy)
		}
		if s.Status != pack.Short {
			require.Equal(t, pack.Enough, h.Verdict, "seed %d: %+v", seed, p)
		}
	}
}

func TestHoldsOfNothing(t *testing.T) {
	h, err := pack.Holds(context.Background(), pack.Problem{}, pack.Options{})
	require.NoError(t, err)
	assert.Equal(t, pack.Enough, h.Verdict)

	p := pack.Problem{Pieces: []pack.Piece{{ID: "A", W: 2, H: 3, Demand: 1}}}
	h, err = pack.Holds(context.Background(), p, pack.Options{})
	require.NoError(t, err)
	assert.Equal(t, pack.TooLittle, h.Verdict)

	p.Roll = &pack.Roll{ID: "bolt", W: 10, Step: 1}
	_, err = pack.Holds(context.Background(), p, pack.Options{})
	assert.ErrorContains(t, err, "state the length as a sheet")
}
