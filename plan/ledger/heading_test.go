package ledger

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const firstLine = `{"schema":"pinfold/history/1"}` + "\n"

func TestAHistorySaysItsVersionOnce(t *testing.T) {
	b := book(t, written)
	for range 3 {
		_, err := b.Take(t.Context(), "S1", 1)
		require.NoError(t, err)
	}
	text := read(t, b.historyPath())
	assert.True(t, strings.HasPrefix(text, firstLine), text)
	assert.Equal(t, 1, strings.Count(text, "schema"))
	assert.Equal(t, 4, strings.Count(text, "\n"))
}

// A history of before the versions goes on as it is, and what it says can be undone.
func TestAHistoryWithoutItsVersion(t *testing.T) {
	b := book(t, written)
	_, err := b.Take(t.Context(), "S1", 1)
	require.NoError(t, err)
	old := strings.TrimPrefix(read(t, b.historyPath()), firstLine)
	require.NoError(t, os.WriteFile(b.historyPath(), []byte(old), 0o644))
	_, err = b.Take(t.Context(), "S1", 1)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(read(t, b.historyPath()), old))
	assert.NotContains(t, read(t, b.historyPath()), "schema")
	for range 2 {
		_, _, err = b.Undo(t.Context())
		require.NoError(t, err)
	}
	assert.Equal(t, written, content(t, b))
	numbered(t, b)
}

// Wherever the first change of a history is broken off, the next one begins anew.
func TestAHistoryBrokenOffAtItsBeginning(t *testing.T) {
	b := book(t, written)
	_, err := b.Take(t.Context(), "S1", 1)
	require.NoError(t, err)
	whole := read(t, b.historyPath())
	for _, n := range []int{0, 1, len(firstLine) - 1, len(firstLine), len(firstLine) + 1, len(whole) - 1} {
		b := book(t, written)
		require.NoError(t, os.WriteFile(b.historyPath(), []byte(whole[:n]), 0o644))
		entries, err := b.History()
		require.NoError(t, err)
		assert.Empty(t, entries)
		_, err = b.Take(t.Context(), "S1", 2)
		require.NoError(t, err)
		text := read(t, b.historyPath())
		assert.True(t, strings.HasPrefix(text, firstLine+`{"n":1,`), "%d: %s", n, text)
		assert.Equal(t, 2, strings.Count(text, "\n"))
		_, _, err = b.Undo(t.Context())
		require.NoError(t, err)
		assert.Equal(t, written, content(t, b))
	}
}
