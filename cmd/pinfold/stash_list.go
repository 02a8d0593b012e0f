package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/plan/ledger"
	"pinfold/units"
)

// listStash prints what there is, fabric by fabric in the order of the file.
func listStash(_ *cli.Context, book *ledger.Book, _ []string, b *bytes.Buffer) error {
	all, err := book.Stash()
	if err != nil {
		return err
	}
	var fabrics []string
	for _, p := range all {
		if !slices.Contains(fabrics, p.Fabric) {
			fabrics = append(fabrics, p.Fabric)
		}
	}
	total, area := 0, units.Area(0)
	for _, f := range fabrics {
		n, a, rows := 0, units.Area(0), []plan.StashPiece{}
		for _, p := range all {
			if p.Fabric != f {
				continue
			}
			one := p.Size.Area()
			if p.Shape != nil {
				one = p.Shape.Area()
			}
			of, err := one.Times(p.Count)
			if err == nil {
				a, err = a.Plus(of)
			}
			if err != nil {
				return badInput("the stash of %q is beyond measure: %v", f, err)
			}
			n, rows = n+p.Count, append(rows, p)
		}
		fmt.Fprintf(b, "%s: %s, %s\n", oneLine(f), pieces(n), a.Format(book.Unit))
		aligned(b, func(t io.Writer) {
			for _, p := range rows {
				fmt.Fprintf(t, "  %s\t%s\tx%d\t%s\t%s\t%s\n", oneLine(p.ID), p.Size.Format(book.Unit), p.Count, edges(p), oneLine(p.Where), oneLine(p.Note))
			}
		})
		fmt.Fprintln(b)
		total += n
		if area, err = area.Plus(a); err != nil {
			return badInput("the stash is beyond measure: %v", err)
		}
	}
	fmt.Fprintf(b, "in all %s of %s, %s\n", pieces(total), counted(len(fabrics), "fabric"), area.Format(book.Unit))
	return nil
}

// edges says what is special about a piece's shape; the size of one with a shape is
// that of the rectangle around it.
func edges(p plan.StashPiece) string {
	var said []string
	if p.Shape != nil {
		said = append(said, "crooked")
	}
	if p.Squared {
		said = append(said, "squared")
	}
	if n := len(p.Bad); n > 0 {
		said = append(said, counted(n, "bad area"))
	}
	return strings.Join(said, ", ")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return grouped(n) + " " + what + "s"
}

// grouped has commas between the thousands, as numbers on paper have them.
func grouped(n int) string { return units.Grouped(int64(n)) }

// when is the day and the minute of a change.
func when(e *ledger.Entry) string {
	return strings.TrimSuffix(strings.Replace(e.Time, "T", " ", 1), "Z") + " UTC"
}

func listHistory(_ *cli.Context, book *ledger.Book, _ []string, b *bytes.Buffer) error {
	entries, err := book.History()
	if err != nil {
		return err
	}
	undone := map[int]bool{}
	for _, e := range entries {
		undone[e.Undoes] = true
	}
	aligned(b, func(t io.Writer) {
		for i := range entries {
			e := &entries[i]
			what := string(e.What)
			switch {
			case e.What == ledger.Undo:
				what += fmt.Sprintf(" of %d", e.Undoes)
			case undone[e.N]:
				what += ", undone"
			}
			said := e.Words()
			if e.Title != "" {
				said = oneLine(e.Title) + ": " + said
			}
			fmt.Fprintf(t, "  %d\t%s\t%s\t%s\n", e.N, when(e), what, oneLine(said))
		}
	})
	if len(entries) == 0 {
		fmt.Fprintf(b, "%s has no history: pinfold has not changed it\n", book.Shown)
	}
	return nil
}
