package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// crookedStash writes scraps of every kind: corners, measured sides, bad areas.
func crookedStash(r *rand.Rand) string {
	var b strings.Builder
	b.WriteString("fabric,count,squared,size,shape,bad areas\n")
	eighths := func(from, to int) string {
		n := 8*from + r.IntN(8*(to-from))
		return fmt.Sprintf("%d %d/8", n/8, n%8)
	}
	for range 3 + r.IntN(6) {
		bad := ""
		if r.IntN(2) == 0 {
			bad = fmt.Sprintf("stain %s x 1 at %s, %s; missing 1 x %s at top right", eighths(1, 2), eighths(1, 5), eighths(1, 5), eighths(1, 3))
		}
		size, shape := "", ""
		switch r.IntN(3) {
		case 0:
			size = eighths(6, 14) + " x " + eighths(6, 14)
		case 1:
			shape = fmt.Sprintf("0, %s; %s, 0; %s, %s; %s, %s; %s, %s", eighths(0, 3), eighths(1, 3),
				eighths(7, 12), eighths(0, 2), eighths(8, 13), eighths(6, 13), eighths(4, 6), eighths(7, 13))
		default:
			shape = fmt.Sprintf("bottom %s; top %s; left height %s; right height %s", eighths(9, 13), eighths(7, 9), eighths(7, 9), eighths(7, 10))
		}
		fmt.Fprintf(&b, "navy dot,%d,%s,%s,%q,%q\n", 1+r.IntN(2), []string{"yes", "no"}[r.IntN(2)], size, shape, bad)
	}
	return b.String()
}

// Plans that use up crooked scraps give results that a program accepts which knows
// nothing of outlines, only of forbidden rectangles.
func TestResultsOfCrookedScraps(t *testing.T) {
	plans := 12
	if testing.Short() {
		plans = 2
	}
	tool, err := filepath.Abs(filepath.Join("..", "..", "..", "shared", "tools", "check_result.py"))
	require.NoError(t, err)
	if _, err := os.Stat(tool); err != nil {
		t.Skip("no folder with check_result.py beside the checkout")
	}
	read := 0
	for seed := range plans {
		r := rand.New(rand.NewPCG(uint64(seed), 41))
		dir := t.TempDir()
		path := write(t, dir, "plan.yaml", fmt.Sprintf(`
ornaments:
  jetty star:
    ball: 3 in
    pieces:
      - {name: centre, size: 2 1/2 x 2 1/2, count: %d, role: ground}
      - {name: round 2, size: 2 x 3, count: %d, role: ground}
make: [{ornament: jetty star, count: %d, colourway: {ground: navy dot}}]
fabrics: {navy dot: {direction: %s, buy: [{fat quarter: 3.25}, {yard: 11.50}]}}
stash: stash.csv
`, 4+r.IntN(9), 4+r.IntN(9), 1+r.IntN(4), []string{"any", "one-way"}[r.IntN(2)]))
		write(t, dir, "stash.csv", crookedStash(r))
		out := filepath.Join(dir, "out")
		s := invoke(t, "layout", path, "--effort", "quick", "--formats", "json", "--out", out)
		if s.code == exitInput {
			// Measures drawn at random need not meet.
			assert.Contains(t, s.errors, "shape: ", "seed %d", seed)
			continue
		}
		read++
		require.Contains(t, []int{exitDone, exitShort}, s.code, "seed %d: %s", seed, s.errors)
		said, err := exec.Command("python3", tool, filepath.Join(out, "result.json")).CombinedOutput()
		assert.NoError(t, err, "seed %d: %s", seed, said)
	}
	assert.Positive(t, read)
}
