package plan

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"pinfold/units"
)

// Sheet is a stash as it was kept in a spreadsheet.
type Sheet struct {
	// Pieces have the ids of the sheet, "" where it gives none.
	Pieces []StashPiece
	// Ignored names the columns that hold something a stash does not know.
	Ignored []string
}

// SheetCell is a cell of a spreadsheet: its text, or why it has none.
type SheetCell struct {
	Text        string
	Wrong, Hint string // "" where Text is right
}

// sheetKeys are the columns that only a spreadsheet has: the two sides of a size,
// which it likes as numbers, and the unit of a row's bare numbers.
var sheetKeys = []string{"along", "across", "unit"}

// ReadSheet reads the rows of a spreadsheet with the columns of a stash file, in any
// order; instead of size it may have along and across, and in unit that of a row's
// bare numbers, which else take u. What is wrong comes back as [Errors] by position:
// Line is the row and Col the column, counted from 1.
func ReadSheet(name string, rows [][]SheetCell, u units.Unit) (*Sheet, error) {
	r := reader{file: name, plan: &Plan{Unit: u}, broken: map[string]bool{}, rows: true}
	t := &table{r: &r, foreign: &foreign{cells: rows, guards: Comments, stray: map[int]bool{}}}
	var header []cell
	for i, row := range rows {
		cells := make([]cell, len(row))
		for j, c := range row {
			cells[j] = cell{c.Text, Pos{name, i + 1, j + 1}}
		}
		switch {
		case header == nil && blank(cells):
		case header == nil:
			if header = cells; !t.header(header) {
				return r.sheet(t, header)
			}
		case i > maxStash+100:
			r.fault(Pos{name, i + 1, 1}, fmt.Sprintf("the most is %d", maxStash), "the stash has too many rows")
			return r.sheet(t, header)
		default:
			t.row(cells, i)
		}
	}
	if header == nil {
		r.fault(Pos{name, 1, 1}, "write a header row: "+strings.Join(stashKeys, ", "), "the sheet is empty")
	}
	return r.sheet(t, header)
}

// ReadSheetCSV is [ReadSheet] for a spreadsheet saved as CSV, with positions as
// [ReadStash] has them.
func ReadSheetCSV(name string, data []byte, u units.Unit) (*Sheet, error) {
	if len(data) > maxStashBytes {
		return nil, Errors{{Pos{File: name}, "is too large", "the most is 4096 KiB"}}
	}
	r := reader{file: name, plan: &Plan{Unit: u}, broken: map[string]bool{}}
	t, header := r.readTable(data, &foreign{guards: Formulas, stray: map[int]bool{}})
	return r.sheet(t, header)
}

// sheet is what was read, or what is wrong with it.
func (r *reader) sheet(t *table, header []cell) (*Sheet, error) {
	var s Sheet
	s.Pieces = append(s.Pieces, r.plan.Stash...)
	r.stashIDs() // for ids that stand twice
	if len(s.Pieces) > maxStash {
		r.fault(s.Pieces[maxStash].At, fmt.Sprintf("the most is %d", maxStash), "the stash has too many rows")
	}
	if len(r.faults) > 0 {
		r.faults.sort(r.file)
		return nil, r.faults
	}
	if t == nil {
		return &s, nil
	}
	for i, c := range header {
		name := strings.Join(strings.Fields(c.text), " ")
		switch {
		case t.columns[i] != "" || !t.foreign.stray[i]:
		case name == "":
			s.Ignored = append(s.Ignored, fmt.Sprintf("column %d, which has no name", i+1))
		default:
			s.Ignored = append(s.Ignored, quoted(name))
		}
	}
	return &s, nil
}

// foreign is what is special about a table that a spreadsheet wrote.
type foreign struct {
	cells  [][]SheetCell // by row and column, nil for CSV
	guards string        // what stands behind an apostrophe that is not meant
	stray  map[int]bool  // the columns without a known name that hold something
}

// mend turns a row of a spreadsheet into one of a stash file. It tells whether there
// is anything to read, reporting what is wrong.
func (f *foreign) mend(r *reader, row []cell, cells map[string]cell) bool {
	ok := true
	if f.cells != nil {
		for _, c := range cells {
			if is := f.cells[c.at.Line-1][c.at.Col-1]; is.Wrong != "" {
				r.fault(c.at, is.Hint, "%s", is.Wrong)
				ok = false
			}
		}
	}
	for k, c := range cells {
		c.text = Unguard(c.text, f.guards)
		cells[k] = c
	}
	if c := cells["unit"]; strings.TrimSpace(c.text) != "" {
		u, err := units.ParseUnit(strings.TrimSpace(c.text))
		if err != nil {
			r.wrong(c.at, "unit", err)
			ok = false
		} else {
			r.plan.Unit = u
		}
	}
	along, across := cells["along"], cells["across"]
	a, b := strings.TrimSpace(along.text), strings.TrimSpace(across.text)
	size := cells["size"]
	switch {
	case a == "" && b == "":
	case strings.TrimSpace(size.text) != "":
		r.fault(size.at, "leave one of them empty", "the size stands here, and again under along and across")
		ok = false
	case a == "" || b == "":
		at := row[0].at
		if along.at.Line > 0 {
			at = along.at
		}
		r.fault(at, "fill in along, with the selvage, and across", "the size has one side only")
		ok = false
	default:
		cells["size"] = cell{r.withUnit(a) + " x " + r.withUnit(b), along.at}
	}
	return ok
}

var bareNumber = regexp.MustCompile(`^[-0-9 ./,½¼¾⅛⅜⅝⅞⅓⅔]+$`)

// withUnit writes the unit behind a bare number: within one text it would take that
// of the other side, and not of another cell.
func (r *reader) withUnit(s string) string {
	if bareNumber.MatchString(s) {
		return s + " " + r.plan.Unit.String()
	}
	return s
}

// ownUnit checks that a piece written in another unit means the same in the
// stash's: its shape goes there as it is written.
func (f *foreign) ownUnit(r *reader, u units.Unit) {
	s := r.plan.Stash[len(r.plan.Stash)-1]
	if was := r.plan.Unit; was != u && s.Shape != nil {
		if sh, err := parseShape(s.Measured, u); err != nil || !slices.Equal(sh.outline, s.Shape) {
			r.fault(s.At, "write a unit behind each of its measures", "the shape is written in %s, and the stash in %s", unitWord(was), unitWord(u))
		}
	}
}

func unitWord(u units.Unit) string {
	if u == units.Centimetres {
		return "centimetres"
	}
	return "inches"
}
