package spreadsheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"

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
	named, texts := -1, 0 // the last shared text that a cell names, and how many there are
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
		if bytes.Contains(content, []byte("row")) || bytes.Contains(content, []byte("mergeCell")) {
			last, err := boundedSheet(file, content)
			if err != nil {
				return err
			}
			named = max(named, last)
		}
		if strings.EqualFold(path.Base(part.Name), "sharedStrings.xml") {
			n, err := sharedTexts(content)
			if err != nil {
				return whole(file, "is damaged: its texts cannot be read", "save it as XLSX again")
			}
			texts = max(texts, n)
		}
	}
	if named >= texts {
		// The library takes such a cell for an empty one.
		return whole(file, "is damaged: a cell has a text that is not there", "save it as XLSX again")
	}
	return nil
}

// sharedTexts counts the texts that cells name by number.
func sharedTexts(content []byte) (n int, err error) {
	d := xml.NewDecoder(bytes.NewReader(content))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return n, nil
		} else if err != nil {
			return 0, err
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "si" {
			n++
		}
	}
}

// boundedSheet returns the last shared text that a cell names, -1 for none.
func boundedSheet(file string, content []byte) (named int, err error) {
	d := xml.NewDecoder(bytes.NewReader(content))
	rows, cells, merged := 0, 0, 0
	named = -1
	within, shared := false, false // a row; a cell that names a text
	damaged := func(what string) error { return whole(file, "is damaged: "+what, "save it as XLSX again") }
	for {
		token, err := d.RawToken()
		if err != nil {
			return named, nil // the end, or what the library will complain of
		}
		e, ok := token.(xml.StartElement)
		if end, over := token.(xml.EndElement); over && end.Name.Local == "row" {
			within = false
		}
		if !ok || !within && (e.Name.Local == "c" || e.Name.Local == "v") {
			continue // chains of formulas and charts have those, too
		}
		switch e.Name.Local {
		case "row":
			rows, cells, within, shared = rows+1, 0, true, false
			if n, err := strconv.Atoi(attribute(e, "r")); err == nil {
				rows = max(rows, n)
				if n < 1 {
					return 0, damaged("a row has the number " + strconv.Itoa(n))
				}
			}
			if rows > mostRows {
				return 0, whole(file, fmt.Sprintf("a sheet has more than %d rows", mostRows), "delete the empty rows below the stash, and other tables")
			}
		case "c":
			cells++
			shared = attribute(e, "t") == "s"
			if column, _, err := excelize.CellNameToCoordinates(attribute(e, "r")); err == nil {
				cells = max(cells, column)
			}
			if cells > mostColumns {
				return 0, whole(file, fmt.Sprintf("a sheet has more than %d columns", mostColumns), "delete the columns beside the stash")
			}
			if _, row, err := excelize.CellNameToCoordinates(attribute(e, "r")); err == nil && row > mostRows {
				return 0, whole(file, fmt.Sprintf("a sheet has more than %d rows", mostRows), "delete the empty rows below the stash, and other tables")
			}
		case "v":
			if !shared {
				continue
			}
			var text string
			if token, err := d.RawToken(); err == nil {
				if data, ok := token.(xml.CharData); ok {
					text = strings.TrimSpace(string(data))
				}
			}
			n, err := strconv.Atoi(text)
			if text != "" && (err != nil || n < 0) {
				return 0, damaged("a cell has a text that is not there")
			}
			if text != "" {
				named = max(named, n)
			}
		case "mergeCell":
			if merged++; merged > mostMerged {
				return 0, whole(file, fmt.Sprintf("a sheet has more than %d merged ranges", mostMerged), "unmerge the cells")
			}
			if r, ok := rangeOf(attribute(e, "ref")); !ok || r.toRow > mostRows || r.toColumn > mostColumns {
				return 0, whole(file, "a sheet has cells merged far beyond the stash", "unmerge the cells")
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
