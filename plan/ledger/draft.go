package ledger

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// draft is a change of a stash on paper: rows with other counts, rows that go,
// rows that come. Everything else stays as it was written, byte for byte.
type draft struct {
	data  []byte
	unit  units.Unit
	shown string
	table *plan.StashTable
	left  []int // of each row
	put   []plan.StashPiece
	used  []string       // ids that are or have been
	most  map[string]int // of a letter's ids in used, once it is known
}

func (b *Book) draft(s state) (*draft, error) {
	t, err := plan.ReadStash(b.Shown, s.data, b.Unit)
	if err != nil {
		return nil, err
	}
	d := &draft{data: s.data, unit: b.Unit, shown: b.Shown, table: t}
	for _, p := range t.Pieces {
		d.left, d.used = append(d.left, p.Count), append(d.used, p.ID)
	}
	for _, e := range s.past.entries {
		for _, m := range slices.Concat(e.Took, e.Put) {
			d.used = append(d.used, m.ID)
		}
	}
	return d, nil
}

// find returns the row of a piece, -1 when it is not there.
func (d *draft) find(id string) int {
	return slices.IndexFunc(d.table.Pieces, func(p plan.StashPiece) bool { return p.ID == id })
}

// ids lists the pieces that are there.
func (d *draft) ids() []string {
	var out []string
	for _, p := range d.table.Pieces {
		out = append(out, p.ID)
	}
	return out
}

// take takes n of a row out.
func (d *draft) take(row, n int) Moved {
	d.left[row] -= n
	p := d.table.Pieces[row]
	return Moved{ID: p.ID, Fabric: p.Fabric, Size: p.Size.Format(d.unit), Count: n, Left: d.left[row]}
}

// add puts cloth in, under an id of its own if it has none.
func (d *draft) add(p plan.StashPiece) Moved {
	if p.ID == "" {
		p.ID = d.newID(p.Fabric)
	}
	d.used = append(d.used, p.ID)
	for letter, most := range d.most {
		d.most[letter] = max(most, numberOf(p.ID, letter))
	}
	d.put = append(d.put, p)
	return Moved{ID: p.ID, Fabric: p.Fabric, Size: p.Size.Format(d.unit), Count: p.Count, Note: p.Note}
}

// newID returns the fabric's first letter with the next number: an id that no
// piece has or, as far as the history goes, ever had.
func (d *draft) newID(fabric string) string {
	letter := "P"
	if name := strings.ToUpper(fabric); name != "" && name[0] >= 'A' && name[0] <= 'Z' {
		letter = name[:1]
	}
	most, known := d.most[letter]
	if !known {
		for _, id := range d.used {
			most = max(most, numberOf(id, letter))
		}
	}
	if d.most == nil {
		d.most = map[string]int{}
	}
	d.most[letter] = most + 1
	return fmt.Sprint(letter, most+1)
}

// numberOf is the number of an id that is a letter and a number, 0 of another.
func numberOf(id, letter string) int {
	rest, ok := strings.CutPrefix(strings.ToUpper(id), letter)
	if n, err := strconv.Atoi(rest); ok && err == nil && n < 1_000_000_000 {
		return n
	}
	return 0
}

// edits draws the change up. named are the ids it writes down for pieces without
// one: their ids go by place, and places change.
func (d *draft) edits() (edits []Edit, named []string, err error) {
	columns := d.columns()
	if added := columns[len(d.table.Columns):]; len(added) > 0 {
		end := d.table.Header.Cells[len(d.table.Header.Cells)-1].To
		edits = append(edits, Edit{At: end, New: string(d.table.Comma) + strings.Join(added, string(d.table.Comma))})
	}
	for i, row := range d.table.Rows {
		p := d.table.Pieces[i]
		if d.left[i] == 0 {
			edits = append(edits, Edit{At: row.From, Old: string(d.data[row.From:row.To])})
			continue
		}
		cells := map[int]string{}
		if !row.Named {
			cells[slices.Index(columns, "id")] = p.ID
			named = append(named, p.ID)
		}
		if d.left[i] != p.Count {
			cells[slices.Index(columns, "count")] = strconv.Itoa(d.left[i])
		}
		edits = append(edits, d.cells(row, cells)...)
	}
	slices.SortStableFunc(edits, func(a, b Edit) int { return cmp.Compare(a.At, b.At) })
	if len(d.put) > 0 {
		edits = append(edits, Edit{At: len(d.data), New: d.rows(columns)})
	}
	return edits, named, d.check(edits)
}

// columns are those of the file and, after them, those the change needs.
func (d *draft) columns() []string {
	columns := slices.Clone(d.table.Columns)
	need := func(name string, needed bool) {
		if needed && !slices.Contains(columns, name) {
			columns = append(columns, name)
		}
	}
	need("id", len(d.put) > 0 || slices.ContainsFunc(d.table.Rows, func(r plan.TableRow) bool { return !r.Named }))
	for _, p := range d.put {
		need("size", p.Shape == nil)
		need("shape", p.Shape != nil)
		need("bad areas", len(p.Bad) > 0)
		need("count", p.Count > 1)
		need("squared", p.Squared)
		need("where", p.Where != "")
		need("note", p.Note != "")
	}
	return columns
}

// cells gives cells of a row another text. Cells that the row does not have yet
// follow its last one.
func (d *draft) cells(row plan.TableRow, texts map[int]string) (edits []Edit) {
	beyond := len(row.Cells) - 1
	tail := ""
	for i := range max(beyond, len(d.table.Columns)+8) + 1 {
		text, ok := texts[i]
		switch {
		case !ok:
		case i < len(row.Cells):
			c := row.Cells[i]
			old := string(d.data[c.From:c.To])
			edits = append(edits, Edit{At: c.From, Old: old, New: d.field(text, strings.HasPrefix(old, `"`))})
		default:
			tail += strings.Repeat(string(d.table.Comma), i-beyond) + d.field(text, false)
			beyond = i
		}
	}
	if tail != "" {
		edits = append(edits, Edit{At: row.Cells[len(row.Cells)-1].To, New: tail})
	}
	return edits
}

// rows writes the pieces that come in, one a line.
func (d *draft) rows(columns []string) string {
	var b strings.Builder
	if n := len(d.data); n > 0 && d.data[n-1] != '\n' {
		b.WriteString(d.table.Newline)
	}
	for _, p := range d.put {
		for i, c := range columns {
			if i > 0 {
				b.WriteRune(d.table.Comma)
			}
			b.WriteString(d.field(p.Cell(c, d.unit), false))
		}
		b.WriteString(d.table.Newline)
	}
	return b.String()
}

// field writes a text as a field, with quotes where they are needed.
func (d *draft) field(s string, quote bool) string {
	if quote || strings.ContainsAny(s, "\"\r\n"+string(d.table.Comma)) || s != strings.TrimSpace(s) {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

// check reads the change back: what it leaves must be what was meant.
func (d *draft) check(edits []Edit) error {
	after, err := forward(d.data, edits)
	if err != nil {
		return err
	}
	t, err := plan.ReadStash(d.shown, after, d.unit)
	if err != nil {
		return err
	}
	var want []plan.StashPiece
	for i, p := range d.table.Pieces {
		if p.Count = d.left[i]; p.Count > 0 {
			want = append(want, p)
		}
	}
	want = append(want, d.put...)
	if !slices.EqualFunc(want, t.Pieces, plan.StashPiece.Same) {
		return plan.Errors{{Pos: plan.Pos{File: d.shown}, Msg: "cannot hold this change in its rows", Hint: "write plain names, without line ends and not starting with #"}}
	}
	return nil
}
