package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func stashOf(t *testing.T, dir string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "stash.csv"))
	require.NoError(t, err)
	return string(text)
}

func TestStashIsListedByFabric(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, "stash.csv", "id,fabric,size,count,bad areas,squared,where,note\n"+
		"A,navy dot,9 x 14,2,,yes,blue tin,\n"+
		"B,sail white,10 x 10,1,1 x 1 at top left,,,\n"+
		"C,navy dot,1 x 2,1,1 x 1 at 0,y,,\n")
	refused(t, invoke(t, "stash"), "stash.csv:4:20: bad area")
	write(t, dir, "stash.csv", strings.Replace(stashOf(t, dir), "1 x 1 at 0,y", ",y", 1))
	s := invoke(t, "stash")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, "navy dot: 3 pieces, 254.0 sq in\n"+
		"  A  9 x 14 in  x2  squared  blue tin\n"+
		"  C  1 x 2 in   x1  squared\n"+
		"\n"+
		"sail white: 1 piece, 100.0 sq in\n"+
		"  B  10 x 10 in  x1  1 bad area\n"+
		"\n"+
		"in all 4 pieces of 2 fabrics, 354.0 sq in\n", s.out)
	s = invoke(t, "stash", "--unit", "cm")
	assert.Contains(t, s.out, "navy dot: 3 pieces, 254.0 sq cm\n", "bare numbers take the unit")
	assert.Empty(t, s.errors)
}

// Bare numbers are read as the plan beside the stash reads them.
func TestStashTakesThePlansUnit(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, "plan.yaml", "unit: cm\nstash: deep/stash.csv\n")
	s := invoke(t, "stash", "put", "navy dot: 20 x 30")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, stashOf(t, dir), "N1,navy dot,20 x 30 cm,1,")

	require.NoError(t, os.Mkdir("deep", 0o755))
	s = invoke(t, "stash", "put", "navy dot: 20 x 30, 2 in x 1", "--plan", "plan.yaml")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, stashOf(t, "deep"), "N1,navy dot,20 x 30 cm,1,,no,,\nN2,navy dot,5.08 x 2.54 cm,1,")

	s = invoke(t, "stash", "put", "navy dot: 2 x 3", "--unit", "in", "--plan", "plan.yaml")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, stashOf(t, "deep"), "N3,navy dot,2 x 3 in,1,")

	write(t, dir, "plan.yaml", "unit: [\n")
	refused(t, invoke(t, "stash"), "plan.yaml:2:1: this is not YAML")
}

func TestStashPutTakeUndo(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	s := invoke(t, "stash", "put", "navy dot: 5x7, 6 x 9 x3", "--note", "from the sails", "buoy red: 2 x 2", "--squared")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, "stash.csv: put in 5 pieces\n"+
		"  put  N1  navy dot  5 x 7 in  x1    from the sails\n"+
		"  put  N2  navy dot  6 x 9 in  x3    from the sails\n"+
		"  put  B1  buoy red  2 x 2 in  x1    from the sails\n", s.out)
	full := stashOf(t, dir)
	s = invoke(t, "stash", "take", "N2")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, "stash.csv: took out 1 piece\n  took  N2  navy dot  6 x 9 in  x1  2 left\n", s.out)
	s = invoke(t, "stash", "take", "N2", "all")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "took out 2 pieces")
	s = invoke(t, "stash", "put", "navy dott: 1 x 1")
	assert.Equal(t, exitDone, s.code)
	assert.Contains(t, s.errors, `pinfold: "navy dott" is a new fabric in this stash, beside "navy dot"`)
	for range 3 {
		s = invoke(t, "stash", "undo")
		require.Equal(t, exitDone, s.code, s.errors)
	}
	assert.Regexp(t, `^stash.csv: undid change 2, take, of 20\d\d-\d\d-\d\d \d\d:\d\d:\d\d UTC\n  put  N2  navy dot  6 x 9 in  x1\n$`, s.out)
	assert.Equal(t, full, stashOf(t, dir))
	s = invoke(t, "stash", "history")
	require.Equal(t, exitDone, s.code, s.errors)
	lines := strings.Split(strings.TrimSpace(s.out), "\n")
	require.Len(t, lines, 7)
	assert.Regexp(t, `^1  \S+ \S+ UTC  put +put in "N1" \(navy dot, 5 x 7 in\), "N2" \(navy dot, 6 x 9 in\) x3, "B1" \(buoy red, 2 x 2 in\)$`, lines[0])
	assert.Regexp(t, `take, undone +took out "N2"`, lines[1])
	assert.Regexp(t, `undo of 2`, lines[6])
	require.NoError(t, os.Remove("stash.csv.history"))
	assert.Contains(t, invoke(t, "stash", "history").out, "has no history")
	refused(t, invoke(t, "stash", "undo"), "stash.csv: there is nothing to undo")
}

func TestStashRefusals(t *testing.T) {
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{}, []string{"stash.csv: no such file", "pinfold stash put starts one"}},
		{[]string{"take", "N1"}, []string{"stash.csv: no such file"}},
		{[]string{"undo"}, []string{"stash.csv: no such file"}},
		{[]string{"tkae", "N1"}, []string{`stash cannot "tkae"`, "did you mean: pinfold stash take"}},
		{[]string{"embroider"}, []string{"write put, take, undo, history"}},
		{[]string{"put"}, []string{"stash put says not what", `pinfold stash put "navy dot: 5 x 7, 6 x 9 x3"`}},
		{[]string{"put", "navy dot"}, []string{`"navy dot" has no colon after the fabric`}},
		{[]string{"put", "navy dot: 5 x"}, []string{`pinfold: `}},
		{[]string{"put", "navy dot: 5 x 7 x 0"}, []string{`how many in "5 x 7 x 0": 0 is too few: write a whole number from 1`}},
		{[]string{"put", "navy dot: 5 x 7, 2 x 2", "--id", "A"}, []string{`--id "A" cannot be the id of 2 sizes`}},
		{[]string{"put", "navy dot: 5 x 7", "--id", " "}, []string{"--id is empty"}},
		{[]string{"take"}, []string{"stash take takes an id and a number"}},
		{[]string{"take", "N1", "some"}, []string{`cannot take "some" pieces`, "write a whole number, or all"}},
		{[]string{"take", "N1", "-2"}, []string{`cannot take "-2" pieces`}},
		{[]string{"take", "N1", "--where", "tin"}, []string{"--where is for cloth that is put in"}},
		{[]string{"undo", "3"}, []string{"stash undo takes nothing behind it"}},
		{[]string{"--unit", "ell"}, []string{`unknown unit "ell"`}},
		{[]string{"--stash", "a.csv", "--plan", "b.yaml"}, []string{"--stash and --plan both name a stash"}},
		{[]string{"--stash", ""}, []string{"a name is empty"}},
		{[]string{"--plan", "none.yaml"}, []string{"none.yaml: no such file: write the path of a plan file"}},
		{[]string{"--stash", "."}, []string{".: is no file"}},
		{[]string{"put", "navy dot: 5 x 7", "--stash", "/proc/stash.csv"}, []string{"/proc/stash.csv: cannot write into its folder"}},
	} {
		dir := t.TempDir()
		t.Chdir(dir)
		refused(t, invoke(t, append([]string{"stash"}, c.args...)...), c.want...)
		for _, n := range names(t, dir) {
			assert.Equal(t, ".stash.csv.lock", n, "%q left something behind", c.args)
		}
	}
}

// What a scrap lacks is said in the same line.
func TestStashPutsScrapsWithMissingCorners(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	s := invoke(t, "stash", "put", "navy dot: 5x7, 6x9 less 2x2 corner, 4 1/2 x 11 x3")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, "id,fabric,size,count,bad areas,squared,where,note\n"+
		"N1,navy dot,5 x 7 in,1,,no,,\n"+
		"N2,navy dot,6 x 9 in,1,missing 2 x 2 at top right,no,,\n"+
		"N3,navy dot,4 1/2 x 11 in,3,,no,,\n", stashOf(t, dir))
	assert.Contains(t, invoke(t, "stash").out, "N2  6 x 9 in       x1  1 bad area\n")
	refused(t, invoke(t, "stash", "put", "navy dot: 6 x 9 less 2 x 2 hole"), `"2 x 2 hole" does not say where`)

	// A stash without the column gets it.
	write(t, dir, "stash.csv", "fabric,size,price\nnavy dot,9 x 14,3\n")
	s = invoke(t, "stash", "put", "navy dot: 6 x 9 less 2 x 2 corner and 1 x 1 stain at 3 up 4 right x2")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, "fabric,size,price,id,bad areas,count\nnavy dot,9 x 14,3,stash 1\n"+
		"navy dot,6 x 9 in,,N4,\"missing 2 x 2 at top right; stain 1 x 1 at 3, 4\",2\n", stashOf(t, dir))
}

// A stash in place is part of a text that only its writer can change.
func TestStashInPlaceIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	file := write(t, dir, "plan.yaml", "unit: in\nstash:\n  - {fabric: navy dot, size: 9 x 14}\n")
	for _, args := range [][]string{{"stash"}, {"stash", "put", "navy dot: 2 x 2"}, {"stash", "undo"}} {
		refused(t, invoke(t, append(args, "--plan", file)...),
			file+":3:3: the stash is listed in the plan itself, where only you can change it: to have it kept, move the list into a file stash.csv")
	}
	assert.Equal(t, []string{"plan.yaml"}, names(t, dir))
}
