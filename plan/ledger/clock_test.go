package ledger

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A clock that jumps, backwards too, changes what the history notes and nothing else.
func TestAClockThatJumps(t *testing.T) {
	b := book(t, written)
	before := content(t, b)
	var after []string
	for _, year := range []int{2026, 1970, 2099, 2001} {
		b.Now = func() time.Time { return time.Date(year, 3, 29, 2, 30, 0, 0, time.UTC) }
		_, err := b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
		require.NoError(t, err)
		after = append(after, content(t, b))
	}
	steady := book(t, written)
	for i := range after {
		_, err := steady.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
		require.NoError(t, err)
		assert.Equal(t, content(t, steady), after[i])
	}
	entries, err := b.History()
	require.NoError(t, err)
	require.Len(t, entries, 4)
	for i, e := range entries {
		assert.Equal(t, i+1, e.N)
	}
	for range after {
		_, _, err := b.Undo(t.Context())
		require.NoError(t, err)
	}
	assert.Equal(t, before, content(t, b))
}
