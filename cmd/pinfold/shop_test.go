package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/reports"
)

// 48 pieces of 2 1/2 x 4 1/2 in need 13 1/2 in of 40 in cloth (quilting blog,
// 2011, patchworktimes.com/2011/11/12/calculating-yardage).
const counterPlan = `title: Small stall
money: "$"
ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 1/2 x 4 1/2, count: 48, role: ground}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot}}]
fabrics:
  navy dot: {bolt: {width: 44, usable: 40}, buy: [{fat quarter: 3}, {yard: 8, step: 1/8 yd}]}
cutting: {squaring: 0}
`

func TestShop(t *testing.T) {
	dir := t.TempDir()
	file := write(t, dir, "plan.yaml", counterPlan)
	out := filepath.Join(dir, "list")
	s := invoke(t, "shop", file, "--effort", "quick", "--out", out)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "[ ] 3/8 yd                               $3.00\n")
	assert.Contains(t, s.out, "The list is in the folder "+out)
	assert.Equal(t, []string{"shopping.csv", "shopping.html", "shopping.json", "shopping.pdf"}, names(t, out))

	s = invoke(t, "shop", file, "--effort", "quick", "--json")
	require.Equal(t, exitDone, s.code, s.errors)
	var doc struct {
		Schema string
		Total  int
	}
	require.NoError(t, json.Unmarshal([]byte(s.out), &doc))
	assert.Equal(t, reports.ShopSchema, doc.Schema)
	assert.Equal(t, 300, doc.Total)
	text, err := os.ReadFile(filepath.Join(out, "shopping.json"))
	require.NoError(t, err)
	assert.Equal(t, string(text), s.out, "the same bytes every time")
}

func TestShopWritesOnlyWhereItIsTold(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, "plan.yaml", counterPlan)
	s := invoke(t, "shop", "plan.yaml", "--effort", "quick")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, []string{"plan.yaml"}, names(t, dir))

	s = invoke(t, "shop", "plan.yaml", "--effort", "quick", "--out", "list", "--formats", "csv")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Empty(t, s.out)
	assert.Equal(t, []string{"shopping.csv"}, names(t, filepath.Join(dir, "list")))

	s = invoke(t, "shop", "plan.yaml", "--effort", "quick", "--layouts", "cut", "--paper", "a4")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "The cutting plan is in the folder cut.")
	assert.Contains(t, names(t, filepath.Join(dir, "cut")), "cutting-plan.pdf")
	assert.NotContains(t, names(t, dir), "shopping.pdf")
}

func TestShopWhatIf(t *testing.T) {
	file := write(t, t.TempDir(), "plan.yaml", counterPlan)
	s := invoke(t, "shop", file, "--effort", "quick", "--usable", "navy dot=39 7/8", "--shrinks", "0,5%")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "navy dot: 39 7/8 in usable instead of\n    40 in")
	assert.Contains(t, s.out, "navy dot: shrinks 0.5% instead of 0%")
	assert.Contains(t, s.out, "navy dot: 1/2 yd instead of 3/8 yd")
	assert.Contains(t, s.out, "in all $1.00 more")
}

func TestShopBudget(t *testing.T) {
	dir := t.TempDir()
	file := write(t, dir, "plan.yaml", counterPlan)
	s := invoke(t, "shop", file, "--effort", "quick", "--budget", "2,50")
	assert.Equal(t, exitShort, s.code)
	assert.Contains(t, s.errors, "the budget of $2.50 does not buy everything")
	assert.Contains(t, s.out, "16 of 48 A (2 1/2 x 4 1/2 in)")

	// The flag goes before the plan's own budget.
	file = write(t, dir, "poor.yaml", "budget: 1\n"+counterPlan)
	assert.Equal(t, exitShort, invoke(t, "shop", file, "--effort", "quick").code)
	s = invoke(t, "shop", file, "--effort", "quick", "--budget", "3")
	assert.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "The budget of $3.00 leaves $0.00.")
}

func TestShopShort(t *testing.T) {
	file := write(t, t.TempDir(), "plan.yaml", strings.Replace(counterPlan, "step: 1/8 yd", "step: 1/8 yd, most: 1/4 yd", 1))
	s := invoke(t, "shop", strings.TrimSpace(file), "--effort", "quick")
	assert.Equal(t, exitDone, s.code, "with a fat quarter beside the last quarter yard")
	file = write(t, t.TempDir(), "plan.yaml", strings.Replace(counterPlan, "{fat quarter: 3}, {yard: 8, step: 1/8 yd}", "{yard: 8, step: 1/8 yd, most: 1/4 yd}", 1))
	s = invoke(t, "shop", file, "--effort", "quick")
	assert.Equal(t, exitShort, s.code)
	assert.Contains(t, s.errors, "navy dot: 16 of 48 A (2 1/2 x 4 1/2 in), for star, centre")
	assert.Contains(t, s.out, "All that can be had does not hold the")
}

func TestShopRefuses(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, "plan.yaml", counterPlan)
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"--paper", "a4"}, []string{"--paper is for the files", "--out"}},
		{[]string{"--formats", "text,pdf"}, []string{"there is no folder to write into", "write --out and the folder"}},
		{[]string{"--layouts="}, []string{"--layouts is empty"}},
		{[]string{"--out="}, []string{"--out is empty"}},
		{[]string{"--out", "x", "--paper", "a5"}, []string{`unknown paper "a5"`}},
		{[]string{"--formats", "svg"}, []string{"the list cannot be written as svg", "text, pdf, html, csv, json"}},
		{[]string{"--effort", "heroic"}, []string{`unknown effort "heroic"`}},
		{[]string{"--budget", "lots"}, []string{`--budget: cannot read "lots" as a price`}},
		{[]string{"--usable", "navy dott=41"}, []string{`there is no fabric "navy dott"`, `did you mean "navy dot"`}},
		{[]string{"--usable", "wide"}, []string{`"wide"`}},
		{[]string{"--shrinks", "4"}, []string{`"4" has no percent sign`}},
		{[]string{"--fat-quarter", "18"}, []string{`cannot read "18" as a size`}},
		{[]string{"second.yaml"}, []string{"shop takes one plan, not 2"}},
	} {
		refused(t, invoke(t, append([]string{"shop", "plan.yaml"}, c.args...)...), c.want...)
	}
	assert.Equal(t, []string{"plan.yaml"}, names(t, dir))
}

// The demo's list: every fabric with its answer, why, and what else there is, at
// a phone's width.
func TestShopDemo(t *testing.T) {
	if testing.Short() {
		t.Skip("the demo takes seconds under the race detector")
	}
	s := invoke(t, "shop", "--effort", "quick")
	require.Equal(t, exitDone, s.code, s.errors)
	for _, fabric := range []string{"night water", "sailcloth", "signal flags", "lamp glow"} {
		assert.Contains(t, s.out, "\n"+fabric+"\n[ ] ")
	}
	assert.GreaterOrEqual(t, strings.Count(s.out, "\n  cheaper: "), 4)
	assert.GreaterOrEqual(t, strings.Count(s.out, "\n  safer: "), 4)
	assert.GreaterOrEqual(t, strings.Count(s.out, "\n  holds down to "), 4)
	for line := range strings.Lines(s.out) {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 47, line)
	}
}

func TestShopOfListsOfFabrics(t *testing.T) {
	text := strings.NewReplacer("ground: navy dot", "ground: [navy dot, sail white]", "cutting:", "  sail white: {bolt: {width: 44, usable: 40}, buy: [{yard: 7, step: 1/8 yd}, {yard: 6, step: 1 yd}]}\ncutting:").Replace(counterPlan)
	s := invoke(t, "shop", write(t, t.TempDir(), "plan.yaml", text), "--effort", "quick")
	require.Equal(t, exitDone, s.code, s.errors)
	// All of it from the cheaper fabric: 3/8 yd at 7.00 rather than a yard at 6.00.
	assert.Contains(t, s.out, "[ ] 3/8 yd                               $2.63\n")
	assert.Contains(t, s.out, "at\n    $7.00 a yard\n")
	assert.Contains(t, s.out, "Which fabric for what\n  1 star, centre (ground): 48 pieces of sail\n    white\n")
	assert.Contains(t, s.out, "hold for this division")
}
