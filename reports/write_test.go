package reports

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWriteAll(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	paths, err := New(fair(t)).Write(dir, Formats(), Paper{})
	require.NoError(t, err)
	var names []string
	for _, p := range paths {
		names = append(names, filepath.Base(p))
	}
	assert.Equal(t, []string{"cutting-plan.pdf", "layout-001.svg", "layout-002.svg", "layout-003.svg", "pieces.csv", "result.json"}, names)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, len(paths), "no temporary file is left")
	if keep := os.Getenv("KEEP"); keep != "" {
		require.NoError(t, os.CopyFS(keep, os.DirFS(dir)))
	}
}
