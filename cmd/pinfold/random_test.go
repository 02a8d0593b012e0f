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

// randomPlan writes a plan file and its stash as a maker might, in either unit,
// with and without prices, stages, kerf and shrinkage.
func randomPlan(r *rand.Rand) (yaml, stash string) {
	var b, s strings.Builder
	metric := r.IntN(3) == 0
	pick := func(inch, cm []string) string {
		if metric {
			return cm[r.IntN(len(cm))]
		}
		return inch[r.IntN(len(inch))]
	}
	unit := "in"
	if metric {
		unit = "cm"
	}
	fmt.Fprintf(&b, "title: random plan\nunit: %s\nmoney: \"$\"\nornaments:\n", unit)
	ornaments := 1 + r.IntN(3)
	for i := range ornaments {
		fmt.Fprintf(&b, "  ornament %d:\n    ball: %s\n    pieces:\n", i, pick([]string{"2 1/2", "3", "4"}, []string{"6", "7.5", "10"}))
		fmt.Fprintf(&b, "      - {name: centre, size: %s, count: 8, role: accent}\n", pick([]string{"2 1/2 x 2 1/2"}, []string{"6.5 x 6.5"}))
		for j := range r.IntN(3) {
			size := pick([]string{"2 x 2", "2 1/2 x 2 1/2", "2 x 3", "2 1/4 x 3 1/8", "6 cm x 5 cm"}, []string{"5 x 5", "6.5 x 6.5", "5 x 7.5", `"6,2 x 8"`, "2 1/2 in x 3 in"})
			if r.IntN(4) == 0 {
				fmt.Fprintf(&b, "      - {name: round %d, size: %s, around: [ground, accent, ground, accent], side: %s}\n", j, size, []string{"front", "both"}[r.IntN(2)])
			} else {
				fmt.Fprintf(&b, "      - {name: round %d, size: %s, count: %d, role: %s}\n", j, size, 2+2*r.IntN(10), []string{"ground", "accent"}[r.IntN(2)])
			}
		}
		fmt.Fprintf(&b, "    band: {width: %s, overlap: %s, role: ground}\n", pick([]string{"1 3/4", "2"}, []string{"4.5", "5"}), pick([]string{"1", "1 1/2"}, []string{"2.5", "3"}))
	}
	b.WriteString("make:\n")
	for i := range ornaments {
		fmt.Fprintf(&b, "  - {ornament: ornament %d, count: %d, colourway: {ground: cloth 0, accent: cloth 1}}\n", i, 1+r.IntN(12))
	}
	b.WriteString("fabrics:\n")
	priced := r.IntN(4) > 0
	for i := range 2 {
		fmt.Fprintf(&b, "  cloth %d:\n    direction: %s\n    bolt: {width: %s, usable: %s}\n", i, []string{"any", "two-way", "one-way"}[r.IntN(3)], pick([]string{"44"}, []string{"112"}), pick([]string{"42", "40 1/2"}, []string{"106", "108"}))
		if r.IntN(3) == 0 {
			b.WriteString("    shrinks: {length: 3%, width: 2.5%}\n")
		}
		price := func(p string) string {
			if priced {
				return p
			}
			return ""
		}
		b.WriteString("    buy:\n")
		kinds := r.IntN(3)
		if kinds != 1 {
			fmt.Fprintf(&b, "      - {fat quarter: %s}\n", price(fmt.Sprintf("%d.%02d", 2+r.IntN(3), r.IntN(100))))
		}
		if kinds != 0 {
			fmt.Fprintf(&b, "      - {%s: %s}\n", pick([]string{"yard"}, []string{"metre"}), price(fmt.Sprintf("%d.%02d", 8+r.IntN(5), r.IntN(100))))
		}
	}
	s.WriteString("id,fabric,size,count,bad areas,squared,where,note\n")
	for i := range r.IntN(5) {
		fmt.Fprintf(&s, "s%d,cloth %d,%s,%d,%s,%s,tin,\n", i, r.IntN(2), pick([]string{"8 x 11", "17 1/2 x 20", "5 1/4 x 30"}, []string{"20 x 30", "48 x 52"}), 1+r.IntN(2),
			[]string{"", `"1 x 2 at 0, 1"`, "1 x 1 at top right"}[r.IntN(3)], []string{"yes", "no"}[r.IntN(2)])
	}
	b.WriteString("stash: stash.csv\ncutting:\n")
	fmt.Fprintf(&b, "  squaring: %s\n  spare: %d%%\n  layers: %d\n", pick([]string{"1/4", "0", "1/2"}, []string{"0.5", "0"}), r.IntN(12), 1+r.IntN(5))
	if r.IntN(3) == 0 {
		fmt.Fprintf(&b, "  stages: %d\n", 2+r.IntN(2))
	}
	if r.IntN(5) == 0 {
		fmt.Fprintf(&b, "  kerf: %s\n", pick([]string{"1/16"}, []string{"0.1"}))
	}
	return b.String(), s.String()
}

// Random plans give results that a program which knows nothing of ours accepts:
// check_result.py, where a folder with it lies beside the checkout.
func TestResultsOfRandomPlans(t *testing.T) {
	plans := 120
	if testing.Short() {
		plans = 3
	}
	tool, err := filepath.Abs(filepath.Join("..", "..", "..", "shared", "tools", "check_result.py"))
	require.NoError(t, err)
	if _, err := os.Stat(tool); err != nil {
		t.Skip("no folder with check_result.py beside the checkout")
	}
	for seed := range plans {
		dir := t.TempDir()
		yaml, stash := randomPlan(rand.New(rand.NewPCG(uint64(seed), 7)))
		path := write(t, dir, "plan.yaml", yaml)
		write(t, dir, "stash.csv", stash)
		out := filepath.Join(dir, "out")
		s := invoke(t, "layout", path, "--effort", "quick", "--formats", "json", "--out", out)
		require.Contains(t, []int{exitDone, exitShort}, s.code, "seed %d: %s\n%s", seed, s.errors, yaml)
		said, err := exec.Command("python3", tool, filepath.Join(out, "result.json")).CombinedOutput()
		assert.NoError(t, err, "seed %d: %s\n%s", seed, said, yaml)
	}
}
