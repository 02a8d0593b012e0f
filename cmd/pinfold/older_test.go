package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What an older version wrote is read by every later one: testdata/older keeps a
// folder for each time a kind of file got something new. A folder is a plan that has
// been cut: its stash is the one after pinfold done, with the history.
func TestFilesOfOlderVersions(t *testing.T) {
	folders, err := filepath.Glob(filepath.Join("..", "..", "testdata", "older", "*"))
	require.NoError(t, err)
	require.NotEmpty(t, folders)
	for _, folder := range folders {
		dir := t.TempDir()
		require.NoError(t, os.CopyFS(dir, os.DirFS(folder)))
		at := func(name string) string { return filepath.Join(dir, name) }
		after, err := os.ReadFile(at("stash.csv"))
		require.NoError(t, err)

		again := invoke(t, "done", at("result.json"), "--stash", at("stash.csv"))
		assert.Equal(t, exitDone, again.code, "%s: %s", folder, again.errors)
		assert.Equal(t, string(after), read(t, at("stash.csv")), "%s: the result is known as booked", folder)

		undo := invoke(t, "stash", "undo", "--stash", at("stash.csv"))
		assert.Equal(t, exitDone, undo.code, "%s: %s", folder, undo.errors)
		assert.NotEqual(t, string(after), read(t, at("stash.csv")), folder)

		check := invoke(t, "check", at("plan.yaml"))
		assert.Equal(t, exitDone, check.code, "%s: %s", folder, check.errors)

		booked := invoke(t, "done", at("result.json"), "--stash", at("stash.csv"))
		assert.Equal(t, exitDone, booked.code, "%s: %s", folder, booked.errors)
		assert.Contains(t, read(t, at("stash.csv")), "offcut of bought yard", "%s: booked anew, under new ids", folder)
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}
