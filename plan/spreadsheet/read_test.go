package spreadsheet

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"pinfold/plan"
	"pinfold/units"
)

// made builds a workbook as somebody's spreadsheet would.
func made(t *testing.T, rows [][]any, more ...func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	for i, row := range rows {
		for j, v := range row {
			require.NoError(t, f.SetCellValue("Sheet1", name(j+1)+string(rune('1'+i)), v))
		}
	}
	for _, do := range more {
		do(f)
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func TestOwnSheetsOfPeople(t *testing.T) {
	data := made(t, [][]any{
		{"Scraps of the lantern fair"},
		{},
		{"Note", "Across", "ALONG", "fabric", "count", "squared", "price", "where"},
		{"from the sails", 9, 2.5, "navy dot", 3, true, 1.25, "tin"},
		{time.Date(2025, 3, 4, 0, 0, 0, 0, time.UTC), 0.1 + 0.2, 4, nil, nil, false, nil, nil},
		{},
		{nil, "4 cm", "6 1/2", "buoy red", nil, nil, nil, nil},
	}, func(f *excelize.File) {
		require.NoError(t, f.MergeCell("Sheet1", "A1", "H1"))
		require.NoError(t, f.MergeCell("Sheet1", "D4", "D5"))
		require.NoError(t, f.MergeCell("Sheet1", "H4", "H5"))
	})
	s, err := Read("bin.xlsx", data, "", units.Inches)
	require.NoError(t, err)
	assert.Equal(t, "Sheet1", s.Name)
	assert.Equal(t, []string{`"price"`}, s.Ignored)
	require.Len(t, s.Pieces, 3)
	a, b, c := s.Pieces[0], s.Pieces[1], s.Pieces[2]
	assert.Equal(t, "2 1/2 x 9 in", a.Size.Format(units.Inches))
	assert.Equal(t, 3, a.Count)
	assert.True(t, a.Squared)
	assert.Equal(t, "", a.ID)
	assert.Equal(t, "navy dot", b.Fabric, "merged downwards")
	assert.Equal(t, "tin", b.Where)
	assert.Contains(t, b.Note, "3", "a date may be noted")
	assert.Equal(t, "4 in x 19/64 in", b.Size.Along.Format(units.Inches)+" x "+b.Size.Across.Format(units.Inches), "rounded down, as stock is")
	assert.Equal(t, units.Size{Along: 13 * units.Inch / 2, Across: 4 * units.Centimetre}, c.Size)
	assert.Equal(t, plan.Pos{File: "bin.xlsx: sheet Sheet1, A4"}, a.At)

	cm, err := Read("bin.xlsx", data, "sheet1", units.Centimetres)
	require.NoError(t, err)
	assert.Equal(t, 25*units.Millimetre, cm.Pieces[0].Size.Along)
}

func TestFaultsByCell(t *testing.T) {
	head := []any{"id", "fabric", "size", "count", "bad areas", "shape"}
	good := []any{"A", "navy dot", "5 x 7", 1}
	date, custom, fraction := 14, `d"."m`, `# ?/8\"`
	styled := func(at string, style *excelize.Style) func(*excelize.File) {
		return func(f *excelize.File) {
			n, err := f.NewStyle(style)
			require.NoError(t, err)
			require.NoError(t, f.SetCellValue("Sheet1", at, 45000))
			require.NoError(t, f.SetCellStyle("Sheet1", at, at, n))
		}
	}
	for _, c := range []struct {
		what string
		row  []any
		do   func(*excelize.File)
		want []string
	}{
		{"size", []any{"B", "navy dot", "5 by 7"}, nil, []string{`bin.xlsx: sheet Sheet1, C3: size: cannot read "5 by 7" as a size`}},
		{"number", []any{"B", "navy dot", 5}, nil, []string{`C3: size: cannot read "5" as a size`}},
		{"count", []any{"B", "navy dot", "5 x 7", 2.5}, nil, []string{`D3: count: "2.5" is not a whole number`}},
		{"twice", []any{"A", "navy dot", "5 x 7"}, nil, []string{`A3: stash id "A" stands twice, first in row 2`}},
		{"all at once", []any{"B", nil, "5", "x", "1 x 1"}, nil, []string{`A3: stash piece`, `C3: size`, `D3: count`}},
		{"bad area", []any{"B", "navy dot", "5 x 7", 1, "2 x 2 at 9, 9"}, nil, []string{`E3: bad area "2 x 2 at 9, 9" lies outside a piece of 5 x 7 in`}},
		{"shape", []any{"B", "navy dot", nil, 1, nil, "bottom 9"}, nil, []string{`F3: shape: right is missing`}},
		{"date", []any{"B", "navy dot"}, styled("C3", &excelize.Style{NumFmt: date}), []string{`C3: the cell holds a date or a time, as spreadsheets make of 1/2 or 3-4: format it as text, then write it again`}},
		{"own date format", []any{"B", "navy dot"}, styled("C3", &excelize.Style{CustomNumFmt: &custom}), []string{`C3: the cell holds a date`}},
		{"fractions are none", []any{"B", "navy dot"}, styled("C3", &excelize.Style{CustomNumFmt: &fraction}), []string{`C3: size: cannot read "45000"`}},
		{"formula", []any{"B", "navy dot", "5 x 7"}, func(f *excelize.File) { require.NoError(t, f.SetCellFormula("Sheet1", "D3", "1+1")) },
			[]string{`D3: the cell has a formula, and no value: open the file in a spreadsheet and save it`}},
		{"merged", []any{"B", "navy dot", "5 x 7"}, func(f *excelize.File) { require.NoError(t, f.MergeCell("Sheet1", "C3", "D3")) },
			[]string{`C3: the cell is merged with those beside it`, `D3: the cell is merged`}},
		{"no name", []any{"B", "navy dot", "5 x 7", 1, nil, nil, nil, "stray"}, nil, []string{`H3: the row has more fields than the header has columns: give the column a name`}},
		{"column twice", nil, func(f *excelize.File) { require.NoError(t, f.SetCellValue("Sheet1", "G1", "Fabric")) }, []string{`G1: column "fabric" stands twice`}},
	} {
		t.Run(c.what, func(t *testing.T) {
			do := c.do
			if do == nil {
				do = func(*excelize.File) {}
			}
			_, err := Read("bin.xlsx", made(t, [][]any{head, good, c.row}, do), "", units.Inches)
			var faults plan.Errors
			require.ErrorAs(t, err, &faults)
			require.Len(t, faults, len(c.want), "%v", err)
			for i, want := range c.want {
				assert.Contains(t, faults[i].String(), want)
			}
		})
	}
}

func TestNoStashInIt(t *testing.T) {
	for _, c := range []struct{ rows, want string }{
		{"", "bin.xlsx: sheet Sheet1, A1: the sheet is empty: write a header row"},
		{"fabrik|size", `bin.xlsx: sheet Sheet1, A1: the stash file has no column "fabric": write "fabric" instead of "fabrik"`},
		{"fabric|along", `A1: the stash file has no column "size"`},
	} {
		var rows [][]any
		for _, s := range strings.FieldsFunc(c.rows, func(r rune) bool { return r == '|' }) {
			if rows == nil {
				rows = [][]any{nil}
			}
			rows[0] = append(rows[0], s)
		}
		_, err := Read("bin.xlsx", made(t, rows), "", units.Inches)
		assert.ErrorContains(t, err, c.want)
	}
	_, err := Read("bin.xlsx", made(t, nil), "Scraps", units.Inches)
	assert.ErrorContains(t, err, `bin.xlsx: has no sheet "Scraps": its sheets are Sheet1`)
	_, err = Read("bin.csv", nil, "Bin", units.Inches)
	assert.ErrorContains(t, err, "bin.csv: is CSV, which has no sheets to choose from")
	_, err = Read("bin.ods", nil, "", units.Inches)
	assert.ErrorContains(t, err, "is neither .xlsx nor .csv")
}

// The sheet called Bin is taken before the first.
func TestTheSheetCalledBin(t *testing.T) {
	data := made(t, [][]any{{"shopping"}}, func(f *excelize.File) {
		_, err := f.NewSheet("bin")
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow("bin", "A1", &[]any{"fabric", "size"}))
		require.NoError(t, f.SetSheetRow("bin", "A2", &[]any{"navy dot", "5 x 7"}))
	})
	s, err := Read("bin.xlsx", data, "", units.Inches)
	require.NoError(t, err)
	assert.Equal(t, "bin", s.Name)
	assert.Len(t, s.Pieces, 1)
}

// A row says in which unit it is written; a shape goes into the stash as it is
// written and must mean the same there.
func TestRowsInAnotherUnit(t *testing.T) {
	s, err := Read("bin.csv", []byte("fabric,size,unit,bad areas\nnavy dot,20 x 30,cm,1 x 2 at top left\nnavy dot,2 x 3,,\n"), "", units.Inches)
	require.NoError(t, err)
	assert.Equal(t, 20*units.Centimetre, s.Pieces[0].Size.Along)
	assert.Equal(t, units.Centimetre, s.Pieces[0].Bad[0].H)
	assert.Equal(t, 2*units.Inch, s.Pieces[1].Size.Along)
	_, err = Read("bin.csv", []byte("fabric,shape,unit\nnavy dot,\"0, 0; 0, 9; 12, 8; 11, 0\",cm\n"), "", units.Inches)
	assert.ErrorContains(t, err, "bin.csv:2:1: the shape is written in centimetres, and the stash in inches: write a unit behind each of its measures")
	_, err = Read("bin.csv", []byte("fabric,shape,unit\nnavy dot,\"0 cm, 0 cm; 0 cm, 9 cm; 12 cm, 8 cm\",cm\n"), "", units.Inches)
	assert.NoError(t, err)
	_, err = Read("bin.csv", []byte("fabric,size,along,across,unit\nnavy dot,2 x 3,2,3,\nnavy dot,,2,,ell\n"), "", units.Inches)
	assert.ErrorContains(t, err, "bin.csv:2:10: the size stands here, and again under along and across")
	assert.ErrorContains(t, err, "bin.csv:3:11: the size has one side only")
	assert.ErrorContains(t, err, "unit: unknown unit")
}
