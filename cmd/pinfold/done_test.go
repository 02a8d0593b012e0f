package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// planned is a folder with a first plan whose offcuts are trimmed, cut on paper.
func planned(t *testing.T, keep string) string {
	t.Helper()
	dir := t.TempDir()
	t.Chdir(dir)
	require.Equal(t, exitDone, invoke(t, "new", ".").code)
	text, err := os.ReadFile("plan.yaml")
	require.NoError(t, err)
	write(t, dir, "plan.yaml", strings.Replace(string(text), "\ncutting:\n", "\ncutting:\n  keep sizes: "+keep+"\n", 1))
	s := invoke(t, "layout", "plan.yaml", "--effort", "quick", "--formats", "json")
	require.Equal(t, exitDone, s.code, s.errors)
	return dir
}

func TestDone(t *testing.T) {
	dir := planned(t, "[]")
	before := stashOf(t, dir)
	s := invoke(t, "done", "cutting-plan")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Regexp(t, `^My first plan: booked sheets 1, 2, 3, 4, 5 in stash.csv\n`, s.out)
	assert.Regexp(t, `  took  1 +blue plain +17 1/2 x 20 in +x1\n`, s.out)
	assert.Contains(t, s.out, `"pinfold stash undo" takes it back`)
	after := stashOf(t, dir)
	assert.NotContains(t, after, "\n1,blue plain")
	assert.Contains(t, after, ",yes,,\"offcut of ")

	s = invoke(t, "done", filepath.Join("cutting-plan", "result.json"), "--plan", "plan.yaml")
	assert.Equal(t, said{out: "My first plan: this was booked before, so nothing is changed\n"}, s)
	assert.Equal(t, after, stashOf(t, dir))
	refused(t, invoke(t, "done", "cutting-plan", "--again"), `stash.csv: piece "1", from which sheet `, ` is cut, is gone: `, "stash.csv: nothing is changed")
	assert.Equal(t, after, stashOf(t, dir))

	require.Equal(t, exitDone, invoke(t, "stash", "undo").code)
	assert.Equal(t, before, stashOf(t, dir))
	_, err := plan.Read("plan.yaml")
	assert.NoError(t, err)
}

func TestDoneSheetBySheet(t *testing.T) {
	whole := planned(t, "[]")
	require.Equal(t, exitDone, invoke(t, "done", "cutting-plan").code)
	want, err := plan.ReadStash("stash.csv", []byte(stashOf(t, whole)), units.Inches)
	require.NoError(t, err)

	dir := planned(t, "[]")
	for _, sheets := range []string{"1", "1", "2-3", "1,2, 3-4", "2"} {
		s := invoke(t, "done", "cutting-plan", "--sheets", sheets)
		require.Equal(t, exitDone, s.code, s.errors)
	}
	s := invoke(t, "done", "cutting-plan")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "booked sheet 5 in")
	got, err := plan.ReadStash("stash.csv", []byte(stashOf(t, dir)), units.Inches)
	require.NoError(t, err)
	require.Len(t, got.Pieces, len(want.Pieces))
	for i := range want.Pieces {
		want.Pieces[i].At, got.Pieces[i].At = plan.Pos{}, plan.Pos{}
	}
	assert.Equal(t, want.Pieces, got.Pieces, "in parts or at once")
}

func TestDoneLeavesBoughtClothUncut(t *testing.T) {
	dir := planned(t, "[]")
	s := invoke(t, "done", "cutting-plan", "--sheets", "2", "--over")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, stashOf(t, dir), ",1,,no,,\"not cut: bought fat quarter, sheet ")
	s = invoke(t, "done", "cutting-plan", "--sheets", "2", "--over")
	assert.Contains(t, s.out, "booked before")
}

func TestDoneTrimsToTheSizesKept(t *testing.T) {
	dir := planned(t, "[2 1/2, 1 1/2, 1]")
	s := invoke(t, "done", "cutting-plan")
	require.Equal(t, exitDone, s.code, s.errors)
	table, err := plan.ReadStash("stash.csv", []byte(stashOf(t, dir)), units.Inches)
	require.NoError(t, err)
	strips := 0
	for _, p := range table.Pieces {
		if !strings.HasPrefix(p.Note, "offcut of") {
			continue
		}
		short := min(p.Size.Along, p.Size.Across)
		assert.Contains(t, []units.Length{5 * units.Inch / 2, 3 * units.Inch / 2, units.Inch}, short, p.ID)
		assert.True(t, p.Squared)
		strips++
	}
	assert.Positive(t, strips)
}

func TestDoneRefusals(t *testing.T) {
	dir := planned(t, "[]")
	result := filepath.Join("cutting-plan", "result.json")
	text, err := os.ReadFile(result)
	require.NoError(t, err)
	before := stashOf(t, dir)
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{}, []string{"done takes one result, not nothing", "pinfold done cutting-plan"}},
		{[]string{"a", "b"}, []string{`done takes one result, not ["a" "b"]`}},
		{[]string{"nowhere"}, []string{`cannot read the result "nowhere": no such file`, "name the folder of a cutting plan"}},
		{[]string{"."}, []string{`cannot read the result "result.json"`}},
		{[]string{"plan.yaml"}, []string{"plan.yaml:1:1: this is no result: name the folder of a cutting plan, or the result.json in it"}},
		{[]string{"cutting-plan", "--sheets", ""}, []string{`--sheets: cannot read ""`, "write numbers of sheets with commas between"}},
		{[]string{"cutting-plan", "--sheets", "1,two"}, []string{`--sheets: cannot read "two"`}},
		{[]string{"cutting-plan", "--sheets", "9"}, []string{"--sheets: there is no sheet 9", "the result has the sheets 1 to 5"}},
		{[]string{"cutting-plan", "--sheets", "1-99999999999"}, []string{"cannot read"}},
		{[]string{"cutting-plan", "--sheets", "3-1"}, []string{`"3-1" runs backwards`, "write 1-3"}},
		{[]string{"cutting-plan", "--sheets", "1,1-2"}, []string{"sheet 1 stands twice"}},
		{[]string{"cutting-plan", "--sheets", "1x7"}, []string{"of sheet 1 there are 1 copies, not 7"}},
		{[]string{"cutting-plan", "--sheets", "1x0"}, []string{`cannot read "1x0"`}},
		{[]string{"cutting-plan", "--stash", "other.csv"}, []string{"other.csv: no such file", "other.csv: nothing is changed"}},
		{[]string{"cutting-plan", "--plan", "other.yaml"}, []string{"other.yaml: no such file"}},
	} {
		refused(t, invoke(t, append([]string{"done"}, c.args...)...), c.want...)
	}
	write(t, "cutting-plan", "result.json", strings.Replace(string(text), `"copies":1`, `"copies":2`, 1))
	refused(t, invoke(t, "done", "cutting-plan"), result+":", "the file was changed after it was written: have pinfold layout write it again")
	write(t, "cutting-plan", "result.json", string(text))

	write(t, dir, "stash.csv", strings.Replace(before, "17 1/2 x 20", "17 x 20", 1))
	refused(t, invoke(t, "done", "cutting-plan"), `stash.csv:2:1: piece "1" is 17 x 20 in, sheet `, ` is cut from 17 1/2 x 20 in`, "nothing is changed")
	write(t, dir, "stash.csv", "fabric,size\nblue plain,9\n")
	refused(t, invoke(t, "done", "cutting-plan"), "stash.csv:2:12: size: cannot read")
	assert.NotContains(t, names(t, dir), "stash.csv.history")
}
