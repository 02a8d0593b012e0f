package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/pack"
	"pinfold/reports"
	"pinfold/units"
)

func yieldCommand() *cli.Command {
	return &cli.Command{
		Name:      "yield",
		Usage:     "how many pieces of one size come out of a sheet, or of several out of several",
		ArgsUsage: "SIZE... --from SHEET...",
		Description: `SIZE is along the selvage x across, like "2 1/2 x 4 1/2". Each size is answered by
itself, as if the whole sheet went into it. SHEET is one of

    "fat quarter"         18 x 22 in; "fat quarter 18 x 21 in" for another size
    "fat eighth"          9 x 22 in, or the size behind it
    "1/2 yd"              off the bolt, 40 in wide; "1/2 yd x 42", "0.5 m x 110"
    "10 x 12 in"          any other piece

The sheet is taken as given, selvages off and edges straight, unless --squaring
says what is trimmed off its raw edges. Cuts run from edge to edge.

One size from one sheet is drawn. Several sizes or several sheets, each with a
--from of its own, make a chart, with and without turning the pieces; --formats
writes it as a table for spreadsheets and as a page to hang up.

` + example(`pinfold yield "2 1/2 x 4 1/2" --from "fat quarter"`, "rectangles from a fat quarter"),
		Flags: slices.Concat([]cli.Flag{
			&cli.StringSliceFlag{Name: "from", Usage: "the `SHEET` to cut, as often as there are sheets"},
			&cli.StringFlag{Name: "squaring", Value: "0", Usage: "trim this `WIDTH` off every raw edge first"},
			&cli.BoolFlag{Name: "no-turn", Usage: "pieces keep their direction, as for one-way prints and stripes"},
			unitFlag("in"),
			&cli.BoolFlag{Name: "chart", Usage: "make a chart of one size and one sheet as well"},
		}, chartOutput.flags(), []cli.Flag{
			&cli.BoolFlag{Name: "json", Usage: "print each answer as a line of JSON"},
		}),
		Action: yield,
	}
}

// question is what yield is asked.
type question struct {
	unit     units.Unit
	sizes    []units.Size
	cloths   []cloth
	sheets   []pack.Sheet // of the cloths
	squaring units.Length
	turn     bool
}

func readQuestion(c *cli.Context) (question, error) {
	q := question{turn: !c.Bool("no-turn")}
	var err error
	if q.unit, err = unitOr(c, units.Inches); err != nil {
		return q, err
	}
	if q.sizes, err = parseSizes(c.Args().Slice(), q.unit); err != nil {
		return q, err
	}
	if !c.IsSet("from") {
		return q, badInput("yield needs the sheet to cut").with("like: pinfold yield %q --from \"fat quarter\"", q.sizes[0].Number(q.unit))
	}
	if q.squaring, err = units.Parse(c.String("squaring"), q.unit); err != nil {
		return q, badInput("--squaring: %v", err)
	}
	for _, s := range c.StringSlice("from") {
		from, err := parseCloth(s, q.unit)
		if err != nil {
			return q, err
		}
		sheet := from.sheet(q.squaring)
		if w, h := sheet.Usable(); w <= 0 || h <= 0 {
			return q, badInput("squaring of %s leaves nothing of %s", q.squaring.Format(q.unit), from.size.Format(q.unit))
		}
		q.cloths, q.sheets = append(q.cloths, from), append(q.sheets, sheet)
	}
	if n := len(q.sizes) * len(q.cloths); n > mostCells {
		return q, badInput("a chart of %d sizes and %d sheets has %d cells, too many", len(q.sizes), len(q.cloths), n).with("the most is %d: make several charts", mostCells)
	}
	return q, nil
}

func yield(c *cli.Context) error {
	q, err := readQuestion(c)
	if err != nil {
		return err
	}
	asked := c.Bool("chart") || c.IsSet("formats") || c.IsSet("out") || c.IsSet("paper")
	switch {
	case c.Bool("json") && asked:
		return badInput("--json is no chart").with("leave out --chart, --formats, --out and --paper, or write --formats csv")
	case !c.Bool("json") && (asked || len(q.sizes) > 1 || len(q.cloths) > 1):
		return yieldChart(c, q)
	}
	var answer bytes.Buffer
	for _, size := range q.sizes {
		for i, from := range q.cloths {
			y, err := fill(c.Context, q.sheets[i], size, q.turn)
			if err != nil {
				return err
			}
			if c.Bool("json") {
				err = y.json(&answer)
			} else {
				y.text(&answer, from, q.squaring, q.unit)
			}
			if err != nil {
				return bugError(err)
			}
		}
	}
	if err := show(c.App.Writer, answer.Bytes()); err != nil {
		return err
	}
	if c.Context.Err() != nil {
		return errInterrupted
	}
	return nil
}

// parseSizes reads one size an argument. A size the shell has torn apart at its
// spaces is put together again.
func parseSizes(args []string, u units.Unit) ([]units.Size, error) {
	if len(args) == 0 {
		return nil, badInput("yield needs a size").with("like: pinfold yield \"2 1/2 x 4 1/2\" --from \"fat quarter\"")
	}
	var sizes []units.Size
	for _, a := range args {
		s, err := units.ParseSize(a, u)
		if err == nil {
			sizes = append(sizes, s)
			continue
		}
		if whole, err := units.ParseSize(strings.Join(args, " "), u); err == nil {
			return []units.Size{whole}, nil
		}
		return nil, badInput("%v", err).with("quote what has spaces: \"2 1/2 x 4 1/2\", \"fat quarter\"")
	}
	return sizes, nil
}

// yielded is the answer for one size.
type yielded struct {
	problem pack.Problem
	size    units.Size
	result  pack.FillResult
}

// fill asks for as many pieces of the size as one sheet holds.
func fill(ctx context.Context, sheet pack.Sheet, size units.Size, turn bool) (yielded, error) {
	p := pack.Problem{
		Sheets: []pack.Sheet{sheet},
		Pieces: []pack.Piece{{ID: "A", W: size.Across, H: size.Along, Demand: pack.MaxDemand, Turn: turn, Value: 1}},
	}
	r, err := pack.Fill(ctx, p, pack.Options{})
	if err != nil {
		return yielded{}, bugError(err)
	}
	return yielded{p, size, r}, nil
}

func (y yielded) text(b *bytes.Buffer, from cloth, squaring units.Length, u units.Unit) {
	r := y.result
	fmt.Fprintf(b, "%s of %s from %s", pieces(r.Count), y.size.Format(u), from.format(u))
	if squaring > 0 {
		w, h := y.problem.Sheets[0].Usable()
		fmt.Fprintf(b, ", squared to %s", units.Size{Along: h, Across: w}.Format(u))
	}
	switch {
	case r.Proved && r.Count == 0:
		fmt.Fprint(b, "\nproved: it does not fit\n")
	case r.Proved:
		fmt.Fprint(b, "\nproved: no edge-to-edge cutting gives more\n")
	default:
		fmt.Fprintf(b, "\nbest found: more than %d is impossible, whether %d is possible is not known\n", r.Bound, r.Bound)
	}
	if r.Count == 0 {
		return
	}
	if d := diagram(r.Layout, u); d != "" {
		fmt.Fprintf(b, "\n%s", d)
	} else {
		fmt.Fprint(b, "\nthe pieces are too small on this sheet to draw here\n")
	}
}

func pieces(n int) string { return counted(n, "piece") }

// json writes the answer on one line, lengths in ticks.
func (y yielded) json(b *bytes.Buffer) error {
	r := y.result
	text, err := json.Marshal(struct {
		Count    int             `json:"count"`
		Bound    int64           `json:"bound"`
		Proved   bool            `json:"proved"`
		ProvedBy string          `json:"proved_by,omitempty"`
		Ticks    units.Length    `json:"ticks_per_inch"`
		Size     [2]units.Length `json:"size"` // across, along
		Sheet    any             `json:"sheet"`
	}{r.Count, r.Bound, r.Proved, r.ProvedBy, units.Inch, [2]units.Length{y.size.Across, y.size.Along}, reports.LayoutJSON(y.problem, r.Layout)})
	if err != nil {
		return err
	}
	b.Write(text)
	b.WriteByte('\n')
	return nil
}
