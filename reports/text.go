package reports

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
)

// WriteText writes the summary for a terminal: what to buy, what comes from the
// stash, how each fabric is used, and everything that wants attention.
func (r *Report) WriteText(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s\n%s\n", r.Title, r.Headline)
	r.textBuy(b)
	r.textStash(b)
	if len(r.Supplies) > 0 {
		section(b, "Supplies")
		table(b, len(r.Supplies), func(t io.Writer, i int) {
			fmt.Fprintf(t, "  %s\t%s\n", r.Supplies[i].Amount, r.Supplies[i].Name)
		})
	}
	if len(r.Splits) > 0 {
		section(b, "Which fabric for what")
		lines(b, r.Splits)
	}
	r.textFabrics(b)
	if len(r.Bin) > 0 {
		section(b, "The scrap bin")
		lines(b, r.Bin)
	}
	if len(r.Missing) > 0 {
		section(b, "Missing")
		lines(b, r.Missing)
	}
	if len(r.Sheets) > 0 || len(r.Missing) > 0 {
		section(b, "Cross-check")
		lines(b, r.CrossCheck)
	}
	if len(r.Warnings) > 0 {
		section(b, "Mind")
		lines(b, r.Warnings)
	}
	if len(r.Notes) > 0 {
		section(b, "Assumed")
		lines(b, r.Notes)
	}
	if r.Stopped {
		fmt.Fprintf(b, "\nThe search was stopped early; this is the best found until then.\n")
	}
	return b.Flush()
}

func (r *Report) textBuy(b io.Writer) {
	section(b, "Buy")
	if len(r.Shopping.Lines) == 0 {
		fmt.Fprintln(b, "  nothing")
		return
	}
	table(b, len(r.Shopping.Lines), func(t io.Writer, i int) {
		l := r.Shopping.Lines[i]
		fmt.Fprintf(t, "  %s\t%s\t%s\n", l.Text(), l.Detail, l.Price)
	})
	if r.Shopping.Total != "" {
		fmt.Fprintf(b, "  in all %s\n", r.Shopping.Total)
	}
}

func (r *Report) textStash(b io.Writer) {
	if len(r.Stash) == 0 {
		return
	}
	section(b, "From the stash")
	table(b, len(r.Stash), func(t io.Writer, i int) {
		l := r.Stash[i]
		fmt.Fprintf(t, "  %d of %s\t%s\t%s\t%s\n", l.Used, l.ID, l.Fabric, l.Size, l.Where)
	})
}

func (r *Report) textFabrics(b io.Writer) {
	if len(r.Fabrics) == 0 {
		return
	}
	section(b, "Fabrics")
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "  sheets\tuse\tkept\twaste\tpasses\t  fabric")
	for _, f := range r.Fabrics {
		fmt.Fprintf(t, "  %d\t%.1f%%\t%.1f%%\t%.1f%%\t%d\t  %s\n", f.Sheets, f.Use, f.Kept, f.Waste, f.Passes, f.Name)
	}
	t.Flush()
	fmt.Fprintln(b)
	for _, f := range r.Fabrics {
		fmt.Fprintf(b, "  %s: %s\n", f.Name, f.Standing)
	}
	fmt.Fprintf(b, "  %s on %s; %s in all\n",
		counted(len(r.Sheets), "layout"), counted(r.sheetCount(), "sheet"), passes(r.Passes))
}

func (r *Report) sheetCount() int {
	n := 0
	for _, s := range r.Sheets {
		n += s.Copies
	}
	return n
}

func passes(n int) string {
	if n == 1 {
		return "1 pass of the cutter"
	}
	return thousands(int64(n)) + " passes of the cutter"
}

func section(b io.Writer, title string) { fmt.Fprintf(b, "\n%s\n", title) }

func lines(b io.Writer, lines []string) {
	for _, l := range lines {
		fmt.Fprintf(b, "  %s\n", l)
	}
}

// table aligns tab-separated rows and drops the blanks at the ends of lines.
func table(b io.Writer, n int, row func(t io.Writer, i int)) {
	var s strings.Builder
	t := tabwriter.NewWriter(&s, 0, 0, 2, ' ', 0)
	for i := range n {
		row(t, i)
	}
	t.Flush()
	for line := range strings.Lines(s.String()) {
		fmt.Fprintln(b, strings.TrimRight(line, " \n"))
	}
}
