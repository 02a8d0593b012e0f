package reports

import (
	"errors"
	"io"
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
	assert.Equal(t, []string{"cutting-plan.pdf", "cutting-plan.html", "layout-001.svg", "layout-002.svg", "layout-003.svg", "pieces.csv", "result.json"}, names)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, len(paths), "no temporary file is left")
}

func TestWriteReplacesItsOwnFilesOnly(t *testing.T) {
	dir := t.TempDir()
	other, own := filepath.Join(dir, "notes.txt"), filepath.Join(dir, "result.json")
	require.NoError(t, os.WriteFile(other, []byte("mine"), 0o600))
	require.NoError(t, os.WriteFile(own, []byte("old"), 0o640))
	_, err := New(fair(t)).Write(dir, []Format{JSON}, Paper{})
	require.NoError(t, err)
	kept, err := os.ReadFile(other)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(kept))
	written, err := os.ReadFile(own)
	require.NoError(t, err)
	assert.Contains(t, string(written), Schema)
	info, err := os.Stat(own)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o640), info.Mode().Perm(), "a replaced file keeps its mode")
}

func TestWriteRemovesPicturesOfAnEarlierPlan(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"layout-003.svg", "layout-004.svg", "layout-005.svg", "layout-007.svg"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("earlier"), 0o644))
	}
	_, err := New(fair(t)).Write(dir, []Format{SVG}, Letter)
	require.NoError(t, err)
	left, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	for i := range left {
		left[i] = filepath.Base(left[i])
	}
	assert.Equal(t, []string{"layout-001.svg", "layout-002.svg", "layout-003.svg", "layout-007.svg"}, left, "one that does not follow on is somebody else's")
}

func TestWriteSaysWhereItCannot(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	for _, folder := range []string{file, filepath.Join(file, "below")} {
		paths, err := New(fair(t)).Write(folder, []Format{CSV}, Paper{})
		assert.ErrorContains(t, err, "cannot write into folder")
		assert.ErrorContains(t, err, folder)
		assert.Empty(t, paths)
	}
	require.NoError(t, os.Mkdir(filepath.Join(dir, "pieces.csv"), 0o755))
	_, err := New(fair(t)).Write(dir, []Format{CSV}, Paper{})
	assert.ErrorContains(t, err, "there is a folder of that name")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "no temporary file is left behind")
}

func TestWriteIntoReadOnlyFolder(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("permissions do not stop the superuser")
	}
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o500))
	_, err := New(fair(t)).Write(dir, []Format{CSV}, Paper{})
	assert.ErrorContains(t, err, "permission denied")
}

func TestParsePaper(t *testing.T) {
	p, err := ParsePaper("A4")
	require.NoError(t, err)
	assert.Equal(t, A4, p)
	_, err = ParsePaper("folio")
	assert.ErrorContains(t, err, `unknown paper "folio": write letter or a4`)
	assert.Equal(t, Letter, Paper{}.or(0))
	assert.Equal(t, A4, Paper{}.or(1))
	assert.Equal(t, A4, A4.or(0))
}

// Many pictures lie in a folder of their own, and none of an earlier plan stays in
// the other place.
func TestManyPicturesHaveAFolder(t *testing.T) {
	dir := t.TempDir()
	few, many := New(fair(t)), New(fair(t))
	for len(many.Sheets) <= mostBeside {
		many.Sheets = append(many.Sheets, many.Sheets[0])
	}
	write := func(r *Report) (beside, within []string) {
		paths, err := r.Write(dir, []Format{SVG}, Paper{})
		require.NoError(t, err)
		assert.Len(t, paths, len(r.Sheets))
		for _, p := range paths {
			assert.FileExists(t, p)
		}
		beside, err = filepath.Glob(filepath.Join(dir, "layout-*.svg"))
		require.NoError(t, err)
		within, err = filepath.Glob(filepath.Join(dir, "layouts", "layout-*.svg"))
		require.NoError(t, err)
		return beside, within
	}
	beside, within := write(few)
	assert.Len(t, beside, len(few.Sheets))
	assert.Empty(t, within)
	beside, within = write(many)
	assert.Empty(t, beside)
	assert.Len(t, within, mostBeside+1)
	beside, within = write(few)
	assert.Len(t, beside, len(few.Sheets))
	assert.Empty(t, within)
	assert.NoDirExists(t, filepath.Join(dir, "layouts"))
}

// What goes wrong while a file is rendered leaves none of them, nor their folder.
func TestFaultWhileRenderingLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	whole := func(w io.Writer) error { _, err := io.WriteString(w, "whole"); return err }
	broken := func(w io.Writer) error {
		_, err := io.WriteString(w, "half")
		return errors.Join(err, errors.New("no ink"))
	}
	_, err := place(dir, []file{{"layouts/a.svg", whole}, {"b.pdf", broken}})
	assert.EqualError(t, err, "no ink")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, entries)
}
