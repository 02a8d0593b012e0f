package spreadsheet

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"pinfold/plan"
)

// reading is a worksheet that is being read.
type reading struct {
	f     *excelize.File
	sheet string
	dates map[int]bool // by style
	bare  int          // formulas without a value that were found
}

// cell says what a cell holds whose stored value is raw. free is set where any text
// may stand, dates included.
func (r *reading) cell(row, column int, raw string, free bool) (plan.SheetCell, error) {
	at := fmt.Sprint(name(column), row)
	kind, err := r.f.GetCellType(r.sheet, at)
	if err != nil {
		return plan.SheetCell{}, err
	}
	switch kind {
	case excelize.CellTypeError:
		return plan.SheetCell{Text: raw, Wrong: fmt.Sprintf("the cell shows the error %.20s", raw), Hint: "mend its formula, or write the value itself"}, nil
	case excelize.CellTypeBool:
		return plan.SheetCell{Text: map[string]string{"1": "yes", "0": "no"}[raw]}, nil
	case excelize.CellTypeDate:
		return r.date(at, raw, free)
	case excelize.CellTypeUnset, excelize.CellTypeNumber:
		if raw == "" {
			return r.formula(at)
		}
		style, err := r.f.GetCellStyle(r.sheet, at)
		if err != nil {
			return plan.SheetCell{}, err
		}
		if r.dated(style) {
			return r.date(at, raw, free)
		}
		return plan.SheetCell{Text: decimal(raw)}, nil
	case excelize.CellTypeFormula:
		if raw == "" {
			return r.formula(at)
		}
	}
	return plan.SheetCell{Text: raw}, nil
}

// formula is an empty cell, unless it has a formula that nobody worked out.
func (r *reading) formula(at string) (plan.SheetCell, error) {
	const most = 1000 // of which more are told than anybody mends
	if r.bare > most {
		return plan.SheetCell{}, nil
	}
	formula, err := r.f.GetCellFormula(r.sheet, at)
	if err != nil || formula == "" {
		return plan.SheetCell{}, err
	}
	r.bare++
	return plan.SheetCell{Wrong: "the cell has a formula, and no value", Hint: "open the file in a spreadsheet and save it, or write the value itself"}, nil
}

func (r *reading) date(at, raw string, free bool) (plan.SheetCell, error) {
	if !free {
		return plan.SheetCell{Text: raw, Wrong: "the cell holds a date or a time, as spreadsheets make of 1/2 or 3-4", Hint: "format it as text, then write it again"}, nil
	}
	shown, err := r.f.GetCellValue(r.sheet, at, excelize.Options{RawCellValue: false})
	return plan.SheetCell{Text: shown}, err
}

var (
	aside     = regexp.MustCompile(`"[^"]*"|\\.|_.|\[[^\]]*\]`)
	dateSigns = regexp.MustCompile(`(?i)[ymdhs]`)
)

// dated tells whether a style shows numbers as dates. The numbers are those of the
// formats for dates and times that every spreadsheet has (ECMA-376 part 1, 18.8.30);
// the ones for East Asia among them.
func (r *reading) dated(style int) bool {
	if is, ok := r.dates[style]; ok {
		return is
	}
	is := false
	if s, err := r.f.GetStyle(style); err == nil {
		n := s.NumFmt
		is = 14 <= n && n <= 22 || 27 <= n && n <= 36 || 45 <= n && n <= 47 || 50 <= n && n <= 58
		if s.CustomNumFmt != nil {
			is = dateSigns.MatchString(strings.ReplaceAll(aside.ReplaceAllString(*s.CustomNumFmt, ""), "General", ""))
		}
	}
	r.dates[style] = is
	return is
}

// decimal writes a stored number as it was meant: spreadsheets reckon with 15
// digits and store the binary fraction next to them.
func decimal(raw string) string {
	n, err := strconv.ParseFloat(raw, 64)
	if err != nil || math.Abs(n) >= 1e15 {
		return raw
	}
	n, _ = strconv.ParseFloat(strconv.FormatFloat(n, 'g', 15, 64), 64) // of its own making
	return strconv.FormatFloat(n, 'f', -1, 64)
}
