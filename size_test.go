package pinfold_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mostLines is how long a file may be: one idea each.
const mostLines = 400

func TestFilesAreShort(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") {
			return err
		}
		text, err := os.ReadFile(name)
		files++
		assert.LessOrEqual(t, bytes.Count(text, []byte("\n")), mostLines, "%s: split what holds two ideas", name)
		return err
	})
	require.NoError(t, err)
	assert.Greater(t, files, 100, "the walk has seen the whole house")
}
