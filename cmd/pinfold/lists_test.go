package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Random plans in which two fabrics may fill a role, on half of the ornaments
// one of them alone: the results add up, are the same again, and are accepted by
// a program which knows nothing of ours. Limits on stages are left out.
func TestResultsOfRandomLists(t *testing.T) {
	plans := 8
	if testing.Short() {
		plans = 1
	}
	tool, err := filepath.Abs(filepath.Join("..", "..", "..", "shared", "tools", "check_result.py"))
	require.NoError(t, err)
	stages := regexp.MustCompile(`(?m)^  stages: .*\n`)
	for seed := range plans {
		dir := t.TempDir()
		yaml, stash := randomPlan(rand.New(rand.NewPCG(uint64(seed), 11)))
		yaml = stages.ReplaceAllString(strings.ReplaceAll(yaml, "accent: cloth 1", "accent: [cloth 1, cloth 0]"), "")
		yaml = strings.Replace(yaml, "    pieces:", "    same fabric: [accent]\n    pieces:", seed%2)
		path := write(t, dir, "plan.yaml", yaml)
		write(t, dir, "stash.csv", stash)
		out := filepath.Join(dir, "out")
		s := invoke(t, "layout", path, "--effort", "quick", "--formats", "text,json", "--out", out)
		require.Contains(t, []int{exitDone, exitShort}, s.code, "seed %d: %s\n%s", seed, s.errors, yaml)
		assert.Contains(t, s.out, "Which fabric for what")
		assert.Contains(t, s.out, "counted twice, by fabric and by ornament: equal", "seed %d", seed)
		assert.Equal(t, s, invoke(t, "layout", path, "--effort", "quick", "--formats", "text,json", "--out", out), "seed %d", seed)
		if _, err := os.Stat(tool); err != nil {
			continue // no folder with check_result.py beside the checkout
		}
		said, err := exec.Command("python3", tool, filepath.Join(out, "result.json")).CombinedOutput()
		assert.NoError(t, err, "seed %d: %s\n%s", seed, said, yaml)
	}
}
