package spreadsheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"pinfold/plan"
	"pinfold/units"
)

// sheetName is what the worksheet is called.
const sheetName = "Bin"

// columns are those of a written sheet, in the order of reading: what it is, how
// much, where. The unit is that of the row's bare numbers, so that a sheet means the
// same in another folder.
var columns = []string{"id", "fabric", "size", "count", "shape", "bad areas", "squared", "where", "note", "unit"}

func cellOf(p plan.StashPiece, column string, u units.Unit) string {
	if column == "unit" {
		return u.String()
	}
	return p.Cell(column, u)
}

func writeCSV(pieces []plan.StashPiece, u units.Unit) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("\ufeff") // without it some spreadsheets take UTF-8 for something else
	out := csv.NewWriter(&b)
	_ = out.Write(columns) // into memory: errors come from Flush
	for _, p := range pieces {
		row := make([]string, len(columns))
		for i, c := range columns {
			row[i] = plan.Guard(cellOf(p, c, u), plan.Formulas)
		}
		_ = out.Write(row)
	}
	out.Flush()
	return b.Bytes(), out.Error()
}

// The narrowest and the widest a column is made, in characters.
const narrow, wide = 7, 48

func writeWorkbook(pieces []plan.StashPiece, u units.Unit) ([]byte, error) {
	f := excelize.NewFile()
	w := workbook{f: f}
	w.try(f.SetSheetName("Sheet1", sheetName))
	// Dates would make two files of one stash differ.
	const never = "2000-01-01T00:00:00Z"
	w.try(f.SetDocProps(&excelize.DocProperties{Title: "stash", Creator: "pinfold", Created: never, Modified: never}))
	widths := make([]int, len(columns))
	text, err := f.NewStyle(&excelize.Style{NumFmt: 49, Alignment: &excelize.Alignment{Vertical: "top", WrapText: true}})
	w.try(err)
	number, err := f.NewStyle(&excelize.Style{NumFmt: 1, Alignment: &excelize.Alignment{Vertical: "top"}})
	w.try(err)
	head, err := f.NewStyle(&excelize.Style{NumFmt: 49, Font: &excelize.Font{Bold: true}, Border: []excelize.Border{{Type: "bottom", Style: 1, Color: "000000"}}})
	w.try(err)
	for i, c := range columns {
		style := text
		if c == "count" {
			style = number
		}
		// Whole columns, so that 1/2 is not taken for a date where rows are added.
		w.try(f.SetColStyle(sheetName, name(i+1), style))
		w.try(f.SetCellStr(sheetName, name(i+1)+"1", c))
		widths[i] = len(c)
	}
	w.try(f.SetCellStyle(sheetName, "A1", name(len(columns))+"1", head))
	for n, p := range pieces {
		for i, c := range columns {
			at := fmt.Sprint(name(i+1), n+2)
			if c == "count" {
				w.try(f.SetCellInt(sheetName, at, int64(p.Count)))
				continue
			}
			s := plan.Guard(cellOf(p, c, u), plan.Comments)
			if len(utf16.Encode([]rune(escaped(s)))) > excelize.TotalCellChars {
				return nil, fmt.Errorf("the %s of %.60q is too long for a cell: shorten it, or write CSV", c, p.ID)
			}
			if s == "" {
				continue
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(s))
			w.try(f.SetCellStr(sheetName, at, escaped(s)))
		}
	}
	for i, n := range widths {
		w.try(f.SetColWidth(sheetName, name(i+1), name(i+1), float64(min(max(n+2, narrow), wide))))
	}
	w.try(f.SetPanes(sheetName, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	if len(pieces) > 0 {
		w.try(f.AutoFilter(sheetName, fmt.Sprintf("A1:%s%d", name(len(columns)), len(pieces)+1), nil))
	}
	var b bytes.Buffer
	if w.err == nil {
		w.err = f.Write(&b)
	}
	return b.Bytes(), w.err
}

var coded = regexp.MustCompile(`^_x[0-9A-Fa-f]{4}_`)

// escaped keeps a text like _x0041_ from being read as the character of that number
// (ECMA-376 part 1, 22.9.2.19), which the library does in reading and does not
// prevent in writing. With a small f: of texts with a large one it takes some for
// others (v2.11.1, setSharedString).
func escaped(s string) string {
	var b strings.Builder
	for i, c := range s {
		if c == '_' && coded.MatchString(s[i:]) {
			b.WriteString("_x005f")
		}
		b.WriteRune(c)
	}
	return b.String()
}

// workbook keeps the first error, so that a sheet is written line by line.
type workbook struct {
	f   *excelize.File
	err error
}

func (w *workbook) try(err error) {
	if w.err == nil {
		w.err = err
	}
}

// name is the name of a column, counted from 1.
func name(column int) string {
	s, err := excelize.ColumnNumberToName(column)
	if err != nil {
		panic(err) // no sheet that is read or written has so many
	}
	return s
}

// readsBack makes sure that what was written is the stash.
func readsBack(file string, data []byte, pieces []plan.StashPiece, u units.Unit) error {
	s, err := Read(file, data, "", u)
	if err != nil {
		return fmt.Errorf("cannot be written so that it reads back: %w", err)
	}
	if len(s.Pieces) != len(pieces) {
		return fmt.Errorf("cannot be written so that it reads back: %d pieces became %d", len(pieces), len(s.Pieces))
	}
	for i, p := range pieces {
		if !p.Same(s.Pieces[i]) {
			return fmt.Errorf("piece %.60q cannot be written so that it reads back: give it a plainer name, place or note", p.ID)
		}
	}
	return nil
}
