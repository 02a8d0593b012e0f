package main

import (
	"context"
	"slices"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

var compareOutput = output{
	noun: "a comparison", file: "compare", formats: []reports.Format{reports.CSV, reports.JSON}, usual: "text",
	flag: "out", folder: "compare", into: "write compare.csv and compare.json into the folder `DIR`",
}

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
		Flags:  slices.Concat(compareOutput.flags(), []cli.Flag{compareOutput.jsonFlag()}, lookFlags()),
		Action: compare,
	}
}

func compare(c *cli.Context) error {
	w, p, undo, err := prepared(c, compareOutput)
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
