package reports

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"pinfold/plan"
)

// WriteText writes the answer for a terminal.
func (r *MakesReport) WriteText(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s\n%s\n%s\n", r.Title, r.Headline, r.Standing)
	if r.Ends != "" {
		fmt.Fprintf(b, "One more in proportion: %s.\n", r.Ends)
	}
	section(b, "The mix")
	r.block(b, func(l MakesRow) (string, string) {
		return fmt.Sprintf("%s of %s", thousands(int64(l.Mixed)), thousands(int64(l.Listed))), l.Next
	})
	section(b, "One kind alone, when the whole stash goes into it")
	r.block(b, func(l MakesRow) (string, string) { return l.Alone.String(), l.Short })
	if slices.ContainsFunc(r.Lines, func(l MakesRow) bool { return !l.Alone.Proved() }) {
		fmt.Fprintln(b, "  3 to 4: for 3 there is a layout, more than 4 are proved impossible.")
	}
	if r.Stopped {
		fmt.Fprintf(b, "\nThe search was stopped early; this is the best found until then.\n")
	}
	return b.Flush()
}

// textWidth is what a terminal shows in one line.
const textWidth = 80

// block writes a number and the name of each line, and a remark below.
func (r *MakesReport) block(b io.Writer, of func(MakesRow) (number, remark string)) {
	width := 0
	for _, l := range r.Lines {
		n, _ := of(l)
		width = max(width, len(n))
	}
	for _, l := range r.Lines {
		n, remark := of(l)
		fmt.Fprintf(b, "  %*s  %s\n", width, n, l.Name)
		if remark == "" {
			continue
		}
		for _, line := range folded(remark, textWidth-width-6) {
			fmt.Fprintf(b, "  %*s    %s\n", width, "", line)
		}
	}
}

// WriteCSV writes makes.csv: one row for each ornament in each colourway, with the
// first size missing at one more of it alone and in the mix.
func (r *MakesReport) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	head := []string{"ornament", "colourway", "listed", "mixed", "alone", "alone at most"}
	for _, when := range []string{"alone", "mixed"} {
		for _, what := range []string{"runs out", "size missing", "along selvage", "across", "unit", "missing", "of"} {
			head = append(head, when+": "+what)
		}
	}
	rows := [][]string{head}
	for _, l := range r.makes.Lines {
		var fills []string
		for _, f := range l.Colourway {
			var any []string
			for _, one := range f.Any() {
				any = append(any, one.Name)
			}
			fills = append(fills, f.Role+": "+strings.Join(any, " or "))
		}
		row := []string{l.Ornament, strings.Join(fills, ", "), fmt.Sprint(l.Count), fmt.Sprint(l.Mixed), fmt.Sprint(l.Alone.Found), fmt.Sprint(l.Alone.AtMost)}
		row = append(row, r.outCells(l.Out)...)
		rows = append(rows, append(row, r.outCells(l.Next)...))
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

// outCells are the cells about what runs out first.
func (r *MakesReport) outCells(out []plan.RunOut) []string {
	cells := make([]string, 7)
	var names []string
	for _, o := range out {
		names = append(names, o.Fabric)
	}
	cells[0] = strings.Join(names, ", ")
	if len(out) > 0 && len(out[0].Missing) > 0 {
		q, u := out[0].Missing[0], r.makes.Plan.Unit
		copy(cells[1:], []string{q.Size.Format(u), decimal(q.Size.Along, u), decimal(q.Size.Across, u), u.String(), fmt.Sprint(q.Count), fmt.Sprint(q.Of)})
	}
	return cells
}
