package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/pack"
	"pinfold/reports"
	"pinfold/units"
)

func yieldCommand() *cli.Command {
	return &cli.Command{
		Name:      "yield",
		Usage:     "how many pieces of one size come out of a sheet",
		ArgsUsage: "SIZE... --from SHEET",
		Description: `SIZE is along the selvage x across, like "2 1/2 x 4 1/2". Each size is answered by
itself, as if the whole sheet went into it. SHEET is one of

    "fat quarter"         18 x 22 in; "fat quarter 18 x 21 in" for another size
    "fat eighth"          9 x 22 in, or the size behind it
    "1/2 yd"              off the bolt, 40 in wide; "1/2 yd x 42", "0.5 m x 110"
    "10 x 12 in"          any other piece

The sheet is taken as given, selvages off and edges straight, unless --squaring
says what is trimmed off its raw edges. Cuts run from edge to edge.

` + example(`pinfold yield "2 1/2 x 4 1/2" --from "fat quarter"`, "rectangles from a fat quarter"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "from", Usage: "the `SHEET` to cut"},
			&cli.StringFlag{Name: "squaring", Value: "0", Usage: "trim this `WIDTH` off every raw edge first"},
			&cli.BoolFlag{Name: "no-turn", Usage: "pieces keep their direction, as for one-way prints and stripes"},
			unitFlag(),
			&cli.BoolFlag{Name: "json", Usage: "print each answer as a line of JSON"},
		},
		Action: yield,
	}
}

func yield(c *cli.Context) error {
	u, err := units.ParseUnit(c.String("unit"))
	if err != nil {
		return badInput("%v", err)
	}
	sizes, err := parseSizes(c.Args().Slice(), u)
	if err != nil {
		return err
	}
	if !c.IsSet("from") {
		return badInput("yield needs the sheet to cut").with("like: pinfold yield %q --from \"fat quarter\"", sizes[0].Number(u))
	}
	from, err := parseCloth(c.String("from"), u)
	if err != nil {
		return err
	}
	squaring, err := units.Parse(c.String("squaring"), u)
	if err != nil {
		return badInput("--squaring: %v", err)
	}
	sheet := from.sheet(squaring)
	if w, h := sheet.Usable(); w <= 0 || h <= 0 {
		return badInput("squaring of %s leaves nothing of %s", squaring.Format(u), from.size.Format(u))
	}
	var answer bytes.Buffer
	interrupted := false
	for i, size := range sizes {
		y, err := fill(c.Context, sheet, size, !c.Bool("no-turn"))
		if err != nil {
			return err
		}
		interrupted = interrupted || c.Context.Err() != nil
		if c.Bool("json") {
			err = y.json(&answer)
		} else {
			if i > 0 {
				answer.WriteByte('\n')
			}
			y.text(&answer, from, squaring, u)
		}
		if err != nil {
			return bugError(err)
		}
	}
	if err := show(c.App.Writer, answer.Bytes()); err != nil {
		return err
	}
	if interrupted {
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

func pieces(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return fmt.Sprintf("%d pieces", n)
}

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
