package main

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// badSheet is a workbook and what is said of it: "put in" is what is said of one
// that is taken over.
type badSheet struct {
	name string
	data []byte
	args []string
	want []string
}

const putIn = "stash.csv: put in 3 pieces from bin.xlsx, sheet Sheet1"

// badSheets are workbooks of every kind of damage, and some that only look odd.
func badSheets(t *testing.T) []badSheet {
	sound := workbook(t)
	locked, err := excelize.Encrypt(sound, &excelize.Options{Password: "lantern"})
	require.NoError(t, err)
	rows := func(s string) []byte { return changed(t, sheetPart, "</sheetData>", s+"</sheetData>") }
	entities := `<?xml version="1.0"?><!DOCTYPE sst [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;"><!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;">]><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>&d;&d;&d;&d;&d;</t></si></sst>`
	return []badSheet{
		{"sound", sound, nil, []string{putIn}},
		{"formula with value", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2"><f>1+1</f><v>2</v></c>`), nil, []string{putIn}},
		{"formula with wrong value", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2"><f>1/3</f><v>0.33333</v></c>`), nil, []string{`sheet Sheet1, D2: count: "0.33333" is not a whole number: write one from 1 to 10000`}},
		{"formula error", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2" t="e"><f>1/0</f><v>#DIV/0!</v></c>`), nil, []string{`sheet Sheet1, D2: the cell shows the error #DIV/0!: mend its formula, or write the value itself`}},
		{"formula text", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2" t="str"><f>"a"</f><v>two</v></c>`), nil, []string{`sheet Sheet1, D2: count: "two" is not a whole number: write one from 1 to 10000`}},
		{"formula command", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2"><f>cmd|' /C calc'!A0</f></c>`), nil, []string{`sheet Sheet1, D2: the cell has a formula, and no value: open the file in a spreadsheet and save it, or write the value itself`}},
		{"merged across", workbook(t, merged(t, "C2", "D2")), nil, []string{`sheet Sheet1, C2: the cell is merged with those beside it: unmerge the cells, and write each its own`, `sheet Sheet1, D2: the cell is merged with those beside it: unmerge the cells, and write each its own`}},
		{"merged header", workbook(t, merged(t, "B1", "B2")), nil, []string{`sheet Sheet1, B2: the cell is merged with the header: unmerge the cells`}},
		{"merged all", workbook(t, merged(t, "A1", "E3")), nil, []string{`sheet Sheet1, A1: the stash file has no column "fabric": write a header row: id,fabric,size,count,bad areas,squared,where,note`, `sheet Sheet1, A1: the stash file has no column "size": write a header row: id,fabric,size,count,bad areas,squared,where,note`}},
		{"merge reversed", changed(t, sheetPart, "</sheetData>", `</sheetData><mergeCells count="1"><mergeCell ref="D3:C2"/></mergeCells>`), nil, []string{`a sheet has cells merged far beyond the stash: unmerge the cells`}},
		{"date", workbook(t, cellValue(t, "C2", march)), nil, []string{`sheet Sheet1, C2: the cell holds a date or a time, as spreadsheets make of 1/2 or 3-4: format it as text, then write it again`}},
		{"date as number", workbook(t, cellValue(t, "C2", 45000), styled(t, "C2", excelize.Style{NumFmt: 14})), nil, []string{`sheet Sheet1, C2: the cell holds a date or a time, as spreadsheets make of 1/2 or 3-4: format it as text, then write it again`}},
		{"iso date", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2" t="d"><v>2025-03-04</v></c>`), nil, []string{`sheet Sheet1, D2: the cell holds a date or a time, as spreadsheets make of 1/2 or 3-4: format it as text, then write it again`}},
		{"time", workbook(t, cellValue(t, "D2", 90*time.Minute)), nil, []string{`sheet Sheet1, D2: the cell holds a date or a time, as spreadsheets make of 1/2 or 3-4: format it as text, then write it again`}},
		{"bool", workbook(t, cellValue(t, "C2", true)), nil, []string{`sheet Sheet1, C2: size: cannot read "yes" as a size: write two lengths with x between them, like 2 1/2 x 4`}},
		{"number", workbook(t, cellValue(t, "C2", 9.5)), nil, []string{`sheet Sheet1, C2: size: cannot read "9.5" as a size: write two lengths with x between them, like 2 1/2 x 4`}},
		{"number as text", workbook(t, cellValue(t, "D2", "3")), nil, []string{`stash.csv: put in 4 pieces from bin.xlsx, sheet Sheet1`}},
		{"number with apostrophe", workbook(t, cellValue(t, "D2", "'3")), nil, []string{`sheet Sheet1, D2: count: "'3" is not a whole number: write one from 1 to 10000`}},
		{"scientific", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2"><v>1E+1</v></c>`), nil, []string{`stash.csv: put in 11 pieces from bin.xlsx, sheet Sheet1`}},
		{"big", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2"><v>1E+300</v></c>`), nil, []string{`sheet Sheet1, D2: count: "1E+300" is not a whole number: write one from 1 to 10000`}},
		{"negative", workbook(t, cellValue(t, "D2", -2)), nil, []string{`sheet Sheet1, D2: count: "-2" is negative: write a whole number from 1 to 10000`}},
		{"half", workbook(t, cellValue(t, "D2", 1.5)), nil, []string{`sheet Sheet1, D2: count: "1.5" is not a whole number: write one from 1 to 10000`}},
		{"sheet without sheet data", replaced(t, sheetPart, `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><row r="1048576"><c r="XFD1048576"><v>1</v></c></row></worksheet>`), nil, []string{`a sheet has more than 12000 rows: delete the empty rows below the stash, and other tables`}},
		{"sheet in utf-16", replaced(t, sheetPart, `<?xml version="1.0" encoding="utf-16le"?>`+wide(`<worksheet><sheetData><row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData></worksheet>`)), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"a chain of formulas", replaced(t, "xl/calcChain.xml", `<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">`+strings.Repeat(`<c r="D2" i="1"/>`, 500)+"</calcChain>"), nil, []string{putIn}},
		{"no such sheet", sound, []string{"--sheet", "Scraps"}, []string{`has no sheet "Scraps": its sheets are Sheet1`}},
		{"wrong sheet", workbook(t, func(f *excelize.File) {
			_, err := f.NewSheet("Shopping")
			require.NoError(t, err)
			require.NoError(t, f.SetCellValue("Shopping", "A1", "milk"))
		}), []string{"--sheet", "shopping"}, []string{`sheet Shopping, A1: the stash file has no column "fabric": write a header row: id,fabric,size,count,bad areas,squared,where,note`, `sheet Shopping, A1: the stash file has no column "size": write a header row: id,fabric,size,count,bad areas,squared,where,note`}},
		{"empty sheet", workbook(t, func(f *excelize.File) { _, err := f.NewSheet("Bin"); require.NoError(t, err) }), nil, []string{`sheet Bin, A1: the sheet is empty: write a header row: id, fabric, size, count, bad areas, squared, where, note`}},
		{"chart only", changed(t, bookPart, `<sheet name="Sheet1" sheetId="1" r:id="rId1"></sheet>`, ``), nil, []string{`has no sheet: save it as XLSX again`}},
		{"locked", locked, nil, []string{`is locked with a password or of an older kind: save it as XLSX, without a password`}},
		{"old xls", append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 2000)...), nil, []string{`is locked with a password or of an older kind: save it as XLSX, without a password`}},
		{"older xls", []byte("\x09\x08\x10\x00\x00\x06\x05\x00"), nil, []string{`is no workbook: save it as XLSX`}},
		{"csv renamed", []byte("id,fabric,size\nN1,navy dot,5 x 7\n"), nil, []string{`is no workbook: save it as XLSX`}},
		{"html renamed", []byte("<html><table><tr><td>fabric</td></tr></table></html>"), nil, []string{`is no workbook: save it as XLSX`}},
		{"pdf renamed", []byte("%PDF-1.7\n%\xe2\xe3"), nil, []string{`is no workbook: save it as XLSX`}},
		{"empty", nil, nil, []string{`is no workbook: save it as XLSX`}},
		{"a zip of nothing", packed(t, nil), nil, []string{`is no workbook: save it as XLSX`}},
		{"a zip of a picture", packed(t, []part{{"lantern.png", "\x89PNG"}}), nil, []string{`is no workbook: save it as XLSX`}},
		{"ods renamed", packed(t, []part{{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, {"content.xml", "<office:document-content/>"}}), nil, []string{`is no workbook: save it as XLSX`}},
		{"text document renamed", packed(t, []part{{kindsPart, "<Types/>"}, {"word/document.xml", "<w:document/>"}}), nil, []string{`is no workbook: save it as XLSX`}},
		{"cut half", sound[:len(sound)/2], nil, []string{`is no workbook: save it as XLSX`}},
		{"cut by one", sound[:len(sound)-1], nil, []string{`is no workbook: save it as XLSX`}},
		{"bomb blanks", replaced(t, sheetPart, strings.Repeat(" ", 17<<20)), nil, []string{`is too large once it is unpacked: the most is 16 MiB: leave other sheets and pictures out`}},
		{"bomb elsewhere", replaced(t, "xl/media/image1.png", strings.Repeat("\x00", 17<<20)), nil, []string{`is too large once it is unpacked: the most is 16 MiB: leave other sheets and pictures out`}},
		{"bomb nested", replaced(t, "xl/nested.zip", string(packed(t, []part{{"a", strings.Repeat("a", 1<<20)}}))), nil, []string{putIn}},
		{"many parts", packed(t, manyParts(unpacked(t, sound), 5000)), nil, []string{putIn}},
		{"a million rows", rows(strings.Repeat(`<row/>`, 1_000_000)), nil, []string{`a sheet has more than 12000 rows: delete the empty rows below the stash, and other tables`}},
		{"row 1048576", rows(`<row r="1048576"><c r="A1048576" t="s"><v>1</v></c></row>`), nil, []string{`a sheet has more than 12000 rows: delete the empty rows below the stash, and other tables`}},
		{"row 0", rows(`<row r="0"><c r="A0" t="s"><v>1</v></c></row>`), nil, []string{`is damaged: a row has the number 0: save it as XLSX again`}},
		{"row -1", rows(`<row r="-1"><c r="A-1" t="s"><v>1</v></c></row>`), nil, []string{`is damaged: a row has the number -1: save it as XLSX again`}},
		{"column XFD", rows(`<row r="4"><c r="XFD4" t="s"><v>1</v></c></row>`), nil, []string{`a sheet has more than 64 columns: delete the columns beside the stash`}},
		{"column beyond", rows(`<row r="4"><c r="XFE4" t="s"><v>1</v></c></row>`), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"no strings", changed(t, stringsPart, "<si>", "<no>"), nil, []string{`is damaged: its texts cannot be read: save it as XLSX again`}},
		{"strings missing", packed(t, without(unpacked(t, sound), stringsPart)), nil, []string{`is damaged: a cell has a text that is not there: save it as XLSX again`}},
		{"string beyond", rows(`<row r="4"><c r="A4" t="s"><v>9999</v></c><c r="B4" t="s"><v>9999</v></c><c r="C4" t="s"><v>9999</v></c></row>`), nil, []string{`is damaged: a cell has a text that is not there: save it as XLSX again`}},
		{"string negative", rows(`<row r="4"><c r="B4" t="s"><v>-1</v></c></row>`), nil, []string{`is damaged: a cell has a text that is not there: save it as XLSX again`}},
		{"string nonsense", rows(`<row r="4"><c r="B4" t="s"><v>x</v></c></row>`), nil, []string{`is damaged: a cell has a text that is not there: save it as XLSX again`}},
		{"strings cut", changed(t, stringsPart, "</sst>", ""), nil, []string{`is damaged: its texts cannot be read: save it as XLSX again`}},
		{"strings are utf-16", replaced(t, stringsPart, "\xff\xfe"+wide("<sst/>")), nil, []string{`is damaged: its texts cannot be read: save it as XLSX again`}},
		{"entities", replaced(t, stringsPart, entities), nil, []string{`is damaged: its texts cannot be read: save it as XLSX again`}},
		{"outer entity", replaced(t, stringsPart, `<?xml version="1.0"?><!DOCTYPE sst [<!ENTITY x SYSTEM "file:///etc/passwd">]><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>&x;</t></si></sst>`), nil, []string{`is damaged: its texts cannot be read: save it as XLSX again`}},
		{"outer links", replaced(t, "xl/externalLinks/externalLink1.xml", `<externalLink xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><externalBook r:id="rId1"/></externalLink>`), nil, []string{putIn}},
		{"formula to another book", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2"><f>[1]Sheet1!A1</f></c>`), nil, []string{`sheet Sheet1, D2: the cell has a formula, and no value: open the file in a spreadsheet and save it, or write the value itself`}},
		{"macros", replaced(t, "xl/vbaProject.bin", "\xd0\xcf\x11\xe0"), nil, []string{putIn}},
		{"macro workbook renamed", changed(t, kindsPart, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml", "application/vnd.ms-excel.sheet.macroEnabled.main+xml"), nil, []string{putIn}},
		{"binary workbook renamed", packed(t, []part{{kindsPart, "<Types/>"}, {"xl/workbook.bin", "\x83\x01\x00"}}), nil, []string{`is no workbook: save it as XLSX`}},
		{"path out", replaced(t, "../../evil.txt", "x"), nil, []string{putIn}},
		{"part twice", packed(t, append(unpacked(t, sound), part{sheetPart, "<worksheet/>"})), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"no sheet part", packed(t, without(unpacked(t, sound), sheetPart)), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"no workbook part", packed(t, without(unpacked(t, sound), bookPart)), nil, []string{`is no workbook: save it as XLSX`}},
		{"sheet is nothing", replaced(t, sheetPart, ""), nil, []string{`sheet Sheet1, A1: the sheet is empty: write a header row: id, fabric, size, count, bad areas, squared, where, note`}},
		{"sheet is cut", changed(t, sheetPart, "</sheetData>", ""), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"sheet is binary", replaced(t, sheetPart, "\x00\x01\x02"), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"deep", replaced(t, sheetPart, strings.Repeat("<a>", 100_000)), nil, []string{`sheet Sheet1 cannot be read: save it as XLSX again`}},
		{"styles gone", packed(t, without(unpacked(t, sound), "xl/styles.xml")), nil, []string{putIn}},
		{"style beyond", changed(t, sheetPart, `<c r="D2">`, `<c r="D2" s="999">`), nil, []string{putIn}},
		{"inline strings", changed(t, sheetPart, `<c r="D2"><v>2</v></c>`, `<c r="D2" t="inlineStr"><is><t>two</t></is></c>`), nil, []string{`sheet Sheet1, D2: count: "two" is not a whole number: write one from 1 to 10000`}},
		{"rich text", workbook(t, func(f *excelize.File) {
			require.NoError(t, f.SetCellRichText("Sheet1", "C2", []excelize.RichTextRun{{Text: "9 "}, {Text: "by 14", Font: &excelize.Font{Bold: true}}}))
		}), nil, []string{`sheet Sheet1, C2: size: cannot read "9 by 14" as a size: write two lengths with x between them, like 2 1/2 x 4`}},
		{"long text", workbook(t, cellValue(t, "B2", strings.Repeat("x", 32767))), nil, []string{`sheet Sheet1, B2: fabric has a name of 32767 characters: write at most 200 characters`}},
		{"control", changed(t, stringsPart, "navy dot", "navy _x0007_dot"), nil, []string{`sheet Sheet1, B2: fabric "navy \adot" holds a control character: leave it out`, `sheet Sheet1, B3: fabric "navy \adot" holds a control character: leave it out`}},
		{"no fabric", workbook(t, cellValue(t, "B1", "cloth")), nil, []string{`sheet Sheet1, A1: the stash file has no column "fabric": write a header row: id,fabric,size,count,bad areas,squared,where,note`}},
		{"id twice", workbook(t, cellValue(t, "A3", "N7")), nil, []string{`sheet Sheet1, A3: stash id "N7" stands twice, first in row 2: give each piece its own id; equal pieces are one line with a count`}},
		{"id taken", workbook(t, cellValue(t, "A3", "N1")), nil, []string{`sheet Sheet1, A3: id "N1" is taken: the stash has a piece of that name: write another id or none, or import with --renumber to have another made up, or with --replace for the whole stash`}},
		{"stray", workbook(t, cellValue(t, "G3", "sum")), nil, []string{`sheet Sheet1, G3: the row has more fields than the header has columns: give the column a name`}},
		{"total row", workbook(t, cellValue(t, "A4", "total"), cellValue(t, "D4", 3)), nil, []string{`sheet Sheet1, A4: stash piece 3 has no fabric: write the fabric's name as the plan does`, `sheet Sheet1, A4: stash piece 3 has no size: write along the selvage x across, like 9 x 14`}},
	}
}

// Every workbook that is no stash is refused, with the cell and with what to do, and
// nothing is changed; what only looks odd is taken over.
func TestBadSheets(t *testing.T) {
	const before = "id,fabric,size\nN1,navy dot,5 x 7\n"
	sheets := badSheets(t)
	t.Logf("%d workbooks", len(sheets))
	t.Chdir(t.TempDir())
	for _, f := range sheets {
		write(t, ".", "stash.csv", before)
		require.NoError(t, os.RemoveAll("stash.csv.history"))
		require.NoError(t, os.WriteFile("bin.xlsx", f.data, 0o666))
		args := append([]string{"stash", "import", "bin.xlsx"}, f.args...)
		if strings.HasPrefix(f.want[0], "stash.csv: ") {
			s := invoke(t, args...)
			assert.Equal(t, exitDone, s.code, "%s: %s", f.name, s.errors)
			assert.True(t, strings.HasPrefix(s.out, f.want[0]+"\n"), "%s: %s", f.name, s.out)
			continue
		}
		var got []string
		for _, l := range refusal(t, f.name, args...) {
			got = append(got, strings.TrimPrefix(l, "bin.xlsx: "))
		}
		assert.Equal(t, f.want, got, f.name)
		assert.Equal(t, before, stashOf(t, "."), f.name)
		assert.NoFileExists(t, "stash.csv.history", f.name)
	}
	assert.NoFileExists(t, "../../evil.txt")
}
