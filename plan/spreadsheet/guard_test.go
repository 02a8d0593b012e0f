package spreadsheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// repacked is a good workbook with one part changed.
func repacked(t *testing.T, part string, change func(string) string) []byte {
	t.Helper()
	data := made(t, [][]any{{"fabric", "size"}, {"navy dot", "5 x 7"}})
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var b bytes.Buffer
	out := zip.NewWriter(&b)
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		w, err := out.Create(f.Name)
		require.NoError(t, err)
		if f.Name == part {
			text = []byte(change(string(text)))
		}
		_, err = w.Write(text)
		require.NoError(t, err)
	}
	require.NoError(t, out.Close())
	return b.Bytes()
}

const firstSheet = "xl/worksheets/sheet1.xml"

// Each of these is a few kilobytes that would be gigabytes in memory.
func TestBombsAreRefused(t *testing.T) {
	rows := func(s string) func(string) string {
		return func(text string) string { return strings.Replace(text, "</sheetData>", s+"</sheetData>", 1) }
	}
	merges := func(s string) func(string) string {
		return func(text string) string {
			return strings.Replace(text, "</sheetData>", "</sheetData><mergeCells>"+s+"</mergeCells>", 1)
		}
	}
	for _, c := range []struct {
		what, part string
		change     func(string) string
		want       string
	}{
		{"blanks", firstSheet, func(s string) string { return s + strings.Repeat(" ", 17<<20) }, "is too large once it is unpacked: the most is 16 MiB"},
		{"blanks elsewhere", "docProps/app.xml", func(s string) string { return s + strings.Repeat(" ", 17<<20) }, "is too large once it is unpacked"},
		{"last row", firstSheet, rows(`<row r="1048576"><c r="A1048576"/></row>`), "a sheet has more than 12000 rows: delete the empty rows below the stash"},
		{"a cell of the last row", firstSheet, rows(`<row><c r="A1048576"/></row>`), "a sheet has more than 12000 rows"},
		{"rows without numbers", firstSheet, rows(strings.Repeat(`<row/>`, 20_000)), "a sheet has more than 12000 rows"},
		{"last column", firstSheet, rows(strings.Repeat(`<row><c r="XFD3"/></row>`, 5000)), "a sheet has more than 64 columns: delete the columns beside the stash"},
		{"cells without names", firstSheet, rows(`<row r="3">` + strings.Repeat(`<c/>`, 100_000) + `</row>`), "a sheet has more than 64 columns"},
		{"a prefix", firstSheet, func(string) string {
			return `<x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData><x:row r="1048576"/></x:sheetData></x:worksheet>`
		}, "a sheet has more than 12000 rows"},
		{"all merged", firstSheet, merges(`<mergeCell ref="A1:XFD1048576"/>`), "a sheet has cells merged far beyond the stash"},
		{"many merges", firstSheet, merges(strings.Repeat(`<mergeCell ref="A1:B2"/>`, 20_000)), "a sheet has more than 1000 merged ranges"},
	} {
		t.Run(c.what, func(t *testing.T) {
			data := repacked(t, c.part, c.change)
			assert.Less(t, len(data), 200<<10)
			_, err := Read("bin.xlsx", data, "", units.Inches)
			assert.ErrorContains(t, err, "bin.xlsx: "+c.want)
		})
	}
	_, err := Read("bin.xlsx", repacked(t, "none", nil), "", units.Inches)
	assert.NoError(t, err, "repacking alone harms nothing")
	_, err = Read("bin.xlsx", make([]byte, MostBytes+1), "", units.Inches)
	assert.ErrorContains(t, err, "is too large: the most is 4096 KiB")
	_, err = Read("bin.csv", make([]byte, MostBytes+1), "", units.Inches)
	assert.ErrorContains(t, err, "is too large: the most is 4096 KiB")
}

// A part that says it is small and is not.
func TestLyingSizes(t *testing.T) {
	data := repacked(t, firstSheet, func(s string) string { return s + strings.Repeat(" ", 1<<20) })
	at := bytes.LastIndex(data, []byte(firstSheet)) - 46 // its header in the central directory
	require.Equal(t, "PK\x01\x02", string(data[at:at+4]))
	copy(data[at+24:], []byte{100, 0, 0, 0})
	_, err := Read("bin.xlsx", data, "", units.Inches)
	assert.ErrorContains(t, err, "bin.xlsx: is damaged")
}

func TestOtherKindsOfFile(t *testing.T) {
	for data, want := range map[string]string{
		"":                 "bin.xlsx: is no workbook: save it as XLSX",
		"fabric,size\n":    "bin.xlsx: is no workbook",
		"\xd0\xcf\x11\xe0": "bin.xlsx: is locked with a password or of an older kind",
	} {
		_, err := Read("bin.xlsx", []byte(data), "", units.Inches)
		assert.ErrorContains(t, err, want)
	}
	for part, text := range map[string]string{firstSheet: "<", "xl/workbook.xml": "<workbook/>", "xl/sharedStrings.xml": "", "xl/styles.xml": "<a", "[Content_Types].xml": ""} {
		_, err := Read("bin.xlsx", repacked(t, part, func(string) string { return text }), "", units.Inches)
		var faults plan.Errors
		if err != nil {
			assert.ErrorAs(t, err, &faults, part)
		}
	}
}

// Whatever byte of a workbook's parts changes, it is read or refused.
func TestDamagedParts(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 150 {
		part := []string{firstSheet, "xl/sharedStrings.xml", "xl/styles.xml", "xl/workbook.xml"}[r.Intn(4)]
		data := repacked(t, part, func(s string) string {
			b := []byte(s)
			for range 1 + r.Intn(4) {
				b[r.Intn(len(b))] = `<>"/=09AZ&;: -`[r.Intn(14)]
			}
			return string(b)
		})
		_, err := Read("bin.xlsx", data, "", units.Inches)
		var faults plan.Errors
		if err != nil {
			require.ErrorAs(t, err, &faults, "%s: %v", part, err)
		}
	}
}

// The largest stash goes out and comes back.
func TestTheLargestStash(t *testing.T) {
	if testing.Short() {
		t.Skip("10,000 rows take a second or more")
	}
	var b strings.Builder
	b.WriteString("id,fabric,size,bad areas,note\n")
	for i := range 10_000 {
		fmt.Fprintf(&b, "S%d,fabric %d,%d x 7 1/2,1 x 1 at top left,note %d\n", i, i%90, 2+i%40, i)
	}
	table, err := plan.ReadStash("stash.csv", []byte(b.String()), units.Inches)
	require.NoError(t, err)
	for _, file := range []string{"bin.xlsx", "bin.csv"} {
		data, err := Write(file, table.Pieces, units.Inches)
		require.NoError(t, err)
		assert.Less(t, len(data), MostBytes)
	}
	_, err = Read("bin.csv", []byte(b.String()+"S,navy dot,2 x 2,,\n"), "", units.Inches)
	assert.ErrorContains(t, err, "the stash has too many rows: the most is 10000")
}
