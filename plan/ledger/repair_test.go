package ledger

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// after returns what a change leaves: the stash, its history and the temporary name
// it went through.
func after(t *testing.T, b *Book) (stash, history, temp string) {
	t.Helper()
	_, err := b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	require.NoError(t, err)
	lines, err := os.ReadFile(b.historyPath())
	require.NoError(t, err)
	entries, err := b.History()
	require.NoError(t, err)
	temp = entries[len(entries)-1].Temp
	require.Regexp(t, `^\.stash\.csv[0-9]+$`, temp)
	return content(t, b), string(lines), temp
}

// Each place where a kill can fall is set up by hand; TestKills of cmd/pinfold finds
// them by chance.
func TestWhatAKillLeavesIsPutRight(t *testing.T) {
	for _, hand := range []bool{false, true} {
		for name, c := range map[string]struct {
			replaced    bool // the rename was made
			temp, torn  bool // the temporary file is there; the history's last line is half written
			entry, made bool // the change is in the history; it counts
		}{
			"while the file is written":    {temp: true},
			"while the history is written": {temp: true, torn: true},
			"before the rename":            {temp: true, entry: true},
			"after the rename":             {replaced: true, entry: true, made: true},
		} {
			if hand {
				name += ", then changed by hand"
			}
			t.Run(name, func(t *testing.T) {
				b := book(t, written)
				_, err := b.Take(t.Context(), "S1", 1)
				require.NoError(t, err)
				first, oldHistory := content(t, b), read(t, b.historyPath())
				second, newHistory, temp := after(t, b)

				now, lines := first, oldHistory
				if c.replaced {
					now = second
				}
				if c.entry {
					lines = newHistory
				}
				if c.torn {
					lines = newHistory[:len(newHistory)-9]
				}
				if hand {
					now = strings.Replace(now, "sail white", "sail grey", 1)
				}
				require.NoError(t, os.WriteFile(b.path, []byte(now), 0o644))
				require.NoError(t, os.WriteFile(b.historyPath(), []byte(lines), 0o644))
				if c.temp {
					require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(b.path), temp), []byte(second), 0o644))
				}

				entries, err := b.History()
				require.NoError(t, err)
				made := 1
				if c.made {
					made = 2
				}
				assert.Len(t, entries, made)
				_, _, err = b.Undo(t.Context())
				if hand {
					require.ErrorContains(t, err, "changed by hand since")
					assert.Equal(t, now, content(t, b))
				} else {
					require.NoError(t, err)
					want := written
					if c.made {
						want = first
					}
					assert.Equal(t, want, content(t, b))
				}
				_, err = b.Put(t.Context(), cloth(t, "navy dot: 3 x 3"), Tag{})
				require.NoError(t, err)
				assert.ElementsMatch(t, []string{"stash.csv", "stash.csv.history", ".stash.csv.lock"}, folder(t, b))
				numbered(t, b)
			})
		}
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

func folder(t *testing.T, b *Book) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(b.path))
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// numbered asserts that every line of the history can be read.
func numbered(t *testing.T, b *Book) {
	t.Helper()
	entries, err := b.History()
	require.NoError(t, err)
	for i, e := range entries {
		assert.Equal(t, i+1, e.N)
	}
}

func TestFilesOfOthersAreLeft(t *testing.T) {
	b := book(t, written)
	dir := filepath.Dir(b.path)
	for _, name := range []string{".stash.csv.bak", "stash.csv7", ".stash.csv71", ".stash.csv8x", ".stash.csv"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".stash.csv81"), nil, 0o644))
	_, err := b.Take(t.Context(), "S1", 1)
	require.NoError(t, err)
	assert.ElementsMatch(t, []string{"stash.csv", "stash.csv.history", ".stash.csv.lock",
		".stash.csv.bak", "stash.csv7", ".stash.csv71", ".stash.csv8x", ".stash.csv"}, folder(t, b),
		"71 may belong to the stash called stash.csv7")
}

func TestAHistoryThatWasTamperedWith(t *testing.T) {
	b := book(t, written)
	_, err := b.Take(t.Context(), "S1", 1)
	require.NoError(t, err)
	good, left := read(t, b.historyPath()), content(t, b)
	for name, c := range map[string]struct{ text, want string }{
		"no JSON":      {"!" + good, "stash.csv.history:1:1: this line is not as the program wrote it: put the file back"},
		"a line twice": {good + good, "stash.csv.history:3:1: this line"},
		"another edit": {strings.Replace(good, `"old":"\"3\""`, `"old":"\"4\""`, 1), "stash.csv.history:2:1: the history does not fit the stash"},
		"edit beyond":  {strings.Replace(good, `"at":`, `"at":9`, 1), "stash.csv.history:2:1: the history does not fit the stash"},
		"no version":   {strings.Replace(good[strings.Index(good, "\n")+1:], `"at":`, `"at":9`, 1), "stash.csv.history:1:1: the history does not fit the stash"},
		"of tomorrow": {strings.Replace(good, "history/1", "history/2", 1), `stash.csv.history:1:1: this history is "pinfold/history/2", and this program knows ` +
			`"pinfold/history/1": use the newer program that wrote it, or move the file away`},
	} {
		require.NotEqual(t, good, c.text, name)
		require.NoError(t, os.WriteFile(b.historyPath(), []byte(c.text), 0o644))
		_, _, err := b.Undo(t.Context())
		assert.ErrorContains(t, err, c.want, name)
		assert.Equal(t, left, content(t, b), name)
		assert.Equal(t, c.text, read(t, b.historyPath()), name)
	}
	require.NoError(t, os.Remove(b.historyPath()))
	_, err = b.Take(t.Context(), "S1", 1)
	require.NoError(t, err, "without its history a stash begins a new one")
}
