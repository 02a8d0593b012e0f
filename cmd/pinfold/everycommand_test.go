package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// anyPlan is a random plan with its stash, often with several fabrics for a role,
// scraps with bad areas, nothing to buy or a budget.
func anyPlan(r *rand.Rand) (yaml, stash string) {
	if r.IntN(2) == 0 {
		m := newMarket(r)
		for i := range m.fabrics {
			if r.IntN(4) == 0 {
				m.fabrics[i].buy = m.fabrics[i].buy[:0]
			}
		}
		yaml = m.String()
		if r.IntN(2) == 0 {
			yaml = strings.ReplaceAll(yaml, `"ground": "cloth a"`, `"ground": ["cloth a", "cloth b"]`)
		}
		return yaml + fmt.Sprintf("budget: %d\n", r.IntN(12)), ""
	}
	yaml, stash = randomPlan(r)
	if r.IntN(2) == 0 {
		yaml += "  bin first: yes\n"
	}
	return yaml + fmt.Sprintf("  prefer: %s\n", []string{"thrift", "fewer passes", "balanced"}[r.IntN(3)]), stash
}

// Every command answers every plan that can be read, or says what it cannot do; what
// layout finds can be booked, and undone again to the last byte.
func TestEveryCommandOnRandomPlans(t *testing.T) {
	plans := 5
	if testing.Short() {
		plans = 1
	}
	codes := map[string]map[int]int{}
	for seed := range uint64(plans) {
		yaml, stash := anyPlan(rand.New(rand.NewPCG(seed, 81)))
		dir := t.TempDir()
		t.Chdir(dir)
		write(t, dir, "plan.yaml", yaml)
		write(t, dir, "stash.csv", stash)
		said := func(args ...string) said {
			s := invoke(t, args...)
			require.Contains(t, []int{exitDone, exitInput, exitShort}, s.code, "seed %d: %q: %s\n%s\n%s", seed, args, s.errors, yaml, stash)
			require.NotContains(t, s.errors, "fault of the program", "seed %d: %q", seed, args)
			if s.code == exitInput {
				require.NotEmpty(t, s.errors, "seed %d: %q", seed, args)
			}
			key := strings.Join(args[:min(len(args), 2)], " ")
			if codes[key] == nil {
				codes[key] = map[int]int{}
			}
			codes[key][s.code]++
			return s
		}
		if said("check", "plan.yaml").code != exitDone {
			continue
		}
		quick := []string{"plan.yaml", "--effort", "quick"}
		said(append([]string{"shop", "--layouts", "bought", "--out", "list"}, quick...)...)
		said(append([]string{"makes", "--layouts", "made"}, quick...)...)
		said(append([]string{"compare"}, quick...)...)
		said(append([]string{"cost", "--formats", "text,csv,json,pdf"}, quick...)...)
		said("face", "plan.yaml")
		said("stash")
		if said(append([]string{"layout"}, quick...)...).code == exitInput {
			continue
		}
		if stash == "" {
			continue // it is listed in the plan
		}
		before, err := os.ReadFile("stash.csv")
		require.NoError(t, err)
		if said("done", filepath.Join("cutting-plan", "result.json")).code == exitDone {
			said("stash")
			if said("stash", "undo").code == exitDone {
				after, err := os.ReadFile("stash.csv")
				require.NoError(t, err)
				require.Equal(t, string(before), string(after), "seed %d", seed)
			}
		}
	}
	t.Log(codes)
	assert.GreaterOrEqual(t, len(codes), 8)
}
