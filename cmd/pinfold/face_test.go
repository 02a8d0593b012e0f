package main

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFaceWritesAPictureForEachColourway(t *testing.T) {
	t.Chdir(t.TempDir())
	s := invoke(t, "face", "--out", "faces")
	require.Equal(t, exitDone, s.code, s.errors)
	lines := strings.Split(strings.TrimSpace(s.out), "\n")
	// Of the demo's six ornaments one has two colourways.
	require.Len(t, lines, 7+6)
	files := names(t, "faces")
	require.Len(t, files, 13)
	for i, line := range lines {
		assert.True(t, strings.HasPrefix(line, filepath.Join("faces", files[i])), line)
		text, err := os.ReadFile(filepath.Join("faces", files[i]))
		require.NoError(t, err)
		d := xml.NewDecoder(strings.NewReader(string(text)))
		for err == nil {
			_, err = d.Token()
		}
		assert.True(t, errors.Is(err, io.EOF), "%s: %v", files[i], err)
	}
	assert.Contains(t, lines[1], "6 x harbour star")
	assert.Contains(t, lines[1], "ground sailcloth, accent signal flags")

	again := invoke(t, "face", "--out", "again")
	require.Equal(t, exitDone, again.code)
	for _, name := range files {
		one, err := os.ReadFile(filepath.Join("faces", name))
		require.NoError(t, err)
		two, err := os.ReadFile(filepath.Join("again", name))
		require.NoError(t, err)
		assert.Equal(t, one, two, name)
	}
}

func TestFaceRefuses(t *testing.T) {
	t.Chdir(t.TempDir())
	assert.Equal(t, exitInput, invoke(t, "face", "--out", "").code)
	assert.Equal(t, exitInput, invoke(t, "face", "nowhere.yaml").code)
	assert.Empty(t, names(t, "."), "nothing is left behind")
}
