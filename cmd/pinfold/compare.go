package main

import (
	"context"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

func compareCommand() *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "thrift, fewer passes and balanced side by side",
		ArgsUsage: "[PLAN]",
		Description: `Cuts PLAN once for each thing a maker may want most after money, and shows what it
comes to in money, cloth, passes of the cutter and time. Without PLAN it is the demo.

    thrift        the least cloth from the stash, then the most useful offcuts,
                  then the fewest passes
    fewer passes  the fewest passes, whatever of the stash it takes
    balanced      the fewest passes that 3% more cloth of the stash buys

The time is the passes times a rule of thumb, which is yours to set. It and the
preference stand in the plan:

    cutting: {layers: 4, prefer: balanced, seconds a pass: 20}

` + example("pinfold compare --effort quick", "the three preferences on the demo"),
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "formats", Value: "text", Usage: "write these `FORMATS`, text, csv, json; text is on the screen"},
			&cli.StringFlag{Name: "out", Value: "compare", Usage: "write compare.csv and compare.json into the folder `DIR`"},
			&cli.BoolFlag{Name: "json", Usage: "print compare.json instead of the table"},
		}, lookFlags()...),
		Action: compare,
	}
}

func compare(c *cli.Context) error {
	w, p, undo, err := prepared(c, readCompareWishes)
	if err != nil {
		return err
	}
	defer undo()
	got, err := searched(c, w.look, func(ctx context.Context, o plan.Options) (*plan.Comparison, error) { return plan.Compare(ctx, p, o) })
	if err != nil {
		return err
	}
	trade := reports.NewTrade(got)
	if len(w.formats) > 0 {
		if _, err := trade.Write(w.dir, w.formats); err != nil {
			return badInput("%v", err)
		}
	}
	if err := reply(c, w, trade.WriteJSON, trade.WriteText, w.written("comparison is")); err != nil {
		return err
	}
	switch {
	case c.Context.Err() != nil:
		return errInterrupted
	case short(got.Rows[0].Result):
		return failure{code: exitShort, msg: "the plan cannot be cut from what there is, so pieces are missing in all three",
			hint: "pinfold layout tells which"}
	}
	return nil
}

func readCompareWishes(c *cli.Context) (wishes, error) {
	w := wishes{dir: c.String("out"), json: c.Bool("json")}
	if w.dir == "" {
		return w, badInput("--out is empty").with("write the folder to put the comparison in")
	}
	var err error
	if w.text, w.formats, err = parseFormats(c.String("formats"), reports.ParseFormats); err != nil {
		return w, err
	}
	for _, f := range w.formats {
		if f != reports.CSV && f != reports.JSON {
			return w, badInput("--formats: a comparison cannot be written as %s", f).with("write one or more of text, csv, json with commas between")
		}
	}
	w.look, err = readLook(c)
	return w, err
}
