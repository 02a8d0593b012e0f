package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// sheetRows writes rows of cells parted by bars; a cell of "!" is one that holds no
// text that can be read.
func sheetRows(rows ...string) (out [][]SheetCell) {
	for _, row := range rows {
		var cells []SheetCell
		for c := range strings.SplitSeq(row, "|") {
			is := SheetCell{Text: strings.TrimSpace(c)}
			if is.Text == "!" {
				is = SheetCell{Wrong: "the cell holds a date", Hint: "format it as text"}
			}
			cells = append(cells, is)
		}
		out = append(out, cells)
	}
	return out
}

// Columns stand in any order, sizes in one cell or in two, and a row in its own unit;
// what a stash knows no column for is told once a column that holds something.
func TestReadSheet(t *testing.T) {
	rows := sheetRows(
		"",
		"Note|Across|ALONG|size|unit|fabric|count|squared|price||shelf|shape|id",
		"from the sails|14|9 1/2||in|navy dot|3|yes||||| S1",
		"",
		"|30|20||cm|navy dot||||||| ",
		"||| 4 x 5||buoy red|||1.25|x||| ",
		"# not counted yet",
		"|||||sand|||||| bottom 9 cm, top 8 cm, left height 12 cm, right height 11 cm | ",
		"||||cm|sand|||||| 0 cm, 0 cm; 0 cm, 9 cm; 12 cm, 8 cm | ",
	)
	s, err := ReadSheet("bin.xlsx", rows, units.Inches)
	require.NoError(t, err)
	assert.Equal(t, []string{`"price"`, "column 10, which has no name"}, s.Ignored, "the shelf column holds nothing")
	require.Len(t, s.Pieces, 5)
	in, cm := units.Inch, units.Centimetre
	assert.Equal(t, StashPiece{At: Pos{"bin.xlsx", 3, 1}, ID: "S1", Fabric: "navy dot", Size: units.Size{Along: 19 * in / 2, Across: 14 * in}, Count: 3, Squared: true, Note: "from the sails"}, s.Pieces[0])
	assert.Equal(t, units.Size{Along: 20 * cm, Across: 30 * cm}, s.Pieces[1].Size)
	assert.Equal(t, units.Size{Along: 4 * in, Across: 5 * in}, s.Pieces[2].Size, "the row before has its unit to itself")
	assert.Equal(t, 12*cm, s.Pieces[3].Size.Along)
	assert.Equal(t, units.Size{Along: 12 * cm, Across: 9 * cm}, s.Pieces[4].Size, "with a unit behind each measure a shape means the same in the stash")
	for _, p := range s.Pieces[1:] {
		assert.Equal(t, "", p.ID, "ids that the sheet does not give are not made up")
		assert.Equal(t, 1, p.Count)
	}
}

// Everything wrong is told in one go, by row and column; a cell that cannot be read is
// told in the words of who tried.
func TestFaultySheets(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []string
		want []string
	}{
		{"nothing", nil, []string{`bin:1:1: the sheet is empty: write a header row: id, fabric, size, count, bad areas, squared, where, note`}},
		{"blank rows", []string{"|", ""}, []string{`bin:1:1: the sheet is empty: write a header row: id, fabric, size, count, bad areas, squared, where, note`}},
		{"one side has no column", []string{"fabric|along", "navy dot|3"}, []string{
			`bin:1:1: the stash file has no column "size": write a header row: id,fabric,size,count,bad areas,squared,where,note`}},
		{"sides", []string{"fabric|size|along|across", "navy dot|2 x 3|2|3", "navy dot||2|", "navy dot|||3", "navy dot|2 x 3||", "navy dot|||"}, []string{
			`bin:2:2: the size stands here, and again under along and across: leave one of them empty`,
			`bin:3:3: the size has one side only: fill in along, with the selvage, and across`,
			`bin:4:3: the size has one side only: fill in along, with the selvage, and across`,
			`bin:6:1: stash piece 5 has no size: write along the selvage x across, like 9 x 14`}},
		{"one side in a short row", []string{"fabric|across|along", "navy dot|3"}, []string{
			`bin:2:1: the size has one side only: fill in along, with the selvage, and across`}},
		{"sides that are none", []string{"fabric|along|across", "navy dot|two|3", "navy dot|0|3", "navy dot|-2|3"}, []string{
			`bin:2:2: size: cannot read "two " as a length: write a number like 10 1/2, 10.5 or 26.7 cm`,
			`bin:3:2: size: size "0 in x 3 in" has a side of 0`,
			`bin:4:2: size: length "-2 in " is negative: write it without the minus`}},
		{"unit", []string{"fabric|size|unit", "navy dot|2 x 3|ell"}, []string{
			`bin:2:3: unit: unknown unit "ell": write in or cm`}},
		{"cells and values", []string{"id|fabric|size|count", "A|navy dot|!|x", "A|navy dot|2 x 3|!", "A|navy dot|2 x 3|0", "A|navy dot|2 x 3|1"}, []string{
			`bin:2:3: the cell holds a date: format it as text`,
			`bin:3:4: the cell holds a date: format it as text`,
			`bin:4:4: count: 0 is too few: write a whole number from 1`,
			`bin:5:1: stash id "A" stands twice, first in row 4: give each piece its own id; equal pieces are one line with a count`}},
		{"beside the table", []string{"fabric|size", "navy dot|2 x 3||of the uncle"}, []string{
			`bin:2:4: the row has more fields than the header has columns: give the column a name`}},
		{"shape in another unit", []string{"fabric|shape|unit", "navy dot|0, 0; 0, 9; 12, 8; 11, 0|cm"}, []string{
			`bin:2:1: the shape is written in centimetres, and the stash in inches: write a unit behind each of its measures`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := ReadSheet("bin", sheetRows(c.rows...), units.Inches)
			assert.Nil(t, s)
			require.Error(t, err)
			assert.IsType(t, Errors{}, err)
			assert.Equal(t, strings.Join(c.want, "\n"), err.Error())
		})
	}
	_, err := ReadSheet("bin", sheetRows("fabric|shape|unit", "navy dot|0, 0; 0, 9; 12, 8; 11, 0|in"), units.Centimetres)
	assert.EqualError(t, err, "bin:2:1: the shape is written in inches, and the stash in centimetres: write a unit behind each of its measures")
}

// A sheet holds as many pieces as a stash, and is not read on for long beyond that.
func TestSheetOfTooManyRows(t *testing.T) {
	rows := sheetRows("fabric|size")
	piece := sheetRows("navy dot|2 x 3")[0]
	for range maxStash {
		rows = append(rows, piece)
	}
	s, err := ReadSheet("bin", rows, units.Inches)
	require.NoError(t, err)
	assert.Len(t, s.Pieces, maxStash)
	_, err = ReadSheet("bin", append(rows, piece), units.Inches)
	assert.EqualError(t, err, "bin:10002:1: the stash has too many rows: the most is 10000")
	for range 1000 {
		rows = append(rows, sheetRows("navy dot|two")[0])
	}
	_, err = ReadSheet("bin", rows, units.Inches)
	assert.ErrorContains(t, err, "the stash has too many rows")
	assert.Less(t, len(err.(Errors)), 200, "what stands far below is not read")
}

// As CSV, a sheet is a stash file with what spreadsheets add taken away.
func TestReadSheetCSV(t *testing.T) {
	s, err := ReadSheetCSV("bin.csv", []byte("\ufefffabric;along;across;note;price\r\n'=navy;9,5;14;'+ two; 1\r\n'#1;2;3;it's;\r\n"), units.Inches)
	require.NoError(t, err)
	require.Len(t, s.Pieces, 2)
	assert.Equal(t, "=navy", s.Pieces[0].Fabric)
	assert.Equal(t, "+ two", s.Pieces[0].Note)
	assert.Equal(t, units.Size{Along: 19 * units.Inch / 2, Across: 14 * units.Inch}, s.Pieces[0].Size)
	assert.Equal(t, "#1", s.Pieces[1].Fabric)
	assert.Equal(t, "it's", s.Pieces[1].Note)
	assert.Equal(t, []string{`"price"`}, s.Ignored)

	_, err = ReadSheetCSV("bin.csv", []byte("fabric,size,count\nnavy dot,9 by 14,x\n"), units.Inches)
	assert.EqualError(t, err, `bin.csv:2:10: size: cannot read "9 by 14" as a size: write two lengths with x between them, like 2 1/2 x 4`+"\n"+
		`bin.csv:2:18: count: "x" is not a whole number: write one from 1 to 10000`)
	_, err = ReadSheetCSV("bin.csv", []byte{0xff, 0xfe, 'i', 0}, units.Inches)
	assert.EqualError(t, err, "bin.csv:1:1: the file is UTF-16 text: save it as UTF-8")
	_, err = ReadSheetCSV("bin.csv", make([]byte, maxStashBytes+1), units.Inches)
	assert.EqualError(t, err, "bin.csv: is too large: the most is 4096 KiB")
	_, err = ReadStash("stash.csv", make([]byte, maxStashBytes+1), units.Inches)
	assert.EqualError(t, err, "stash.csv: is too large: the most is 4096 KiB")
	_, err = ReadStash("stash.csv", []byte("fabric,size\n"+strings.Repeat("navy dot,2 x 3\n", maxStash+1)), units.Inches)
	assert.EqualError(t, err, "stash.csv:10002:1: the stash has too many rows: the most is 10000")
}
