package peel

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// accounts holds what is left of the sheet against what is placed on it.
func accounts(t *testing.T, s *Search) {
	t.Helper()
	used := make([]int, len(s.pr.Items))
	for _, q := range s.placed {
		used[q.Item]++
	}
	left, area := 0, 0
	for i, it := range s.pr.Items {
		require.Equal(t, it.Demand, used[i]+s.rest[i], "item %d", i)
		left += s.rest[i]
		area += s.rest[i] * int(it.Area())
	}
	require.Equal(t, left, s.left)
	require.Len(t, s.placed, s.region.placed)
	require.Equal(t, s.w*s.h-area, s.spare, "what may be wasted of what is left")
}

// An attempt that failed is gone back on, mostly a little: no piece is lost or cut
// twice by it, and another attempt begins from what still lies there.
func TestGoingBackLosesNoPiece(t *testing.T) {
	failed, kept := 0, 0
	for seed := range uint64(2) {
		r := rand.New(rand.NewPCG(seed, 67))
		pr := cutUp(r, 40+r.IntN(30), 90, 70, seed%2 == 0)
		s := New(pr, seed)
		for work := int64(0); work < 300_000; {
			spent, res := s.Run(90, 5_000)
			work += spent + 1
			accounts(t, s)
			if res == Found {
				checkLayout(t, pr, 90, s.Layout())
			}
			if res != Failed {
				continue
			}
			failed++
			if s.back() {
				accounts(t, s)
				if len(s.placed) > 0 {
					kept++
				}
			}
		}
	}
	assert.Greater(t, failed, 4)
	assert.Greater(t, kept, failed/4, "of %d failures", failed)
}

// More kinds of pieces than blocks can tell apart are taken some at a time, the tallest
// among them, and none is lost.
func TestMoreKindsThanBlocksTellApart(t *testing.T) {
	pr := cutUp(rand.New(rand.NewPCG(5, 68)), 260, 400, 520, false)
	require.Greater(t, len(pr.Items), mostKinds)
	s := New(pr, 1)
	for range 30 {
		_, r := s.Run(412, 10_000)
		require.Equal(t, Working, r)
		accounts(t, s)
		if s.phase != filling {
			continue
		}
		require.LessOrEqual(t, len(s.table.kinds), mostKinds)
		tall := 0
		for i, n := range s.rest {
			if n > 0 {
				tall = max(tall, least(pr.Items[i]))
			}
		}
		require.Equal(t, tall, least(pr.Items[s.table.kinds[0].item]))
		for i, k := range s.table.kinds {
			require.Equal(t, i, s.kindOf[k.item])
		}
	}
	assert.NotEmpty(t, s.placed)
}
