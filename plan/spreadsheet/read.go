package spreadsheet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"pinfold/plan"
	"pinfold/units"
)

var errEncoding = errors.New("not in UTF-8")

func readWorkbook(file string, data []byte, sheet string, u units.Unit) (s *Sheet, err error) {
	if bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")) {
		return nil, whole(file, "is locked with a password or of an older kind", "save it as XLSX, without a password")
	}
	if err := bounded(file, data); err != nil {
		return nil, err
	}
	// On some damaged workbooks the library panics.
	defer func() {
		if recover() != nil {
			s, err = nil, whole(file, "is damaged", "save it as XLSX again")
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		// Equal limits: nothing is unpacked into files.
		RawCellValue: true, UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked,
	})
	if err != nil {
		return nil, whole(file, "is no workbook", "save it as XLSX")
	}
	defer func() { _ = f.Close() }() // of files there are none
	// Else a sheet in another encoding would be read that was not bounded.
	f.CharsetTranscoder(func(string, io.Reader) (io.Reader, error) { return nil, errEncoding })
	sheet, err = choose(f, file, sheet)
	if err != nil {
		return nil, err
	}
	rows, err := cells(f, sheet)
	if err != nil {
		return nil, whole(file, fmt.Sprintf("sheet %s cannot be read", sheet), "save it as XLSX again")
	}
	in, err := plan.ReadSheet(file, rows, u)
	var faults plan.Errors
	if errors.As(err, &faults) {
		return nil, located(faults, file, sheet)
	} else if err != nil {
		return nil, err
	}
	for i, p := range in.Pieces {
		in.Pieces[i].At = cellPos(p.At, file, sheet)
	}
	return &Sheet{*in, sheet}, nil
}

// choose finds the worksheet: the one asked for, the stash's, or the first.
func choose(f *excelize.File, file, sheet string) (string, error) {
	all := f.GetSheetList()
	is := func(want string) int {
		return slices.IndexFunc(all, func(s string) bool { return strings.EqualFold(s, want) })
	}
	switch i := is(sheet); {
	case sheet != "" && i >= 0:
		return all[i], nil
	case sheet != "":
		return "", whole(file, fmt.Sprintf("has no sheet %.60q", sheet), "its sheets are "+strings.Join(all, ", "))
	case len(all) == 0:
		return "", whole(file, "has no sheet", "save it as XLSX again")
	}
	return all[max(is(sheetName), 0)], nil
}

// titleRows is how far down the header may begin.
const titleRows = 20

// cells reads a sheet. What stands above the header, such as a title, is left out.
func cells(f *excelize.File, sheet string) ([][]plan.SheetCell, error) {
	raw, err := f.GetRows(sheet)
	if err != nil {
		return nil, err
	}
	top := max(slices.IndexFunc(raw[:min(len(raw), titleRows)], func(row []string) bool {
		return slices.ContainsFunc(row, func(s string) bool { return plain(s) == "fabric" })
	}), 0)
	sh := reading{f: f, sheet: sheet, dates: map[int]bool{}}
	out := make([][]plan.SheetCell, len(raw))
	merged, err := f.GetMergeCells(sheet, true)
	if err != nil {
		return nil, err
	}
	var down []span
	for _, m := range merged {
		if s, ok := rangeOf(m[0]); ok && s.toRow > top+1 {
			down = append(down, s)
			if n := min(s.toRow, mostRows) - len(out); n > 0 {
				out = append(out, make([][]plan.SheetCell, n)...)
			}
		}
	}
	if len(raw) == 0 {
		return out, nil
	}
	header := raw[top]
	for i := top; i < len(raw); i++ {
		width := len(raw[i])
		out[i] = make([]plan.SheetCell, width, max(width, len(header)))
		for j := range raw[i] {
			free := j < len(header) && (plain(header[j]) == "note" || plain(header[j]) == "where")
			if out[i][j], err = sh.cell(i+1, j+1, raw[i][j], free && i > top); err != nil {
				return nil, err
			}
		}
		// Formulas without a value at the end of a row are cut off as empty.
		for j := width; j < len(header) && i > top; j++ {
			c, err := sh.cell(i+1, j+1, "", true)
			if err != nil {
				return nil, err
			}
			out[i] = append(out[i], c)
		}
	}
	for _, s := range down {
		spread(out, s, top)
	}
	return out, nil
}

// spread gives all cells of a merged range in one column what the first one has:
// a fabric written once beside its pieces. Which of several columns is meant by one
// text cannot be told.
func spread(rows [][]plan.SheetCell, s span, top int) {
	at := func(row, column int) *plan.SheetCell {
		r := &rows[row-1]
		for len(*r) < column {
			*r = append(*r, plan.SheetCell{})
		}
		return &(*r)[column-1]
	}
	first := *at(s.fromRow, s.fromColumn)
	if s.fromRow <= top+1 {
		first = plan.SheetCell{Text: first.Text, Wrong: "the cell is merged with the header", Hint: "unmerge the cells"}
	} else if s.fromColumn < s.toColumn {
		first = plan.SheetCell{Text: first.Text, Wrong: "the cell is merged with those beside it", Hint: "unmerge the cells, and write each its own"}
	}
	for row := max(s.fromRow, top+2); row <= s.toRow; row++ {
		for column := s.fromColumn; column <= s.toColumn; column++ {
			*at(row, column) = first
		}
	}
}

func plain(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }
