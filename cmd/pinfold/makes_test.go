package main

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sandStash is the small plan with a stash that holds 6 x 8 in: 8 pieces.
var sandStash = map[string]string{"STASH": "stash: [{fabric: sand, size: 6 x 8, squared: yes}]\ncutting: {spare: 0%}"}

func TestMakesOnTheScreen(t *testing.T) {
	t.Chdir(t.TempDir())
	plan := smallPlan(t, sandStash)
	s := invoke(t, "makes", plan)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "The stash alone makes 1 of the 1 ornament on the list.")
	assert.Contains(t, s.out, "That is the whole list.")
	assert.Contains(t, s.out, "2  gull in sand")
	assert.Contains(t, s.out, "one more: sand runs out, short of 4 of 12 pieces of 2 x 3 in")
	assert.Empty(t, names(t, "."), "nothing is written unless it is asked for")

	s = invoke(t, "makes", plan, "--csv")
	rows, err := csv.NewReader(strings.NewReader(s.out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 2)
	assert.Equal(t, []string{"gull", "ground: sand", "1", "1", "2", "2"}, rows[1][:6])

	s = invoke(t, "makes", plan, "--json")
	var doc struct {
		Schema string
		Lines  []struct {
			Alone struct {
				Found  int
				Proved bool
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(s.out), &doc))
	assert.Equal(t, "pinfold/makes/1", doc.Schema)
	assert.Equal(t, 2, doc.Lines[0].Alone.Found)
	assert.True(t, doc.Lines[0].Alone.Proved)
}

func TestMakesWritesLayouts(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "from-stash")
	s := invoke(t, "makes", smallPlan(t, sandStash), "--layouts", dir)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "in the folder "+dir)
	assert.Equal(t, []string{"cutting-plan.html", "cutting-plan.pdf", "layout-001.svg", "makes.csv", "makes.json", "pieces.csv", "result.json"}, names(t, dir))
	text, err := os.ReadFile(filepath.Join(dir, "result.json"))
	require.NoError(t, err)
	r := complete(t, text)
	assert.Empty(t, r.Shopping)

	dir = filepath.Join(t.TempDir(), "csv")
	s = invoke(t, "makes", smallPlan(t, sandStash), "--layouts", dir, "--formats", "csv")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Empty(t, s.out)
	assert.Equal(t, []string{"makes.csv", "pieces.csv"}, names(t, dir))
}

// Nothing at hand is an answer, but nothing to lay out.
func TestMakesOfNothing(t *testing.T) {
	plan := smallPlan(t, nil)
	s := invoke(t, "makes", plan)
	assert.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "The stash alone makes 0 of the 1 ornament on the list")
	assert.Contains(t, s.out, "not even one: there is no sand")

	dir := filepath.Join(t.TempDir(), "out")
	s = invoke(t, "makes", plan, "--layouts", dir)
	assert.Equal(t, exitShort, s.code)
	assert.Contains(t, s.errors, "nothing to lay out")
	assert.NoDirExists(t, dir)
}

func TestMakesRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"makes", "--formats", "pdf"}, "write --layouts and the folder"},
		{[]string{"makes", "--paper", "a4"}, "write --layouts and a folder"},
		{[]string{"makes", "--layouts="}, "--layouts is empty"},
		{[]string{"makes", "--json", "--csv"}, "write one of them"},
		{[]string{"makes", "--effort", "heroic"}, `unknown effort "heroic"`},
		{[]string{"makes", "--layouts", "x", "--formats", "docx"}, `unknown format "docx"`},
		{[]string{"makes", "--in-proportions"}, "did you mean --in-proportion"},
		{[]string{"makes", "a.yaml", "b.yaml"}, "makes takes one plan, not 2"},
	} {
		t.Chdir(t.TempDir())
		refused(t, invoke(t, c.args...), c.want)
		assert.Empty(t, names(t, "."))
	}
}

func TestMakesInterrupted(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	s := invokeContext(ctx, "makes", "--effort", "thorough")
	assert.Equal(t, exitInterrupted, s.code, s.errors)
	assert.Contains(t, s.out, "stopped early")
}

// The demo by proportions, twice: the same bytes.
func TestMakesOfTheDemoByProportions(t *testing.T) {
	if testing.Short() {
		t.Skip("a second, and many under the race detector")
	}
	first := invoke(t, "makes", "--effort", "quick", "--in-proportion")
	require.Equal(t, exitDone, first.code, first.errors)
	assert.Contains(t, first.out, "of the 60 ornaments on the list, in the list's proportions, with 5% spare pieces.")
	assert.Equal(t, first, invoke(t, "makes", "--effort", "quick", "--in-proportion"))
}
