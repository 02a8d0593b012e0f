package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"pinfold/units"
)

// write puts a file into dir and returns its path.
func write(t *testing.T, dir, name, content string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, []byte(content), 0o644))
	return path
}

func TestReadWhatIsNoPlan(t *testing.T) {
	dir := t.TempDir()
	huge := write(t, dir, "huge.yaml", strings.Repeat("# sand\n", maxPlanBytes/7+1))
	for path, want := range map[string]string{
		dir:                                dir + ": is a folder: write the plan file in it, such as " + filepath.Join(dir, "plan.yaml"),
		filepath.Join(dir, "none.yaml"):    filepath.Join(dir, "none.yaml") + ": no such file: write the path of a plan file",
		huge:                               huge + ": is too large: the most is 1024 KiB",
		write(t, dir, "stash.csv", "id\n"): filepath.Join(dir, "stash.csv") + ": is a table, not a plan: write the path of the plan file, which names its stash",
		write(t, dir, "empty.yaml", ""):    filepath.Join(dir, "empty.yaml") + ":1:1: the file is empty: write a plan with the keys ornaments, make and fabrics",
		write(t, dir, "a.pdf", "%PDF\x0b"): filepath.Join(dir, "a.pdf") + ":1:5: character U+000B is no text: write it as plain text",
	} {
		p, err := Read(path)
		assert.Nil(t, p)
		require.Error(t, err)
		assert.IsType(t, Errors{}, err)
		assert.Equal(t, want, err.Error())
	}
	_, err := ReadFS(os.DirFS(dir), ".")
	assert.EqualError(t, err, ".: is a folder: write the plan file in it, such as plan.yaml")
	_, err = Parse("big", make([]byte, maxPlanBytes+1), nil)
	assert.EqualError(t, err, "big: is too large: the most is 1024 KiB")
}

func TestReadPermission(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may read everything")
	}
	path := write(t, t.TempDir(), "plan.yaml", base)
	require.NoError(t, os.Chmod(path, 0))
	_, err := Read(path)
	assert.EqualError(t, err, path+": may not be read: change its permissions")
}

// The stash is looked for beside the plan, wherever the program runs, and never
// outside the plan's folder, not even through a link.
func TestStashBesideThePlan(t *testing.T) {
	dir := t.TempDir()
	const rows = "fabric,size\nnavy dot,9 x 14\n"
	outside := write(t, dir, "outside.csv", rows)
	write(t, dir, "fair/stash.csv", rows)
	write(t, dir, "fair/tins/blue.csv", rows)
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "fair", "drawer"), 0o755))
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, "fair", "link.csv")))
	write(t, dir, "fair/large.csv", strings.Repeat(rows, maxStashBytes/len(rows)+1))

	read := func(stash string) error {
		_, err := Read(write(t, dir, "fair/plan.yaml", "stash: "+stash+"\n"+base))
		return err
	}
	assert.NoError(t, read("stash.csv"))
	assert.NoError(t, read("tins/blue.csv"))
	plan := filepath.Join(dir, "fair", "plan.yaml")
	const hint = ": write the name of a CSV file in the plan's folder, or list the pieces in place"
	for stash, want := range map[string]string{
		"none.csv":       `stash "none.csv": no such file` + hint,
		"drawer":         `stash "drawer": is a folder` + hint,
		"link.csv":       `stash "link.csv": cannot be read: path escapes from parent` + hint,
		"large.csv":      `stash "large.csv": is too large: the most is 4096 KiB`,
		"../outside.csv": `stash "../outside.csv" leaves the plan's folder: write a name like stash.csv, in the plan's folder or below`,
		outside:          `stash "` + outside + `" leaves the plan's folder: write a name like stash.csv, in the plan's folder or below`,
		".":              `stash "." leaves the plan's folder: write a name like stash.csv, in the plan's folder or below`,
	} {
		assert.EqualError(t, read(stash), plan+":1:8: "+want)
	}
}

func TestReadFS(t *testing.T) {
	fsys := fstest.MapFS{
		"demo/plan.yaml": {Data: []byte("stash: stash.csv\n" + base)},
		"demo/stash.csv": {Data: []byte("fabric,size\nnavy dot,9 x 14\n")},
		"bare/plan.yaml": {Data: []byte("stash: stash.csv\n" + base)},
	}
	p, err := ReadFS(fsys, "demo/plan.yaml")
	require.NoError(t, err)
	assert.Len(t, p.Stash, 1)
	assert.Equal(t, "demo/stash.csv", p.Stash[0].At.File)
	_, err = ReadFS(fsys, "bare/plan.yaml")
	assert.EqualError(t, err, `bare/plan.yaml:1:8: stash "stash.csv": no such file: write the name of a CSV file in the plan's folder, or list the pieces in place`)
	_, err = ReadFS(fsys, "plan.yaml")
	assert.EqualError(t, err, "plan.yaml: no such file: write the path of a plan file")
}

// Line ends and a byte order mark change nothing, not even the columns.
func TestLineEnds(t *testing.T) {
	want, err := Parse("plan.yaml", []byte(base), nil)
	require.NoError(t, err)
	for name, text := range map[string]string{
		"CRLF":         strings.ReplaceAll(base, "\n", "\r\n"),
		"BOM":          "\ufeff" + base,
		"BOM and CRLF": "\ufeff" + strings.ReplaceAll(base, "\n", "\r\n"),
		"document":     "---\n" + base + "...\n",
	} {
		got, err := Parse("plan.yaml", []byte(text), nil)
		require.NoError(t, err, name)
		if name != "document" {
			assert.Equal(t, want, got, name)
		}
	}
	_, err = Parse("plan.yaml", []byte("\ufefftitel: é\r\n"+strings.ReplaceAll(strings.Replace(base, "10,", "é,", 1), "\n", "\r\n")), nil)
	assert.EqualError(t, err, `plan.yaml:1:1: unknown key "titel" in the plan: did you mean "title"?`+"\n"+
		`plan.yaml:6:44: count: "é" is not a whole number: write one from 1 to 1000000`)
}

func TestDefaults(t *testing.T) {
	in, cm := units.Inch, units.Centimetre
	p, err := Parse("fair/lanterns.yaml", []byte(strings.Replace(base, "{width: 44, usable: 42}", "{width: 44}", 1)), nil)
	require.NoError(t, err)
	assert.Equal(t, "lanterns", p.Title)
	assert.Equal(t, Cutting{Squaring: in / 4, Keep: units.Size{Along: 2 * in, Across: 3 * in}, Ruler: 24 * in, Layers: 4, Pace: 20}, p.Cutting)
	assert.Equal(t, in, p.Ornaments[0].Band.Overlap)
	assert.Equal(t, p.Ornaments[0].Band.Width, p.Ornaments[0].Band.Shows)
	assert.Equal(t, 40*in, p.Fabrics[0].Usable)
	assert.Equal(t, units.Size{Along: 18 * in, Across: 20 * in}, p.Fabrics[0].Buy[0].Size)
	assert.Equal(t, []string{`fabric "navy dot": usable width not given, 40 in is assumed; measure it between the selvages`}, p.Notes)

	metric := strings.NewReplacer("{width: 44, usable: 42}", "{width: 112}", "3 in", "8", "2 x 2", "5 x 5", "width: 2,", "width: 4,5,").Replace("unit: cm\n" + base)
	metric = strings.Replace(metric, "width: 4,5,", "width: 4.5,", 1)
	p, err = Parse("plan.yaml", []byte(metric), nil)
	require.NoError(t, err)
	assert.Equal(t, Cutting{Squaring: cm / 2, Keep: units.Size{Along: 5 * cm, Across: 8 * cm}, Ruler: 60 * cm, Layers: 4, Pace: 20}, p.Cutting)
	assert.Equal(t, 5*cm/2, p.Ornaments[0].Band.Overlap)
	assert.Equal(t, 102*cm, p.Fabrics[0].Usable)
	assert.Equal(t, units.Size{Along: 18 * in, Across: 51 * cm}, p.Fabrics[0].Buy[0].Size)

	p, err = Parse("plan.yaml", []byte(strings.Replace(base, "{width: 44, usable: 42}", "", 1)), nil)
	require.NoError(t, err)
	assert.Zero(t, p.Fabrics[0].Bolt)
	assert.Equal(t, 40*in, p.Fabrics[0].Usable)

	// However wide the bolt, a fat quarter is at most 22 in across.
	p, err = Parse("plan.yaml", []byte(strings.Replace(base, "{width: 44, usable: 42}", "{width: 60, usable: 58}", 1)), nil)
	require.NoError(t, err)
	assert.Equal(t, units.Size{Along: 18 * in, Across: 22 * in}, p.Fabrics[0].Buy[0].Size)
}

// Needs are rounded up and stock down where a number is not exact.
func TestRoundingDirections(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(strings.NewReplacer("2 x 2", "2.3 x 2.3", "usable: 42", "usable: 42.3").Replace(base)), nil)
	require.NoError(t, err)
	assert.Equal(t, 2*units.Inch+20*units.Inch64, p.Ornaments[0].Pieces[0].Size.Along)
	assert.Equal(t, 42*units.Inch+19*units.Inch64, p.Fabrics[0].Usable)
}

// Any text without control characters can be a name and comes through whole, but for
// blanks around it and the way its accents are written.
func TestNames(t *testing.T) {
	nasty := []string{
		"Hafenfest – Laternen", "港の祭り", "فانوس", "🏮⚓", `"quoted" 'too'`, "<b>&amp;</b>", "two\nlines", "tab\there",
		"true", "null", "12", "- x", "{a: b}", "#1", "a: b", "@", "*", "100%", strings.Repeat("é", maxName),
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.SampledFrom(nasty), rapid.StringN(1, 30, -1)).Draw(t, "name")
		doc := map[string]any{
			"title":     name,
			"ornaments": map[string]any{name: map[string]any{"ball": 3, "pieces": []any{map[string]any{"name": name, "size": "2 x 2", "count": 1, "role": name}}}},
			"make":      []any{map[string]any{"ornament": name, "count": 1, "colourway": map[string]any{name: name}}},
			"fabrics":   map[string]any{name: map[string]any{"bolt": map[string]any{"width": 44}, "buy": []any{"yard"}}},
		}
		text, err := yaml.Dump(doc)
		require.NoError(t, err)
		p, err := Parse("plan.yaml", text, nil)
		if err != nil {
			// What YAML or a name cannot hold is said, on one line each.
			for _, f := range err.(Errors) {
				assert.Regexp(t, "empty name|control character|is no text|<<", f.Msg)
				assert.NotContains(t, f.String(), "\n")
			}
			return
		}
		name = Name(name)
		assert.Equal(t, name, p.Title)
		assert.Equal(t, name, p.Ornaments[0].Name)
		assert.Equal(t, name, p.Ornaments[0].Pieces[0].Roles[0].Role)
		assert.Equal(t, Filling{At: p.Make[0].Colourway[0].At, Role: name, Fabric: name}, p.Make[0].Colourway[0])
		assert.NotNil(t, p.Fabric(name))
	})
	for _, name := range nasty {
		p, err := Parse("plan.yaml", fmt.Appendf(nil, "title: %q\n%s", name, base), nil)
		require.NoError(t, err, name)
		assert.Equal(t, name, p.Title)
	}
	_, err := Parse("plan.yaml", fmt.Appendf(nil, "title: %s\n%s", strings.Repeat("é", maxName+1), base), nil)
	assert.EqualError(t, err, "plan.yaml:1:8: title has a name of 201 characters: write at most 200 characters")
}

// The plan of one piece, the piece that is exactly the sheet, and the plan of
// ten thousand copies.
func TestEdges(t *testing.T) {
	one := `ornaments: {o: {ball: 1, pieces: [{name: p, size: 18 x 21, count: 1, role: g}]}}
make: [{ornament: o, count: 1, colourway: {g: f}}]
fabrics: {f: {direction: one-way, bolt: {width: 44, usable: 42}, buy: [fat quarter]}}
cutting: {squaring: 0}
`
	p, err := Parse("plan.yaml", []byte(one), nil)
	require.NoError(t, err)
	g, err := Gather(p)
	require.NoError(t, err)
	assert.Equal(t, 1, g.Pieces)
	p, err = Parse("plan.yaml", []byte(strings.Replace(one, "count: 1, colourway", "count: 10000, colourway", 1)), nil)
	require.NoError(t, err)
	g, err = Gather(p)
	require.NoError(t, err)
	assert.Equal(t, 10000, g.Pieces)
	_, err = Parse("plan.yaml", []byte(strings.Replace(one, "18 x 21", "18 x 21.1", 1)), nil)
	assert.ErrorContains(t, err, "fits no cloth of fabric")
}

// Whatever the bytes, reading ends with a plan that can be gathered and stated,
// or with faults that lie in the file and are sorted.
func FuzzParse(f *testing.F) {
	f.Add(base, "fabric,size\nnavy dot,9 x 14\n")
	for _, file := range []string{"testdata/harbour.yaml", "testdata/published/S4.yaml"} {
		text, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(string(text), "")
	}
	f.Add("stash: s.csv\n"+base, "id,fabric,size,count,bad areas,squared\n1,navy dot,9 x 14,2,\"2 x 3 at 0, 4; 1 x 1 at top left\",yes\n")
	f.Add("stash: s.csv\n"+everyStock, "\ufefffabric;size\r\nnavy dot;9\"\r\n")
	for _, c := range faultyFiles {
		f.Add(c.text, "")
	}
	f.Fuzz(func(t *testing.T, text, csv string) {
		p, err := Parse("plan.yaml", []byte(text), func(name string) ([]byte, string, error) { return []byte(csv), name, nil })
		if err == nil {
			g, err := Gather(p)
			require.NoError(t, err)
			require.True(t, Recount(p, g).Equal())
			for _, need := range g.Fabrics {
				_, _, _, err := FabricProblem(p, need)
				require.NoError(t, err)
			}
			return
		}
		require.Nil(t, p)
		faults := err.(Errors)
		require.NotEmpty(t, faults)
		lines := map[bool]int{true: strings.Count(lineEnds.Replace(text), "\n") + 1, false: strings.Count(lineEnds.Replace(csv), "\n") + 1}
		for i, fault := range faults {
			require.True(t, utf8.ValidString(fault.String()))
			require.NotContains(t, fault.String(), "\n")
			inPlan := fault.File == "plan.yaml"
			require.LessOrEqual(t, fault.Line, lines[inPlan])
			if i > 0 && fault.File == faults[i-1].File {
				require.GreaterOrEqual(t, fault.Line, faults[i-1].Line)
			}
		}
	})
}
