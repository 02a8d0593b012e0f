package reports

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// stashMakes is an answer made by hand: proved and bounded numbers, cloth there is
// none of, a role with two fabrics.
func stashMakes(t *testing.T) *plan.Makes {
	t.Helper()
	in := units.Inch
	size := func(along, across units.Length) units.Size { return units.Size{Along: along, Across: across} }
	fill := func(role, fabric string, or ...string) plan.Filling {
		f := plan.Filling{Role: role, Fabric: fabric}
		for _, o := range or {
			f.Or = append(f.Or, plan.Named{Name: o})
		}
		return f
	}
	short := func(fabric, by string, missing ...plan.MissingPiece) plan.RunOut {
		return plan.RunOut{Fabric: fabric, ProvedBy: by, Missing: missing}
	}
	wing := plan.MissingPiece{ID: "B", Size: size(2*in, 3*in), Count: 3, Of: 1240}
	tail := plan.MissingPiece{ID: "C", Size: size(2*in, 5*in/2), Count: 1, Of: 1}
	r := fair(t)
	return &plan.Makes{
		Plan: &plan.Plan{Title: "Herring fair", Unit: units.Inches, Cutting: plan.Cutting{Spare: 2_50}},
		Mix:  plan.Most{Found: 7, AtMost: 9},
		Lines: []plan.MakesLine{
			{
				Order: plan.Order{Ornament: "gull", Count: 8, Colourway: []plan.Filling{fill("wing", "sand"), fill("tail", "sand"), fill("beak", "tar")}},
				Alone: plan.Most{Found: 6, AtMost: 6}, Out: []plan.RunOut{short("sand", "area", wing, tail)},
				Mixed: 4, Next: []plan.RunOut{short("sand", "", tail), short("tar", "column generation", wing)},
			},
			{
				Order: plan.Order{Ornament: "=float", Count: 3, Colourway: []plan.Filling{fill("ground", "sand", "slate")}},
				Alone: plan.Most{Found: 11, AtMost: 13}, Out: []plan.RunOut{short("slate", "", wing)}, Mixed: 3,
			},
			{
				Order: plan.Order{Ornament: "bell", Count: 1, Colourway: []plan.Filling{fill("ground", "brass leaf")}},
				Alone: plan.Most{}, Out: []plan.RunOut{{Fabric: "brass leaf", None: true, ProvedBy: "a piece larger than every sheet", Missing: []plan.MissingPiece{tail}}},
				Next: []plan.RunOut{{Fabric: "brass leaf", None: true, ProvedBy: "a piece larger than every sheet", Missing: []plan.MissingPiece{tail}}},
			},
		},
		Result: r,
	}
}

func TestMakesGoldens(t *testing.T) {
	rep := NewMakes(stashMakes(t))
	for name, write := range map[string]func(io.Writer) error{
		"makes.txt": rep.WriteText, "makes.csv": rep.WriteCSV, "makes.json": rep.WriteJSON,
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		golden(t, name, b.Bytes())
	}
}

func TestMakesText(t *testing.T) {
	m := stashMakes(t)
	m.InProportion, m.Stopped, m.Out = true, true, m.Lines[0].Out
	var b bytes.Buffer
	require.NoError(t, NewMakes(m).WriteText(&b))
	for _, want := range []string{
		"The stash alone makes 7 of the 12 ornaments on the list, in the list's proportions, with 2.5% spare pieces.",
		"One more in proportion: sand runs out, short of 3 of 1,240 pieces of 2 x 3 in and of 1 other size.", "stopped early",
	} {
		assert.Contains(t, b.String(), want)
	}
	for line := range strings.Lines(b.String()) {
		assert.Equal(t, strings.TrimRight(line, " \n"), strings.TrimSuffix(line, "\n"), "no blanks at the end")
	}

	m = stashMakes(t)
	m.Mix = plan.Most{Found: 12, AtMost: 12}
	assert.Equal(t, "That is the whole list.", NewMakes(m).Standing)
	m.Mix = plan.Most{Found: 11, AtMost: 11}
	assert.Equal(t, "Proved: no other mix is larger.", NewMakes(m).Standing)
}

func TestMakesTablesAreWhole(t *testing.T) {
	rep := NewMakes(stashMakes(t))
	var b bytes.Buffer
	require.NoError(t, rep.WriteCSV(&b))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 4)
	assert.Equal(t, "'=float", rows[2][0])

	b.Reset()
	require.NoError(t, rep.WriteJSON(&b))
	var doc struct {
		Schema, Hash string
		Mix          struct {
			Found  int
			AtMost int `json:"at_most"`
			Proved bool
		}
		Lines []struct {
			Colourway []struct{ Fabrics []string }
		}
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, "pinfold/makes/1", doc.Schema)
	assert.Equal(t, 9, doc.Mix.AtMost)
	assert.False(t, doc.Mix.Proved)
	assert.Equal(t, []string{"sand", "slate"}, doc.Lines[1].Colourway[0].Fabrics)
	at := bytes.Index(b.Bytes(), []byte("  \"hash\""))
	assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(b.Bytes()[:at])), doc.Hash)
}

func TestMakesWritesTheLayoutsBesideTheAnswer(t *testing.T) {
	m := stashMakes(t)
	dir := filepath.Join(t.TempDir(), "out")
	paths, err := NewMakes(m).Write(dir, []Format{CSV, JSON, SVG}, Letter)
	require.NoError(t, err)
	for _, name := range []string{"pieces.csv", "result.json", "layout-001.svg", "makes.csv", "makes.json"} {
		assert.Contains(t, paths, filepath.Join(dir, name))
		info, err := os.Stat(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Positive(t, info.Size())
	}

	m.Result = nil
	_, err = NewMakes(m).Write(dir, []Format{CSV}, Letter)
	assert.ErrorContains(t, err, "nothing to lay out")
}
