package spreadsheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"

	"pinfold/plan"
)

// The bounds of a workbook. The library holds every cell up to the last one of a
// row and every row up to the last one in memory, and compares merged ranges with
// each other: a few bytes that name the last cell of the largest sheet would cost
// gigabytes.
const (
	mostUnpacked = 16 << 20
	mostRows     = 12_000
	mostColumns  = 64
	mostMerged   = 1000
)

// bounded refuses a workbook that is beyond the bounds, by what it says of itself
// in whichever part holds cells.
func bounded(file string, data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return whole(file, "is no workbook", "save it as XLSX")
	}
	var total uint64
	for _, part := range z.File {
		total += min(part.UncompressedSize64, mostUnpacked+1)
		if total > mostUnpacked {
			return whole(file, "is too large once it is unpacked", fmt.Sprintf("the most is %d MiB: leave other sheets and pictures out", mostUnpacked>>20))
		}
		r, err := part.Open()
		if err != nil {
			return whole(file, "is packed in a way that cannot be read", "save it as XLSX again")
		}
		// A part that is larger than it says is an error of the reader.
		content, err := io.ReadAll(r)
		if err = errors.Join(err, r.Close()); err != nil {
			return whole(file, "is damaged", "save it as XLSX again")
		}
		if bytes.Contains(content, []byte("sheetData")) {
			if err := boundedSheet(file, content); err != nil {
				return err
			}
		}
	}
	return nil
}

func boundedSheet(file string, content []byte) error {
	d := xml.NewDecoder(bytes.NewReader(content))
	rows, cells, merged := 0, 0, 0
	for {
		token, err := d.RawToken()
		if err != nil {
			return nil // the end, or what the library will complain of
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "row":
			rows, cells = rows+1, 0
			if n, err := strconv.Atoi(attribute(e, "r")); err == nil {
				rows = max(rows, n)
			}
			if rows > mostRows {
				return whole(file, fmt.Sprintf("a sheet has more than %d rows", mostRows), "delete the empty rows below the stash, and other tables")
			}
		case "c":
			cells++
			if column, _, err := excelize.CellNameToCoordinates(attribute(e, "r")); err == nil {
				cells = max(cells, column)
			}
			if cells > mostColumns {
				return whole(file, fmt.Sprintf("a sheet has more than %d columns", mostColumns), "delete the columns beside the stash")
			}
			if _, row, err := excelize.CellNameToCoordinates(attribute(e, "r")); err == nil && row > mostRows {
				return whole(file, fmt.Sprintf("a sheet has more than %d rows", mostRows), "delete the empty rows below the stash, and other tables")
			}
		case "mergeCell":
			if merged++; merged > mostMerged {
				return whole(file, fmt.Sprintf("a sheet has more than %d merged ranges", mostMerged), "unmerge the cells")
			}
			if r, ok := rangeOf(attribute(e, "ref")); !ok || r.toRow > mostRows || r.toColumn > mostColumns {
				return whole(file, "a sheet has cells merged far beyond the stash", "unmerge the cells")
			}
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// span is a range of cells, counted from 1, the last included.
type span struct{ fromColumn, fromRow, toColumn, toRow int }

func rangeOf(ref string) (span, bool) {
	first, last, ok := cut(ref)
	if !ok {
		return span{}, false
	}
	var s span
	var errs [2]error
	s.fromColumn, s.fromRow, errs[0] = excelize.CellNameToCoordinates(first)
	s.toColumn, s.toRow, errs[1] = excelize.CellNameToCoordinates(last)
	return s, errs[0] == nil && errs[1] == nil && s.fromColumn <= s.toColumn && s.fromRow <= s.toRow
}

func cut(ref string) (first, last string, ok bool) {
	i := bytes.IndexByte([]byte(ref), ':')
	if i < 0 {
		return ref, ref, ref != ""
	}
	return ref[:i], ref[i+1:], true
}

// located turns positions by row and column into names of cells.
func located(errs plan.Errors, file, sheet string) plan.Errors {
	for i := range errs {
		errs[i].Pos = cellPos(errs[i].Pos, file, sheet)
	}
	return errs
}

func cellPos(p plan.Pos, file, sheet string) plan.Pos {
	if p.Line == 0 {
		return p
	}
	return plan.Pos{File: fmt.Sprintf("%s: sheet %s, %s%d", file, sheet, name(max(p.Col, 1)), p.Line)}
}
