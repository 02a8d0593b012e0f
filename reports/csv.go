package reports

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"pinfold/units"
)

// WriteCSV writes pieces.csv: one row for each size of each fabric. Names stay
// as the plan has them; a cell that a spreadsheet would take for a formula gets
// an apostrophe in front.
func (r *Report) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"fabric", "letter", "size", "along selvage", "across", "unit", "needed", "spare", "to cut", "missing", "may be turned", "used for", "cut from sheet (pieces)"}}
	for i, f := range r.Fabrics {
		name := r.result.Fabrics[i].Need.Fabric
		for _, t := range f.Tally {
			turn := "no"
			if t.Turn {
				turn = "yes"
			}
			rows = append(rows, []string{
				name, t.Letter, t.Size.Format(r.Unit), decimal(t.Size.Along, r.Unit), decimal(t.Size.Across, r.Unit), r.Unit.String(),
				fmt.Sprint(t.Count), fmt.Sprint(t.Spare), fmt.Sprint(t.Total()), fmt.Sprint(t.Missing), turn,
				t.Uses, t.Sheets(),
			})
		}
	}
	for _, row := range rows {
		for i := range row {
			row[i] = harmless(row[i])
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// decimal prints a length for a spreadsheet to reckon with: a fraction might be
// taken for a date. Six decimals hold every 1/64 in.
func decimal(l units.Length, u units.Unit) string {
	s := fmt.Sprintf("%.6f", float64(l)/float64(u.Length()))
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// harmless keeps a spreadsheet from running a cell, or what it takes for one where
// semicolons or tabs part the cells, as a formula. The wide signs count in some
// languages.
func harmless(cell string) string {
	var b strings.Builder
	start := true
	for _, c := range cell {
		if start && strings.ContainsRune("=+-@\t\r\n＝＋－＠", c) {
			b.WriteByte('\'')
		}
		start = c == ';' || c == '\t' || start && c == ' '
		b.WriteRune(c)
	}
	return b.String()
}
