package plan

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"pinfold/units"
)

// readCSV reads a stash file: a header row with the columns of [stashKeys] in
// any order, others being ignored, then one row a piece. Columns are parted by
// commas, or by semicolons or tabs when the header has no comma, as spreadsheets
// of many countries write them. Lines that start with a # and a blank are
// comments. It returns what it understood of the table, nil when that is nothing.
func (r *reader) readCSV(data []byte) *table {
	t, _ := r.readTable(data, nil)
	return t
}

// readTable is readCSV, of a file that a spreadsheet wrote where f is not nil, and
// returns the header as well.
func (r *reader) readTable(data []byte, f *foreign) (*table, []cell) {
	if !r.text(data) {
		return nil, nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	bare := withoutComments(data)
	head, _, _ := strings.Cut(strings.TrimLeft(string(bare), " \r\n"), "\n")
	in := csv.NewReader(bytes.NewReader(bare))
	in.FieldsPerRecord = -1
	if !strings.Contains(head, ",") {
		for _, c := range ";\t" {
			if strings.ContainsRune(head, c) {
				in.Comma = c
				break
			}
		}
	}
	t := &table{r: r, in: in, data: data, lines: bytes.Split(data, []byte("\n")), foreign: f}
	at := 0
	for _, l := range t.lines {
		t.starts = append(t.starts, at)
		at += len(l) + 1
	}
	header, ok := t.next()
	for ok && blank(header) {
		header, ok = t.next()
	}
	if !ok {
		if len(r.faults) == 0 {
			r.fault(Pos{r.file, 1, 1}, "write a header row: "+strings.Join(stashKeys, ","), "the stash file is empty")
		}
		return nil, nil
	}
	t.head = t.spans(len(header))
	if !t.header(header) {
		return nil, nil
	}
	for nth := 1; ; nth++ {
		row, ok := t.next()
		if !ok {
			return t, header
		}
		if nth > maxStash {
			r.fault(row[0].at, fmt.Sprintf("the most is %d", maxStash), "the stash has too many rows")
			return t, header
		}
		t.row(row, nth)
	}
}

// withoutComments returns data with blanks for all lines that start with a # and
// a blank or are a # alone, so that quotes and commas in them mean nothing. A line
// within a quoted field is none.
func withoutComments(data []byte) []byte {
	out := slices.Clone(data)
	quoted := false
	for at := 0; at < len(out); {
		line := out[at:]
		if i := bytes.IndexByte(line, '\n'); i >= 0 {
			line = line[:i+1]
		}
		at += len(line)
		text := bytes.TrimRight(line, "\r\n")
		if !quoted && isComment(string(text)) {
			for i := range text {
				text[i] = ' '
			}
			continue
		}
		quoted = quoted != (bytes.Count(line, []byte(`"`))%2 == 1)
	}
	return out
}

func isComment(s string) bool { return s == "#" || strings.HasPrefix(s, "# ") }

func blank(row []cell) bool {
	return !slices.ContainsFunc(row, func(c cell) bool { return strings.TrimSpace(c.text) != "" })
}

// table is a CSV file with its header understood.
type table struct {
	r       *reader
	in      *csv.Reader
	data    []byte
	lines   [][]byte
	starts  []int    // where the lines start
	columns []string // the header's known columns; "" for the others
	// head and rows are where the header and the rows of the stash's pieces lie.
	head TableRow
	rows []TableRow
	// foreign is nil but for a table that a spreadsheet wrote; in, data, lines and
	// starts are nil if that was no CSV file.
	foreign *foreign
}

// next returns the next row that can be read; one that cannot be is reported.
func (t *table) next() ([]cell, bool) {
	for {
		fields, err := t.in.Read()
		var bad *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return nil, false
		case errors.As(err, &bad):
			t.r.fault(t.at(bad.Line, bad.Column), `write inches as 18 in, or put the whole field in quotes and double the quotes in it`, "a quote stands where the row cannot have one")
			continue
		case err != nil:
			t.r.fault(Pos{File: t.r.file}, "", "cannot be read: %v", err)
			return nil, false
		}
		row := make([]cell, len(fields))
		for i, f := range fields {
			line, col := t.in.FieldPos(i)
			row[i] = cell{f, t.at(line, col)}
		}
		return row, true
	}
}

// at turns a line with a column in bytes into a position in characters.
func (t *table) at(line, col int) Pos {
	if line > len(t.lines) {
		return Pos{t.r.file, line, col}
	}
	l := t.lines[line-1]
	return Pos{t.r.file, line, utf8.RuneCount(l[:max(0, min(col-1, len(l)))]) + 1}
}

// header finds the known columns and reports when needed ones are missing.
func (t *table) header(row []cell) bool {
	before := len(t.r.faults)
	t.columns = make([]string, len(row))
	known := knownStash
	if t.foreign != nil {
		known = slices.Concat(knownStash, sheetKeys)
	}
	for i, c := range row {
		name := strings.Join(strings.Fields(strings.ToLower(c.text)), " ")
		if !slices.Contains(known, name) {
			continue
		}
		if slices.Contains(t.columns, name) {
			t.r.fault(c.at, "leave one of them out", "column %q stands twice", name)
			continue
		}
		t.columns[i] = name
	}
	for _, need := range []string{"fabric", "size"} {
		if slices.Contains(t.columns, need) || need == "size" && t.sized() {
			continue
		}
		hint := "write a header row: " + strings.Join(stashKeys, ",")
		for i, c := range row {
			if k, ok := near(c.text, []string{need}); ok && t.columns[i] == "" {
				hint = fmt.Sprintf("write %q instead of %s", k, quoted(c.text))
			}
		}
		t.r.fault(row[0].at, hint, "the stash file has no column %q", need)
	}
	return len(t.r.faults) == before
}

// sized tells whether the columns say how large pieces are without a size.
func (t *table) sized() bool {
	return slices.Contains(t.columns, "shape") || slices.Contains(t.columns, "along") && slices.Contains(t.columns, "across")
}

func (t *table) row(row []cell, nth int) {
	// A spreadsheet puts quotes around a comment with a comma in it.
	if blank(row) || isComment(row[0].text) {
		return
	}
	cells := map[string]cell{}
	for i, c := range row {
		if i >= len(t.columns) {
			if strings.TrimSpace(c.text) != "" {
				hint := "put quotes around a field with a comma in it"
				if t.in == nil {
					hint = "give the column a name"
				}
				t.r.fault(c.at, hint, "the row has more fields than the header has columns")
				return
			}
			continue
		}
		if t.columns[i] != "" {
			cells[t.columns[i]] = c
		} else if t.foreign != nil && strings.TrimSpace(c.text) != "" {
			t.foreign.stray[i] = true
		}
	}
	if t.foreign != nil {
		defer func(u units.Unit) { t.r.plan.Unit = u }(t.r.plan.Unit)
		own := t.r.plan.Unit
		if t.foreign.mend(t.r, row, cells) {
			t.r.stashPiece(cells, row[0].at, nth)
			t.foreign.ownUnit(t.r, own)
		}
		return
	}
	t.r.stashPiece(cells, row[0].at, nth)
	t.rows = append(t.rows, t.spans(len(row)))
}
