package plan

import (
	"bytes"
	"regexp"
	"slices"
	"unicode/utf8"

	"pinfold/units"
)

// StashTable is a stash file with the place of everything in it, for those who
// change a row and leave the rest as it was written.
type StashTable struct {
	Pieces []StashPiece
	Header TableRow
	Rows   []TableRow // of the pieces, one each
	// Columns are the header's names, as in a plan's stash in place; "" for
	// columns that mean nothing to a plan.
	Columns []string
	Comma   rune
	Newline string // the end of the header's line; "\n" when it has none
}

// Span is a range of bytes of a file, To not included.
type Span struct{ From, To int }

// TableRow is where a row lies in its file.
type TableRow struct {
	Span         // with the end of its last line
	Cells []Span // with their quotes
	// Named is set when the row gives its piece an id.
	Named bool
}

// Column returns the index of a column, -1 when the file does not have it.
func (t *StashTable) Column(name string) int { return slices.Index(t.Columns, name) }

// StashColumns lists the columns that mean something, in the usual order.
func StashColumns() []string { return slices.Clone(stashKeys) }

// ReadStash reads a stash file by itself. name is the file's name for messages,
// bare numbers take u. What is wrong comes back as [Errors], sorted by position.
func ReadStash(name string, data []byte, u units.Unit) (*StashTable, error) {
	if len(data) > maxStashBytes {
		return nil, Errors{{Pos{File: name}, "is too large", "the most is 4096 KiB"}}
	}
	r := reader{file: name, plan: &Plan{Unit: u}, broken: map[string]bool{}}
	t := r.readCSV(data)
	named := make([]bool, len(r.plan.Stash))
	for i, s := range r.plan.Stash {
		named[i] = s.ID != ""
	}
	r.stashIDs()
	if len(r.faults) > 0 {
		r.faults.sort(name)
		return nil, r.faults
	}
	out := &StashTable{
		Pieces: r.plan.Stash, Header: t.head, Rows: t.rows, Columns: t.columns, Comma: t.in.Comma, Newline: "\n",
	}
	// Places were counted without the mark that may stand before all.
	mark := len(data) - len(bytes.TrimPrefix(data, []byte("\ufeff")))
	out.Header.shift(mark)
	for i := range out.Rows {
		out.Rows[i].shift(mark)
		out.Rows[i].Named = named[i]
	}
	if bytes.HasSuffix(data[:out.Header.To], []byte("\r\n")) {
		out.Newline = "\r\n"
	}
	return out, nil
}

func (r *TableRow) shift(by int) {
	r.From, r.To = r.From+by, r.To+by
	for i := range r.Cells {
		r.Cells[i].From += by
		r.Cells[i].To += by
	}
}

// spans tells where the row of n cells lies that was read last.
func (t *table) spans(n int) TableRow {
	var row TableRow
	row.To = int(t.in.InputOffset())
	width := utf8.RuneLen(t.in.Comma)
	for i := range n {
		line, col := t.in.FieldPos(i)
		from := t.starts[line-1] + col - 1
		if i > 0 {
			row.Cells[i-1].To = from - width
		}
		row.Cells = append(row.Cells, Span{from, row.To})
	}
	row.From = row.Cells[0].From
	last := &row.Cells[n-1]
	last.To = last.From + len(lineEnd.ReplaceAll(t.data[last.From:last.To], nil))
	return row
}

var lineEnd = regexp.MustCompile(`\r?\n?$`)
