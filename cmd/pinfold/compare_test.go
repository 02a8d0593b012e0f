package main

import (
	"encoding/json"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCompareAPlan(t *testing.T) {
	path := smallPlan(t, nil)
	dir := filepath.Join(t.TempDir(), "compare")
	s := invoke(t, "compare", path, "--effort", "quick", "--formats", "text,csv,json", "--out", dir)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "20 seconds a pass")
	assert.Equal(t, []string{"compare.csv", "compare.json"}, names(t, dir))

	s = invoke(t, "compare", path, "--effort", "quick", "--json")
	var got struct {
		Singly      int `json:"passes_one_sheet_at_a_time"`
		Preferences []struct {
			Prefer         string
			Price          int
			Passes         int
			Seconds, Stash int
		}
	}
	require.NoError(t, json.Unmarshal([]byte(s.out), &got), s.out)
	require.Len(t, got.Preferences, 3)
	for i, prefer := range []string{"thrift", "fewer passes", "balanced"} {
		p := got.Preferences[i]
		assert.Equal(t, prefer, p.Prefer)
		assert.LessOrEqual(t, p.Passes, got.Singly)
		assert.Equal(t, got.Preferences[0].Price, p.Price, "money comes first")
		assert.Equal(t, 20*p.Passes, p.Seconds)
	}
}

func TestCompareRefuses(t *testing.T) {
	t.Chdir(t.TempDir())
	path := smallPlan(t, nil)
	for want, args := range map[string][]string{
		"a comparison cannot be written as pdf": {path, "--formats", "pdf"},
		"--out is empty":                        {path, "--out", ""},
		`unknown effort "idle"`:                 {path, "--effort", "idle"},
	} {
		refused(t, invoke(t, append([]string{"compare"}, args...)...), want)
		assert.Empty(t, names(t, "."), want)
	}
}
