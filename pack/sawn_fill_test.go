package pack_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// Whatever the rules, one sheet is never filled with more than it holds, no bound is
// below that, and a filling that is proved is the best there is.
func TestFillUnderEveryRule(t *testing.T) {
	problems := 1500
	if testing.Short() {
		problems = 150
	}
	some, best, proved := 0, 0, 0
	plain, bestPlain := 0, 0 // see TestEveryRuleAgainstAllThereIs
	for seed := range problems {
		r := rand.New(rand.NewPCG(uint64(seed), 42))
		p := sawnProblem(r)
		if len(p.Sheets) == 0 {
			continue
		}
		p.Sheets, p.Roll = p.Sheets[:1], nil
		p.Sheets[0].Copies = 1
		for i := range p.Pieces {
			p.Pieces[i].Value = int64(1 + r.IntN(9))
		}
		said := fmt.Sprintf("%d: %+v", seed, p)
		truth := newSawn(p)
		sheets, _ := truth.offers()
		want := int64(0)
		for v := range truth.sizes {
			if sheets[0].held>>v&1 == 0 {
				continue
			}
			worth := int64(0)
			for i, q := range p.Pieces {
				worth += q.Value * int64(truth.digit(v, i))
			}
			want = max(want, worth)
		}
		got, err := pack.Fill(context.Background(), p, pack.Options{Effort: pack.Quick, Share: 10})
		require.NoError(t, err, said)
		require.LessOrEqual(t, got.Value, want, said)
		require.GreaterOrEqual(t, got.Bound, want, "%s by %s", said, got.ProvedBy)
		if got.Proved {
			require.Equal(t, want, got.Value, "%s by %s", said, got.ProvedBy)
			proved++
		}
		if want > 0 {
			some++
			simple := p.Rules.Kerf == 0 || p.Sheets[0].Bad == nil && p.Sheets[0].Outline == nil
			if simple {
				plain++
			}
			if got.Value == want {
				best++
				if simple {
					bestPlain++
				}
			}
		}
	}
	t.Logf("of %d sheets %d hold something, %d of them are filled best (%d of %d that are plain); %d are proved", problems, some, best, bestPlain, plain, proved)
	assert.Greater(t, 3*some, problems)
	assert.Greater(t, 10*best, 7*some)
	assert.Greater(t, 100*bestPlain, 97*plain)
	assert.Greater(t, 2*proved, problems)
}
