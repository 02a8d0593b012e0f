package reports

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"pinfold/units"
)

// Chart tells how many pieces of each of some sizes come out of each of some
// cuts of cloth, every size answered by itself.
type Chart struct {
	Unit units.Unit
	// Squaring is trimmed off every raw edge first; 0 for cloth taken as given.
	Squaring units.Length
	// Turning tells that the figures with turned pieces are there as well.
	Turning bool
	Cloths  []ChartCloth
	Rows    []ChartRow
	// Stopped tells that the search was cut short.
	Stopped bool
}

// ChartCloth heads a column.
type ChartCloth struct {
	Name   string     // "fat quarter"; "" for a piece of its own size
	Size   units.Size // before squaring
	Usable units.Size
}

// ChartRow is one size with a cell for each cloth.
type ChartRow struct {
	Size  units.Size
	Cells []ChartCell
}

// ChartCell is the answer for one size and one cloth.
type ChartCell struct {
	Turned Figure // pieces may be turned a quarter; zero unless Chart.Turning
	Kept   Figure // all lie as they are written
}

// Figure is a number of pieces that has been cut, and one that cannot be
// passed. It is proved when they are equal.
type Figure struct {
	Count int
	Most  int64
}

// Proved tells that no straight cutting gives more.
func (f Figure) Proved() bool { return int64(f.Count) == f.Most }

// String is "35", or "35 to 36" where only that much is known.
func (f Figure) String() string {
	if f.Proved() {
		return fmt.Sprint(f.Count)
	}
	return fmt.Sprintf("%d to %d", f.Count, f.Most)
}

// The heads of a cloth's columns.
const (
	mayTurn  = "turning"
	mayNot   = "not turning"
	sizeHead = "along x across"
)

// figures lists what is printed of a cell, in the order of [Chart.heads].
func (c *Chart) figures(cell ChartCell) []Figure {
	if !c.Turning {
		return []Figure{cell.Kept}
	}
	return []Figure{cell.Turned, cell.Kept}
}

func (c *Chart) heads() []string {
	if !c.Turning {
		return []string{mayNot}
	}
	return []string{mayTurn, mayNot}
}

// above lists the lines that stand above a cloth's columns, sizes written by
// size.
func (c *Chart) above(cloth ChartCloth, size func(units.Size) string) []string {
	var out []string
	if cloth.Name != "" {
		out = append(out, plain(cloth.Name))
	}
	out = append(out, size(cloth.Size))
	if c.Squaring > 0 {
		out = append(out, "squared to "+size(cloth.Usable))
	}
	return out
}

// spoken and printed write a size for a terminal and on paper.
func (c *Chart) spoken(s units.Size) string  { return s.Format(c.Unit) }
func (c *Chart) printed(s units.Size) string { return vulgarSize(s, c.Unit) + unitAfter(s, c.Unit) }

// below lists what has to be known about the figures.
func (c *Chart) below() []string {
	open := false
	for _, row := range c.Rows {
		for _, cell := range row.Cells {
			for _, f := range c.figures(cell) {
				open = open || !f.Proved()
			}
		}
	}
	out := []string{"Every figure is proved: no edge-to-edge cutting of the cloth gives more."}
	if open {
		out = []string{"A single figure is proved: no edge-to-edge cutting of the cloth gives more. Of two, the first can be cut and more than the second cannot."}
	}
	if c.Squaring > 0 {
		out = append(out, fmt.Sprintf("%s is trimmed off every raw edge first.", c.Squaring.Format(c.Unit)))
	} else {
		out = append(out, "The cloth is taken as given, selvages off and edges straight.")
	}
	if c.Stopped {
		out = append(out, "The search was stopped early.")
	}
	return append(out, "Sizes are written along the selvage x across; each has the whole cloth to itself.")
}

const chartTitle = "Pieces from one cut of cloth"

// screen is how wide a terminal surely is.
const screen = 80

// WriteText writes the chart for a terminal: as many cloths side by side as fit,
// the others below.
func (c *Chart) WriteText(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintln(&b, chartTitle)
	first := len(sizeHead)
	for _, row := range c.Rows {
		first = max(first, len(row.Size.Format(c.Unit)))
	}
	widths := make([]int, len(c.Cloths)) // of each of a cloth's columns
	for i, cloth := range c.Cloths {
		for _, s := range c.heads() {
			widths[i] = max(widths[i], len(s))
		}
		n := len(c.heads())
		for _, s := range c.above(cloth, c.spoken) {
			widths[i] = max(widths[i], (len([]rune(s))+n-1)/n)
		}
		for _, row := range c.Rows {
			for _, f := range c.figures(row.Cells[i]) {
				widths[i] = max(widths[i], len(f.String()))
			}
		}
	}
	for from := 0; from < len(c.Cloths); {
		to, width := from, first
		for to < len(c.Cloths) && (to == from || width+len(c.heads())*(widths[to]+2) <= screen) {
			width += len(c.heads()) * (widths[to] + 2)
			to++
		}
		b.WriteByte('\n')
		c.textBlock(&b, first, widths, from, to)
		from = to
	}
	b.WriteByte('\n')
	for _, s := range c.below() {
		for _, line := range folded(s, screen) {
			fmt.Fprintln(&b, line)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// textBlock writes the cloths from .. to-1 side by side.
func (c *Chart) textBlock(b *strings.Builder, first int, widths []int, from, to int) {
	line := func(head string, cells func(i int) string) {
		s := fmt.Sprintf("%-*s", first, head)
		for i := from; i < to; i++ {
			s += cells(i)
		}
		fmt.Fprintln(b, strings.TrimRight(s, " "))
	}
	n := len(c.heads())
	deep := 0
	for i := from; i < to; i++ {
		deep = max(deep, len(c.above(c.Cloths[i], c.spoken)))
	}
	for k := range deep {
		line("", func(i int) string {
			above := c.above(c.Cloths[i], c.spoken)
			s := ""
			if at := k - deep + len(above); at >= 0 {
				s = above[at]
			}
			return fmt.Sprintf("%*s", n*(widths[i]+2), s)
		})
	}
	line(sizeHead, func(i int) string {
		s := ""
		for _, h := range c.heads() {
			s += fmt.Sprintf("  %*s", widths[i], h)
		}
		return s
	})
	for _, row := range c.Rows {
		line(row.Size.Format(c.Unit), func(i int) string {
			s := ""
			for _, f := range c.figures(row.Cells[i]) {
				s += fmt.Sprintf("  %*s", widths[i], f)
			}
			return s
		})
	}
}

// folded breaks a text into lines of at most width characters, at its blanks.
func folded(s string, width int) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(s) {
		if line != "" && len([]rune(line+" "+word)) > width {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	return append(lines, line)
}

// WriteCSV writes chart.csv: one row a figure, for a spreadsheet to turn as it
// likes.
func (c *Chart) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"size", "along selvage", "across", "unit", "cloth", "cloth along selvage", "cloth across", "may be turned", "pieces", "most possible", "proved"}}
	for _, row := range c.Rows {
		for i, cell := range row.Cells {
			cloth := c.Cloths[i]
			name := plain(cloth.Name)
			if name == "" {
				name = cloth.Size.Format(c.Unit)
			}
			for j, f := range c.figures(cell) {
				rows = append(rows, []string{
					row.Size.Format(c.Unit), decimal(row.Size.Along, c.Unit), decimal(row.Size.Across, c.Unit), c.Unit.String(),
					name, decimal(cloth.Usable.Along, c.Unit), decimal(cloth.Usable.Across, c.Unit),
					yes(c.heads()[j] == mayTurn), fmt.Sprint(f.Count), fmt.Sprint(f.Most), yes(f.Proved()),
				})
			}
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

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
