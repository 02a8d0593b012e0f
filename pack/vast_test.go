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

// What cannot be added up is refused before anything is reckoned; what is a little
// less is solved, in numbers that are right.
func TestVastProblems(t *testing.T) {
	km := 1000 * units.Metre
	for _, c := range []struct {
		p    pack.Problem
		want string
	}{
		{pack.Problem{Pieces: []pack.Piece{{ID: "A", W: km, H: km, Demand: 2}}}, "pack: the pieces measure 2 square kilometres in all, too many to count"},
		{pack.Problem{Sheets: []pack.Sheet{{ID: "s", W: km, H: km, Copies: 30, Free: true}}}, "pack: the cloth measures 30 square kilometres in all, too many to count"},
		{pack.Problem{
			Pieces: []pack.Piece{{ID: "A", W: 1, H: 1, Demand: pack.MaxDemand}},
			Sheets: []pack.Sheet{{ID: "s", W: km, H: km, Copies: pack.Unlimited, Price: 1}},
		}, "pack: the cloth measures 1000000 square kilometres in all, too many to count"},
		{pack.Problem{Sheets: []pack.Sheet{{ID: "s", W: 1, H: 1, Copies: 1 << 20, Price: 1 << 45}}}, "in all, too much to count"},
		{pack.Problem{Roll: &pack.Roll{ID: "r", W: 1, Step: 1, Price: 1 << 45, Per: 1}}, "in all, too much to count"},
	} {
		_, err := pack.Solve(context.Background(), c.p, pack.Options{})
		assert.ErrorContains(t, err, c.want)
		if c.p.Roll == nil {
			_, err = pack.Holds(context.Background(), c.p, pack.Options{})
			assert.ErrorContains(t, err, c.want)
		}
	}
	solved := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 43))
		step := units.Length(1) << r.IntN(20)
		side := func() units.Length { return step * units.Length(1+r.IntN(600)) }
		p := pack.Problem{Goal: pack.Goal(r.IntN(2))}
		for i := range 1 + r.IntN(3) {
			p.Pieces = append(p.Pieces, pack.Piece{ID: fmt.Sprint(i), W: side(), H: side(), Demand: 1 + r.IntN(pack.MaxDemand)>>r.IntN(20), Turn: r.IntN(2) == 0})
		}
		for i := range 1 + r.IntN(3) {
			s := pack.Sheet{ID: fmt.Sprint(i), W: side(), H: side(), Copies: 1 + r.IntN(10_000)>>r.IntN(14), Price: r.Int64N(1<<40) >> r.IntN(40), Free: r.IntN(2) == 0}
			if !s.Free && r.IntN(2) == 0 {
				s.Copies = pack.Unlimited
			}
			p.Sheets = append(p.Sheets, s)
		}
		got, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 2, Workers: 1})
		if p.Countable() != nil {
			require.Error(t, err)
			continue
		}
		require.NoError(t, err, "seed %d: %+v", seed, p)
		require.NoError(t, judge(p, got), "seed %d", seed)
		solved++
	}
	t.Logf("%d of 60 solved", solved)
	assert.Greater(t, solved, 20)
}
