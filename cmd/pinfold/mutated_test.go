package main

import (
	"bytes"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
)

// mutated changes a few bytes or lines of a file, as a slip of the hand, a broken
// disk or another program might.
func mutated(r *rand.Rand, data []byte) []byte {
	data = bytes.Clone(data)
	for range 1 + r.IntN(3) {
		if len(data) < 2 {
			return data
		}
		at, end := r.IntN(len(data)), r.IntN(len(data))
		at, end = min(at, end), max(at, end)
		switch r.IntN(8) {
		case 0:
			data[at] ^= 1 << r.IntN(8)
		case 1:
			data[at] = " \t\n:,-{}[]\"'#&*!|>%@0189.xé"[r.IntN(27)]
		case 2:
			data = append(data[:at:at], data[at+1:]...)
		case 3:
			data = append(data[:at:at], append([]byte{data[end]}, data[at:]...)...)
		case 4: // a part once more, elsewhere
			end = min(end, at+80)
			to := r.IntN(len(data))
			data = append(data[:to:to], append(bytes.Clone(data[at:end]), data[to:]...)...)
		case 5: // a part is missing
			data = append(data[:at:at], data[min(end, at+80):]...)
		case 6:
			data = data[:end]
		case 7: // two lines exchanged
			lines := bytes.SplitAfter(data, []byte("\n"))
			i, j := r.IntN(len(lines)), r.IntN(len(lines))
			lines[i], lines[j] = lines[j], lines[i]
			data = bytes.Join(lines, nil)
		}
	}
	return data
}

// However the demo and its stash are damaged, they are read or refused: with places
// in the files, on lines that a terminal can show, and never as a fault of the
// program.
func TestDamagedDemo(t *testing.T) {
	runs := 1500
	if testing.Short() {
		runs = 150
	}
	var good [2][]byte
	names := [2]string{fixtures.PlanFile, fixtures.StashFile}
	for i, name := range names {
		var err error
		good[i], err = fs.ReadFile(fixtures.Demo(), name)
		require.NoError(t, err)
	}
	dir := t.TempDir()
	codes := map[int]int{}
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 71))
		which := r.IntN(3)
		for i, name := range names {
			data := good[i]
			if which == 2 || which == i {
				data = mutated(r, data)
			}
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o666))
		}
		s := invoke(t, "check", filepath.Join(dir, fixtures.PlanFile))
		codes[s.code]++
		require.Contains(t, []int{exitDone, exitInput}, s.code, "seed %d: %s", seed, s.errors)
		if s.code == exitDone {
			continue
		}
		require.Empty(t, s.out, "seed %d", seed)
		for line := range strings.Lines(s.errors) {
			require.True(t, strings.HasPrefix(line, dir), "seed %d: %q", seed, line)
			require.NotContains(t, line, "\x1b", "seed %d", seed)
			require.Less(t, len(line), 800, "seed %d", seed)
		}
	}
	t.Logf("%d are read, %d are refused", codes[exitDone], codes[exitInput])
	assert.Greater(t, codes[exitDone], runs/10)
	assert.Greater(t, codes[exitInput], runs/3)
}
