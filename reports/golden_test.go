package reports

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares with testdata/name, or rewrites it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run go test ./reports -update to make it")
	assert.Equal(t, string(want), string(got), "%s", name)
}

func TestTextGolden(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, New(fair(t)).WriteText(&b))
	golden(t, "fair.txt", b.Bytes())
}

func TestJSONGolden(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, New(fair(t)).WriteJSON(&b))
	golden(t, "fair.json", b.Bytes())
}
