package pack_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// Where sheets are of one kind, the number told never grows and ends with that of the
// answer.
func TestProgressTellsTheSheets(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	p := pack.Problem{Sheets: []pack.Sheet{{ID: "fat quarter", W: 21 * units.Inch, H: 18 * units.Inch, Copies: pack.Unlimited, Price: 300}}}
	for i := range 12 {
		p.Pieces = append(p.Pieces, pack.Piece{ID: string(rune('A' + i)), W: units.Inch * units.Length(2+r.IntN(7)), H: units.Inch * units.Length(2+r.IntN(9)), Demand: 2 + r.IntN(6), Turn: true})
	}
	var told []int
	s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick, Progress: func(at pack.Progress) { told = append(told, at.Sheets) }})
	require.NoError(t, err)
	require.NotEmpty(t, told)
	sheets := 0
	for _, l := range s.Layouts {
		sheets += l.Copies
	}
	for i := range told[1:] {
		assert.LessOrEqual(t, told[i+1], told[i])
	}
	assert.Equal(t, sheets, told[len(told)-1])
}

// Telling changes nothing, with rolls sold on one term or several, and with scraps that
// are used up first.
func TestProgressChangesNothing(t *testing.T) {
	told := 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 63))
		p := smallFabric(r)
		if seed%3 > 0 {
			p = manyBolts(r)
		}
		if seed%2 == 0 {
			p.UseUp = true
			for i := range p.Sheets {
				p.Sheets[i].Scrap = p.Sheets[i].Free
			}
		}
		o := pack.Options{Effort: pack.Quick, Share: 5, Seed: seed}
		quiet, err := pack.Solve(context.Background(), p, o)
		require.NoError(t, err)
		o.Progress = func(at pack.Progress) {
			told++
			assert.Positive(t, at.Sheets)
		}
		loud, err := pack.Solve(context.Background(), p, o)
		require.NoError(t, err)
		require.Equal(t, quiet, loud, "seed %d", seed)
	}
	assert.Greater(t, told, 30)
}
