package pack_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// The number of cores changes nothing but the time.
func TestOneCoreOrMany(t *testing.T) {
	problems := 40
	if testing.Short() {
		problems = 8
	}
	for seed := range problems {
		p := randomProblem(rand.New(rand.NewPCG(uint64(seed), 11)))
		var solutions []pack.Solution
		for _, workers := range []int{1, 2, 4} {
			s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 20, Seed: uint64(seed), Workers: workers})
			require.NoError(t, err)
			solutions = append(solutions, s)
		}
		require.Equal(t, solutions[0], solutions[1], "seed %d", seed)
		require.Equal(t, solutions[0], solutions[2], "seed %d", seed)
	}
}

// The order of pieces and sheets does not change a proved cost.
func TestOrderDoesNotMatter(t *testing.T) {
	both := 0
	for seed := range 150 {
		r := rand.New(rand.NewPCG(uint64(seed), 12))
		p := tinyProblem(r)
		a, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err)
		r.Shuffle(len(p.Pieces), func(i, j int) { p.Pieces[i], p.Pieces[j] = p.Pieces[j], p.Pieces[i] })
		r.Shuffle(len(p.Sheets), func(i, j int) { p.Sheets[i], p.Sheets[j] = p.Sheets[j], p.Sheets[i] })
		b, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err)
		if a.Status == pack.Proved && b.Status == pack.Proved {
			require.Equal(t, a.Cost, b.Cost, "seed %d", seed)
			both++
		}
	}
	assert.Greater(t, both, 75)
}

// More stock never costs more, once both are proved.
func TestMoreStockNeverCostsMore(t *testing.T) {
	both := 0
	for seed := range 150 {
		r := rand.New(rand.NewPCG(uint64(seed), 13))
		p := tinyProblem(r)
		a, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err)
		more := tinyProblem(r).Sheets[0]
		more.ID = "more"
		p.Sheets = append(p.Sheets, more)
		b, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err)
		if a.Status == pack.Proved && b.Status == pack.Proved {
			require.LessOrEqual(t, b.Cost, a.Cost, "seed %d", seed)
			both++
		}
	}
	assert.Greater(t, both, 75)
}
