package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNewWritesAPlanThatRuns(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "fair")
	s := invoke(t, "new", dir)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, []string{"plan.yaml", "stash.csv"}, names(t, dir))
	plan := filepath.Join(dir, "plan.yaml")

	s = invoke(t, "check", plan)
	assert.Equal(t, exitDone, s.code, s.errors)
	assert.NotContains(t, s.out, "Mind")
	s = invoke(t, "layout", plan, "--effort", "quick", "--out", filepath.Join(dir, "out"))
	assert.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, names(t, filepath.Join(dir, "out")), "cutting-plan.pdf")
}

func TestNewNeverOverwrites(t *testing.T) {
	for _, taken := range []string{"plan.yaml", "stash.csv"} {
		dir := t.TempDir()
		t.Chdir(dir)
		write(t, dir, taken, "mine")
		refused(t, invoke(t, "new"), taken+`" exists and is left alone`, "like: pinfold new fair\n")
		assert.Equal(t, []string{taken}, names(t, dir))
		text, err := os.ReadFile(taken)
		require.NoError(t, err)
		assert.Equal(t, "mine", string(text))
	}
	dir := t.TempDir()
	require.NoError(t, os.Symlink("nowhere", filepath.Join(dir, "plan.yaml")))
	refused(t, invoke(t, "new", dir), "exists and is left alone", "like: pinfold new "+dir+"-2\n")
	require.Error(t, create(filepath.Join(dir, "plan.yaml"), nil), "even if it comes up at the last moment")
}

func TestNewInABadPlace(t *testing.T) {
	file := write(t, t.TempDir(), "file", "")
	refused(t, invoke(t, "new", filepath.Join(file, "fair")), "not a directory")
	refused(t, invoke(t, "new", "/proc/fair"), `"/proc/fair"`)
}
