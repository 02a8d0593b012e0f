package reports

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// Record is a result read back: what of it matters when the cloth is cut.
type Record struct {
	Title  string
	Unit   units.Unit
	Hash   string
	Keep   units.Size     // the smallest offcut worth keeping; set with Widths alone
	Widths []units.Length // of the strips that offcuts are cut down to
	Sheets []RecordSheet
}

// RecordSheet is one sheet of a result.
type RecordSheet struct {
	Number  int
	Fabric  string
	Stash   string // the piece it is cut from; "" for bought cloth
	Bought  string // the offer's name, for bought cloth
	Cloth   units.Size
	Copies  int
	Kerf    units.Length
	Pieces  int // cut from one copy
	Offcuts []units.Size
}

// keepJSON is how offcuts are cut down, where a plan says so.
type keepJSON struct {
	Least  [2]units.Length `json:"least"` // of what is kept beside the strips: across, along
	Widths []units.Length  `json:"widths"`
}

func (r *Report) keepJSON(key func(string, any) error) error {
	c := r.result.Plan.Cutting
	if len(c.KeepSizes) == 0 {
		return nil
	}
	return key("keep", keepJSON{[2]units.Length{c.Keep.Across, c.Keep.Along}, c.KeepSizes})
}

// ReadResult reads result.json back. name is the file's name for messages. A file
// that is not, to the byte, as [Report.WriteJSON] wrote it is refused: cloth is
// booked by it.
func ReadResult(name string, data []byte) (*Record, error) {
	var in struct {
		Schema  string       `json:"schema"`
		Ticks   units.Length `json:"ticks_per_inch"`
		Title   string       `json:"title"`
		Unit    string       `json:"unit"`
		Hash    string       `json:"hash"`
		Keep    *keepJSON    `json:"keep"`
		Fabrics []readFabric `json:"fabrics"`
	}
	fault := func(at int, hint, format string, args ...any) error {
		before := string(data[:max(0, min(at, len(data)))])
		line := strings.Count(before, "\n")
		col := len([]rune(before[strings.LastIndexByte(before, '\n')+1:]))
		return plan.Errors{{Pos: plan.Pos{File: name, Line: line + 1, Col: col + 1}, Msg: fmt.Sprintf(format, args...), Hint: hint}}
	}
	const again = "have pinfold layout write it again"
	if err := json.Unmarshal(data, &in); err != nil {
		var syntax *json.SyntaxError
		var kind *json.UnmarshalTypeError
		switch {
		case errors.As(err, &syntax) && !bytes.HasPrefix(bytes.TrimLeft(data, "\ufeff \t\r\n"), []byte("{")):
			return nil, fault(0, "name the folder of a cutting plan, or the result.json in it", "this is no result")
		case errors.As(err, &syntax):
			return nil, fault(int(syntax.Offset)-1, again, "this is no JSON: %v", syntax)
		case errors.As(err, &kind) && kind.Field == "":
			return nil, fault(0, "name the result.json of a cutting plan", "this is JSON, but no result")
		case errors.As(err, &kind):
			what, _, _ := strings.Cut(kind.Value, " ")
			return nil, fault(int(kind.Offset)-1, again, "%s cannot be %s %s", kind.Field, article[what], what)
		}
		return nil, fault(0, again, "cannot be read: %v", err)
	}
	if in.Schema != Schema {
		return nil, fault(0, "name the result.json of a cutting plan", "schema %.40q is not %q", in.Schema, Schema)
	}
	end := bytes.LastIndex(data, []byte("  \"hash\": "))
	// The hash closes the file: a key after it could say again what one above says.
	if end < 0 || string(data[end:]) != hashJSON(data[:end]) {
		return nil, fault(end, again, "the file was changed after it was written")
	}
	out := &Record{Title: in.Title, Hash: in.Hash}
	var err error
	if out.Unit, err = units.ParseUnit(in.Unit); err != nil || in.Ticks != units.Inch {
		return nil, fault(0, again, "its lengths are not those of this program")
	}
	if in.Keep != nil {
		if len(in.Keep.Widths) == 0 || slices.Min(in.Keep.Widths) <= 0 || min(in.Keep.Least[0], in.Keep.Least[1]) < 0 {
			return nil, fault(0, again, "the sizes to keep do not hold together")
		}
		out.Keep, out.Widths = units.Size{Across: in.Keep.Least[0], Along: in.Keep.Least[1]}, in.Keep.Widths
	}
	for _, f := range in.Fabrics {
		for _, s := range f.Sheets {
			sheet, ok := s.read(f)
			if !ok || slices.ContainsFunc(out.Sheets, func(t RecordSheet) bool { return t.Number == sheet.Number }) {
				return nil, fault(0, again, "sheet %.20q does not hold together", s.ID)
			}
			out.Sheets = append(out.Sheets, sheet)
		}
	}
	return out, nil
}

// article goes before JSON's name of a kind of value.
var article = map[string]string{"array": "an", "object": "an", "string": "a", "number": "a", "bool": "a"}

// readFabric is what a result's fabric says of its sheets.
type readFabric struct {
	Fabric string       `json:"fabric"`
	Kerf   units.Length `json:"kerf"`
	Sheets []sheetJSON  `json:"sheets"`
}

// read takes a sheet over, if its numbers can be those of a sheet.
func (s *sheetJSON) read(f readFabric) (RecordSheet, bool) {
	length := func(l units.Length) bool { return l > 0 && l <= units.MaxLength }
	number, err := strconv.Atoi(s.ID)
	ok := err == nil && number > 0 && s.Copies > 0 && s.Copies <= pack.MaxDemand && length(s.Raw[0]) && length(s.Raw[1]) && f.Kerf >= 0 && f.Kerf <= units.MaxLength
	out := RecordSheet{
		Number: number, Fabric: plan.Name(f.Fabric), Cloth: units.Size{Across: s.Raw[0], Along: s.Raw[1]},
		Copies: s.Copies, Kerf: f.Kerf, Pieces: len(s.Placements),
	}
	switch s.Stock.Kind {
	case "stash":
		out.Stash = plan.Name(s.Stock.ID)
		ok = ok && out.Stash != ""
	case "cut", "bolt":
		out.Bought = s.Stock.Cut
	default:
		ok = false
	}
	for _, o := range s.Offcuts {
		ok = ok && length(o.W) && length(o.H)
		out.Offcuts = append(out.Offcuts, units.Size{Across: o.W, Along: o.H})
	}
	return out, ok
}
