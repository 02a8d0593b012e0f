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
)

// readCSV reads a stash file: a header row with the columns of [stashKeys] in
// any order, others being ignored, then one row a piece. Columns are parted by
// commas, or by semicolons or tabs when the header has no comma, as spreadsheets
// of many countries write them.
func (r *reader) readCSV(data []byte) {
	if !r.text(data) {
		return
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	head, _, _ := strings.Cut(string(data), "\n")
	in := csv.NewReader(bytes.NewReader(data))
	in.FieldsPerRecord = -1
	if !strings.Contains(head, ",") {
		for _, c := range ";\t" {
			if strings.ContainsRune(head, c) {
				in.Comma = c
				break
			}
		}
	}
	t := table{r: r, in: in, lines: bytes.Split(data, []byte("\n"))}
	header, ok := t.next()
	if !ok {
		if len(r.faults) == 0 {
			r.fault(Pos{r.file, 1, 1}, "write a header row: "+strings.Join(stashKeys, ","), "the stash file is empty")
		}
		return
	}
	if !t.header(header) {
		return
	}
	for nth := 1; ; nth++ {
		row, ok := t.next()
		if !ok {
			return
		}
		if nth > maxStash {
			r.fault(row[0].at, fmt.Sprintf("the most is %d", maxStash), "the stash has too many rows")
			return
		}
		t.row(row, nth)
	}
}

// table is a CSV file with its header understood.
type table struct {
	r       *reader
	in      *csv.Reader
	lines   [][]byte
	columns []string // the header's known columns; "" for the others
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
	for i, c := range row {
		name := strings.Join(strings.Fields(strings.ToLower(c.text)), " ")
		if !slices.Contains(stashKeys, name) {
			continue
		}
		if slices.Contains(t.columns, name) {
			t.r.fault(c.at, "leave one of them out", "column %q stands twice", name)
			continue
		}
		t.columns[i] = name
	}
	for _, need := range []string{"fabric", "size"} {
		if slices.Contains(t.columns, need) {
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

func (t *table) row(row []cell, nth int) {
	cells := map[string]cell{}
	blank := true
	for i, c := range row {
		blank = blank && strings.TrimSpace(c.text) == ""
		if i >= len(t.columns) {
			if strings.TrimSpace(c.text) != "" {
				t.r.fault(c.at, "put quotes around a field with a comma in it", "the row has more fields than the header has columns")
				return
			}
			continue
		}
		if t.columns[i] != "" {
			cells[t.columns[i]] = c
		}
	}
	if !blank {
		t.r.stashPiece(cells, row[0].at, nth)
	}
}
