package spreadsheet

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// bare is the least that is a workbook, with the cells and the texts given.
func bare(t testing.TB, sheet, texts []byte) []byte {
	const main = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	const kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	const relations = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range []struct {
		name string
		text string
	}{
		{"_rels/.rels", relations + `<Relationship Id="r" Type="` + kind + `officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook ` + main + `><sheets><sheet name="Bin" sheetId="1" r:id="a"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", relations + `<Relationship Id="a" Type="` + kind + `worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="b" Type="` + kind + `sharedStrings" Target="sharedStrings.xml"/></Relationships>`},
		{firstSheet, `<worksheet ` + main + `><sheetData>` + string(sheet)},
		{"xl/sharedStrings.xml", `<sst ` + main + `>` + string(texts) + `</sst>`},
	} {
		w, err := z.CreateHeader(&zip.FileHeader{Name: part.name})
		require.NoError(t, err)
		_, err = w.Write([]byte(part.text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// wellRead asserts that a sheet was read as pieces that can go into a stash, or
// refused with places in it.
func wellRead(t *testing.T, name string, s *Sheet, err error) {
	if err != nil {
		require.Nil(t, s)
		var faults plan.Errors
		require.ErrorAs(t, err, &faults)
		for _, f := range faults {
			require.True(t, strings.HasPrefix(f.String(), name), "%s", f)
			require.NotContains(t, f.String(), "\n")
		}
		return
	}
	for _, p := range s.Pieces {
		require.Positive(t, p.Count)
		require.Positive(t, p.Size.Area())
		require.Equal(t, plan.Name(p.Fabric), p.Fabric)
		require.NotEmpty(t, p.Fabric)
		for _, b := range p.Bad {
			require.Positive(t, b.W)
			require.Positive(t, b.H)
		}
	}
}

// Whatever the cells of a workbook and its texts are, it is read or refused.
func FuzzReadWorkbook(f *testing.F) {
	const texts = "<si><t>fabric</t></si><si><t>size</t></si><si><t>navy dot</t></si><si><t>5 x 7</t></si><si><r><t>note</t></r></si>"
	const head = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="inlineStr"><is><t>count</t></is></c></row>`
	for _, rows := range []string{
		`<row r="2"><c r="A2" t="s"><v>2</v></c><c r="B2" t="s"><v>3</v></c><c r="C2"><v>2</v></c></row></sheetData></worksheet>`,
		`<row><c t="str"><f>"a"</f><v>a</v></c><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c></row></sheetData><mergeCells><mergeCell ref="A1:A3"/></mergeCells></worksheet>`,
		`<row r="90"><c r="BL90"><f>1</f></c></row></sheetData></worksheet>`, `<row r="2"><c r="A2" t="d" s="9"><v>2025-03-04</v></c></row></sheetData></worksheet>`,
	} {
		f.Add([]byte(head+rows), []byte(texts))
	}
	f.Fuzz(func(t *testing.T, sheet, texts []byte) {
		s, err := Read("bin.xlsx", bare(t, sheet, texts), "", units.Inches)
		wellRead(t, "bin.xlsx", s, err)
	})
}

// Whatever the bytes, a sheet saved as CSV is read or refused, and what is read is
// written in a way that reads back.
func FuzzReadCSV(f *testing.F) {
	for _, s := range []string{
		"fabric,size\nnavy dot,5 x 7\n", "\ufefffabric;along;across;unit;count;note\r\nnavy dot;5;7 1/2;cm;2;'=1\r\n", "fabric\tshape\nsand\t0, 0; 0, 9; 12, 8\n",
		"fabric,size,bad areas,squared\nsand,9 x 14,2 x 3 at top left; hole 1 x 1 at middle,yes\n",
	} {
		f.Add([]byte(s), true)
	}
	f.Fuzz(func(t *testing.T, data []byte, metric bool) {
		u := units.Inches
		if metric {
			u = units.Centimetres
		}
		s, err := Read("bin.csv", data, "", u)
		wellRead(t, "bin.csv", s, err)
		if err != nil {
			return
		}
		seen := map[string]bool{}
		for _, p := range s.Pieces {
			if p.ID == "" || seen[p.ID] {
				return // a stash gives each its own
			}
			seen[p.ID] = true
		}
		again, err := Write("bin.csv", s.Pieces, u)
		if err != nil {
			require.ErrorContains(t, err, "plainer name")
			return
		}
		back, err := Read("bin.csv", again, "", u)
		require.NoError(t, err)
		require.Len(t, back.Pieces, len(s.Pieces))
	})
}
