package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
	"pinfold/units"
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
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "formats", Value: "text", Usage: "write these `FORMATS`, text, csv, json; text is on the screen"},
			&cli.StringFlag{Name: "out", Value: "compare", Usage: "write compare.csv and compare.json into the folder `DIR`"},
			&cli.Uint64Flag{Name: "seed", Usage: "another `NUMBER` searches in another order"},
			&cli.StringFlag{Name: "effort", Value: "normal", Usage: "look for something better with `EFFORT`, quick, normal or thorough"},
			&cli.StringFlag{Name: "max-time", Usage: "stop after `TIME`, like 30s or 2m, with the best so far"},
			&cli.BoolFlag{Name: "json", Usage: "print compare.json instead of the table"},
		},
		Action: compare,
	}
}

func compare(c *cli.Context) error {
	w, err := readCompareWishes(c)
	if err != nil {
		return err
	}
	p, err := readPlan(c)
	if err != nil {
		return err
	}
	undo := func() {}
	if len(w.formats) > 0 {
		if undo, err = probe(w.dir); err != nil {
			return err
		}
	}
	defer undo()
	got, err := solveCompare(c, p, w)
	if err != nil {
		return err
	}
	trade := reports.NewTrade(got)
	if len(w.formats) > 0 {
		if _, err := trade.Write(w.dir, w.formats); err != nil {
			return badInput("%v", err)
		}
	}
	var b bytes.Buffer
	switch {
	case w.json:
		err = trade.WriteJSON(&b)
	case w.text:
		if err = trade.WriteText(&b); err == nil && len(w.formats) > 0 {
			fmt.Fprintf(&b, "\nThe comparison is in the folder %s.\n", w.dir)
		}
	}
	if err != nil {
		return bugError(err)
	}
	if err := show(c.App.Writer, b.Bytes()); err != nil {
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

// solveCompare lays the plan out by each preference, within the time if there is a
// limit.
func solveCompare(c *cli.Context, p *plan.Plan, w wishes) (*plan.Comparison, error) {
	ctx := c.Context
	if w.maxTime > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, w.maxTime)
		defer cancel()
	}
	show := newProgress(c.App.ErrWriter)
	defer show.done()
	got, err := plan.Compare(ctx, p, plan.Options{Effort: w.effort, Seed: w.seed, Progress: show.progress})
	if err != nil && !errors.Is(err, units.ErrOverflow) && !errors.Is(err, context.Canceled) {
		// What a user can get wrong was told when the plan was read.
		return nil, bugError(err)
	}
	return got, err
}

func readCompareWishes(c *cli.Context) (wishes, error) {
	w := wishes{dir: c.String("out"), json: c.Bool("json"), seed: c.Uint64("seed")}
	if w.dir == "" {
		return w, badInput("--out is empty").with("write the folder to put the comparison in")
	}
	var err error
	if w.text, w.formats, err = parseFormats(c.String("formats")); err != nil {
		return w, err
	}
	for _, f := range w.formats {
		if f != reports.CSV && f != reports.JSON {
			return w, badInput("--formats: a comparison cannot be written as %s", f).with("write one or more of text, csv, json with commas between")
		}
	}
	if w.effort, err = parseEffort(c.String("effort")); err != nil {
		return w, err
	}
	w.maxTime, err = parseTime(c.String("max-time"))
	return w, err
}
