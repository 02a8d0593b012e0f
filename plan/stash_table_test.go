package plan

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// What a table says of its places is what stands there.
func TestStashTableTellsWhereThingsAre(t *testing.T) {
	rows := []string{
		"# counted at the fair's end, 12\" ruler",
		"\"id\",colour,fabric,size,count,note",
		"S1,,navy dot,9 x 14,\"2\",\"a note, of\ntwo lines\"",
		"# \"a comment, too",
		"",
		",blue,sea é,5 x 5,,é",
		"\"# kept, by a spreadsheet\",,,,,",
		"S3,,navy dot,4 x 4",
	}
	for name, text := range map[string]string{
		"as it is":    strings.Join(rows, "\n") + "\n",
		"no end":      strings.Join(rows, "\n"),
		"CRLF, BOM":   "\ufeff" + strings.Join(rows, "\r\n") + "\r\n",
		"CRLF no end": strings.Join(rows, "\r\n"),
	} {
		s, err := ReadStash("stash.csv", []byte(text), units.Inches)
		require.NoError(t, err, name)
		assert.Equal(t, []string{"id", "", "fabric", "size", "count", "note"}, s.Columns)
		assert.Equal(t, ',', s.Comma)
		assert.Equal(t, strings.HasPrefix(name, "CRLF"), s.Newline == "\r\n", name)
		require.Len(t, s.Rows, 3, name)
		require.Len(t, s.Pieces, 3, name)
		cells := func(r TableRow) (out []string) {
			for _, c := range r.Cells {
				out = append(out, strings.ReplaceAll(text[c.From:c.To], "\r\n", "\n"))
			}
			return out
		}
		assert.Equal(t, []string{`"id"`, "colour", "fabric", "size", "count", "note"}, cells(s.Header), name)
		assert.Equal(t, []string{"S1", "", "navy dot", "9 x 14", `"2"`, "\"a note, of\ntwo lines\""}, cells(s.Rows[0]), name)
		assert.Equal(t, []string{"", "blue", "sea é", "5 x 5", "", "é"}, cells(s.Rows[1]), name)
		assert.Equal(t, []string{"S3", "", "navy dot", "4 x 4"}, cells(s.Rows[2]), name)
		assert.Equal(t, []bool{true, false, true}, []bool{s.Rows[0].Named, s.Rows[1].Named, s.Rows[2].Named})
		assert.Equal(t, "stash 2", s.Pieces[1].ID)
		assert.Equal(t, ",blue,sea é,5 x 5,,é", strings.TrimRight(text[s.Rows[1].From:s.Rows[1].To], "\r\n"), name)
		assert.Equal(t, len(text), s.Rows[2].To, name)
		assert.Equal(t, 1, strings.Count(text[s.Rows[1].From:s.Rows[1].To], "\n"), name)
	}
}

func TestStashCommentsAreNoRows(t *testing.T) {
	s, err := ReadStash("stash.csv", []byte("# a;b;c\n\n# d\nfabric;size\n#\n#1;2 x 2\n\"# e;f\";\n"), units.Inches)
	require.NoError(t, err)
	require.Len(t, s.Pieces, 1, "a fabric may be called #1")
	assert.Equal(t, "#1", s.Pieces[0].Fabric)
	assert.Equal(t, 6, s.Pieces[0].At.Line)
	_, err = ReadStash("stash.csv", []byte("# fabric,size\n"), units.Inches)
	assert.EqualError(t, err, "stash.csv:1:1: the stash file is empty: write a header row: id,fabric,size,count,bad areas,squared,where,note")
	_, err = ReadStash("stash.csv", []byte("fabric,size\n# \"\nnavy dot,9\n"), units.Inches)
	assert.ErrorContains(t, err, "stash.csv:3:10: size: cannot read")
}

func TestKeepSizes(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(base+"cutting: {keep sizes: [2 1/2, 5, 9 cm]}\n"), nil)
	require.NoError(t, err)
	assert.Equal(t, []units.Length{5 * units.Inch, 9 * units.Centimetre, 5 * units.Inch / 2}, p.Cutting.KeepSizes)
	for text, want := range map[string]string{
		"5":         "keep sizes cannot be",
		"[0]":       "a size to keep is 0: write a length above 0",
		"[5, 5 in]": "a size to keep of 5 in stands twice: leave one of them out",
		"[5 x 5]":   "a size to keep: ",
		"[-2]":      "is negative",
	} {
		_, err := Parse("plan.yaml", []byte(base+"cutting: {keep sizes: "+text+"}\n"), nil)
		assert.ErrorContains(t, err, want, text)
	}
}

func TestStashOfAPlan(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "plan.yaml")
	for text, want := range map[string]string{
		"unit: cm\nstash: my/stash.csv\nornaments: unfinished": "",
		"unit: cm\nstash: [{fabric: a, size: 2 x 2}]":          ":2:8: the stash is listed in the plan itself",
		"unit: cm":                  ":1:1: the plan names no stash: write stash: stash.csv into it",
		"unit: cm\nstash: ../s.csv": `:2:8: stash "../s.csv" leaves the plan's folder`,
		"unit: ells\nstash: s.csv":  `:1:7: unknown unit "ells"`,
		"- a list":                  "the plan names no stash",
		"":                          ":1:1: the file is empty",
	} {
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		path, u, err := StashOf(file)
		if want == "" {
			require.NoError(t, err)
			assert.Equal(t, filepath.Join(dir, "my", "stash.csv"), path)
			assert.Equal(t, units.Centimetres, u)
			continue
		}
		assert.ErrorContains(t, err, file+":", text)
		assert.ErrorContains(t, err, want, text)
	}
	_, _, err := StashOf(filepath.Join(dir, "none.yaml"))
	assert.ErrorContains(t, err, "no such file")
}

func TestUnitOfAPlan(t *testing.T) {
	file := filepath.Join(t.TempDir(), "plan.yaml")
	require.NoError(t, os.WriteFile(file, []byte("stash: [{fabric: a}]\nunit: cm\n"), 0o644))
	u, err := UnitOf(file)
	require.NoError(t, err)
	assert.Equal(t, units.Centimetres, u)
	require.NoError(t, os.WriteFile(file, []byte("unit: [\n"), 0o644))
	_, err = UnitOf(file)
	assert.ErrorContains(t, err, file+":")
}
