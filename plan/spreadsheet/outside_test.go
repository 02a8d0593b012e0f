package spreadsheet

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// reader reads a workbook by the standard (ECMA-376 part 1, 18.3 and 18.4) with
// nothing but a zip and an XML parser.
const reader = `
import json, re, sys, zipfile
import xml.etree.ElementTree as E
z = zipfile.ZipFile(sys.argv[1])
assert z.testzip() is None
m = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
for n in z.namelist():
    if n.endswith((".xml", ".rels")): E.fromstring(z.read(n))
decode = lambda s: re.sub("_x([0-9A-Fa-f]{4})_", lambda k: chr(int(k[1], 16)), s)
strings = [decode("".join(t.text or "" for t in s.iter(m + "t"))) for s in E.fromstring(z.read("xl/sharedStrings.xml"))]
sheet = E.fromstring(z.read("xl/worksheets/sheet1.xml"))
rows = []
for row in sheet.iter(m + "row"):
    cells = {}
    for c in row.iter(m + "c"):
        v = c.find(m + "v")
        if v is None: continue
        cells[re.match("[A-Z]+", c.get("r"))[0]] = strings[int(v.text)] if c.get("t") == "s" else int(v.text)
    rows.append(cells)
pane = sheet.find(".//" + m + "pane")
print(json.dumps({
    "name": [s.get("name") for s in E.fromstring(z.read("xl/workbook.xml")).iter(m + "sheet")],
    "rows": rows, "formulas": len(list(sheet.iter(m + "f"))),
    "frozen": [pane.get("state"), pane.get("ySplit")],
    "widths": [float(c.get("width")) for c in sheet.iter(m + "col") for _ in range(int(c.get("min")), min(int(c.get("max")), 10) + 1)],
}))
`

func TestReadByAnotherReader(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3 is missing")
		}
		t.Skip("python3 is missing")
	}
	table, err := plan.ReadStash("stash.csv", []byte("id,fabric,size,count,bad areas,squared,where,note,shape\n"+
		"N1,navy dot,4 1/2 x 11,3,,yes,blue tin,,\n"+
		"N2,=1+1,6 x 9,1,2 x 2 at top right,,,' @x,\n"+
		"N3,\"+a, b & c<d>\",,10000,,,-1,_x0041_ é☂,\"bottom 9, top 8, left height 12, right height 11\"\n"), units.Inches)
	require.NoError(t, err)
	data, err := Write("bin.xlsx", table.Pieces, units.Inches)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "bin.xlsx")
	require.NoError(t, os.WriteFile(file, data, 0o644))
	out, err := exec.Command(python, "-c", reader, file).CombinedOutput()
	require.NoError(t, err, "%s", out)
	var got struct {
		Name, Frozen []string
		Rows         []map[string]any
		Formulas     int
		Widths       []float64
	}
	require.NoError(t, json.Unmarshal(out, &got), "%s", out)
	assert.Equal(t, []string{"Bin"}, got.Name)
	assert.Equal(t, []string{"frozen", "1"}, got.Frozen)
	assert.Zero(t, got.Formulas)
	assert.Equal(t, []map[string]any{
		{"A": "id", "B": "fabric", "C": "size", "D": "count", "E": "shape", "F": "bad areas", "G": "squared", "H": "where", "I": "note", "J": "unit"},
		{"A": "N1", "B": "navy dot", "C": "4 1/2 x 11 in", "D": 3.0, "G": "yes", "H": "blue tin", "J": "in"},
		{"A": "N2", "B": "=1+1", "C": "6 x 9 in", "D": 1.0, "F": "2 x 2 at top right", "G": "no", "I": "' @x", "J": "in"},
		{"A": "N3", "B": "+a, b & c<d>", "D": 10000.0, "E": "bottom 9, top 8, left height 12, right height 11", "G": "no", "H": "-1", "I": "_x0041_ é☂", "J": "in"},
	}, got.Rows)
	require.Len(t, got.Widths, 10)
	for _, w := range got.Widths {
		assert.True(t, 7 <= w && w <= 48, "%v", got.Widths)
	}
	assert.Equal(t, 48.0, got.Widths[4], "as wide as what is in it, and no wider than a screen bears")
}
