package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/units"
)

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "read a plan over and count its pieces, without cutting anything",
		ArgsUsage: "[PLAN]",
		Description: `Tells everything that is wrong with PLAN and its stash, each with its line. If
nothing is: the pieces by fabric and size with their spares, the supplies, and
for each ornament whether its last round reaches the band or leaves bare foam.
Without PLAN it is the demo.

` + example("pinfold check", "the pieces of the demo"),
		Action: func(c *cli.Context) error {
			p, err := readPlan(c)
			if err != nil {
				return err
			}
			g, err := plan.Gather(p)
			if err != nil {
				return badInput("%v", err)
			}
			recount := plan.Recount(p, g)
			if !recount.Equal() {
				return bugError(fmt.Errorf("%v", recount))
			}
			var b bytes.Buffer
			checked(&b, p, g, recount)
			return show(c.App.Writer, b.Bytes())
		},
	}
}

// checked prints the tally.
func checked(b *bytes.Buffer, p *plan.Plan, g *plan.Gathered, recount plan.Tally) {
	fmt.Fprintln(b, oneLine(p.Title))
	for _, f := range g.Fabrics {
		fmt.Fprintf(b, "\n%s\n", oneLine(f.Fabric))
		aligned(b, func(t io.Writer) {
			for _, n := range f.Sizes {
				turn := "may be turned"
				if !n.Turn {
					turn = "not turned"
				}
				fmt.Fprintf(t, "  %s\t%s + %s spare\t%s\t%s\n", n.ID, grouped(n.Count), grouped(n.Spare), n.Size.Format(p.Unit), turn)
			}
		})
	}
	fmt.Fprintf(b, "\nin all %s and %s spare for %s\n%s\n", pieces(g.Pieces), grouped(g.Spares), counted(g.Ornaments, "ornament"), recount)
	if len(g.Supplies) > 0 {
		fmt.Fprintln(b, "\nSupplies")
		for _, s := range g.Supplies {
			amount := grouped(s.Count)
			if s.Length > 0 {
				amount = s.Length.Format(p.Unit)
			}
			fmt.Fprintf(b, "  %s %s\n", amount, oneLine(s.Name))
		}
	}
	if len(g.Splits) > 0 {
		fmt.Fprintln(b, "\nThe lists of fabrics are divided by area alone; pinfold layout divides them by cost.")
	}
	reaches(b, p)
	if told := slices.Concat(p.Warnings, p.Notes); len(told) > 0 {
		fmt.Fprintln(b, "\nMind")
		for _, w := range told {
			fmt.Fprintf(b, "  %s\n", oneLine(w))
		}
	}
}

// reaches prints how far the last round of each ornament comes. Rounds that
// leave foam bare or pass the middle are told by the plan's own warnings.
func reaches(b *bytes.Buffer, p *plan.Plan) {
	var found []plan.Reach
	var balls []units.Length
	for i := range p.Ornaments {
		for _, r := range p.Ornaments[i].Reaches() {
			if r.Bare > 0 || r.Past {
				continue
			}
			found, balls = append(found, r), append(balls, p.Ornaments[i].Ball)
		}
	}
	if len(found) == 0 {
		return
	}
	fmt.Fprintln(b, "\nReach")
	aligned(b, func(t io.Writer) {
		for i, r := range found {
			side := [...]string{"", " (front)", " (back)"}[r.Side]
			fmt.Fprintf(t, "  %s\t%s%s\t%s\n", oneLine(r.Ornament), oneLine(r.Round), side, reachWords(r, balls[i], p.Unit))
		}
	})
}

// reachWords says how far a round comes and what that means.
func reachWords(r plan.Reach, ball units.Length, u units.Unit) string {
	middle := plan.Decimals(plan.Sphere{Ball: ball}.PoleToEquator(), u, 2)
	reach := fmt.Sprintf("reaches %s of %s %s: ", r.Length.Number(u), middle, u)
	switch {
	case r.Past:
		return reach + "past the middle, what is over is trimmed"
	case r.Bare > 0:
		return reach + plan.Decimals(r.Bare, u, 2) + " " + u.String() + " of foam stays bare"
	}
	return reach + "covered up to the band"
}

// aligned lets rows line up at their tabs, without blanks at the ends of lines.
func aligned(b *bytes.Buffer, rows func(t io.Writer)) {
	var s bytes.Buffer
	t := tabwriter.NewWriter(&s, 0, 0, 2, ' ', 0)
	rows(t)
	t.Flush()
	for line := range strings.Lines(s.String()) {
		fmt.Fprintln(b, strings.TrimRight(line, " \n"))
	}
}

// oneLine keeps a name from breaking out of its line, or worse, from steering
// the terminal.
func oneLine(s string) string { return strings.Join(strings.Fields(harmless(s)), " ") }

// harmless is a text without the characters that steer a terminal.
func harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return ' '
		}
		return r
	}, s)
}
