package main

import (
	"context"
	"slices"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

var makesOutput = output{
	noun: "the layouts", file: "makes", formats: reports.Formats(), usual: "text,pdf,html,svg,csv,json",
	flag: "layouts", into: "write the layouts of the mix, and the answer, into the folder `DIR`",
}

func makesCommand() *cli.Command {
	return &cli.Command{
		Name:      "makes",
		Usage:     "what the stash alone can make of the plan, with nothing bought",
		ArgsUsage: "[PLAN]",
		Description: `Says how many of the ornaments PLAN lists can be made from its stash: the largest
mix, no ornament more often than listed; and for each ornament in its colourway
the most when the whole stash goes into it, which fabric runs out first, and
what one more would lack. Every number has been cut on paper, spares included,
and comes with the proof that more cannot be done, or with what is proved.
Without PLAN it is the demo.

    pinfold makes fair/plan.yaml --layouts from-stash

also writes the cutting plan of the mix into the folder from-stash.

Exit codes: 0 done, 1 layouts are wanted and nothing can be made, 2 bad input,
130 interrupted.

` + example("pinfold makes --effort quick --in-proportion", "the demo's stash, shared out as the list has it"),
		Flags: slices.Concat([]cli.Flag{
			&cli.BoolFlag{Name: "in-proportion", Usage: "keep to the list's proportions instead of making the most ornaments"},
		}, makesOutput.flags(), []cli.Flag{
			makesOutput.jsonFlag(),
			&cli.BoolFlag{Name: "csv", Usage: "print makes.csv instead of the text"},
		}, lookFlags()),
		Action: makes,
	}
}

func makes(c *cli.Context) error {
	if c.Bool("json") && c.Bool("csv") {
		return badInput("--json and --csv both print instead of the text").with("write one of them")
	}
	w, p, undo, err := prepared(c, makesOutput)
	if err != nil {
		return err
	}
	defer undo()
	if w.dir == "" && c.IsSet("paper") {
		return badInput("--paper is for the layouts").with("write --layouts and a folder for them, like: --layouts from-stash")
	}
	m, err := solveMakes(c, p, w)
	if err != nil {
		return err
	}
	rep := reports.NewMakes(m)
	if m.Result != nil && len(w.formats) > 0 {
		if _, err := rep.Write(w.dir, w.formats, w.paper); err != nil {
			return badInput("%v", err)
		}
	}
	if err := showMakes(c, rep, m, w); err != nil {
		return err
	}
	switch {
	case c.Context.Err() != nil:
		return errInterrupted
	case m.Result == nil && w.dir != "":
		return failure{code: exitShort, msg: "the stash alone makes none of these ornaments, so there is nothing to lay out",
			hint: "pinfold shop tells what to buy"}
	}
	return nil
}

// solveMakes asks what the stash makes.
func solveMakes(c *cli.Context, p *plan.Plan, w wishes) (*plan.Makes, error) {
	return searched(c, w.look, func(ctx context.Context, o plan.Options) (*plan.Makes, error) {
		return plan.SolveMakes(ctx, p, plan.MakesOptions{Options: o, InProportion: c.Bool("in-proportion")})
	})
}

// showMakes prints what goes to the screen.
func showMakes(c *cli.Context, rep *reports.MakesReport, m *plan.Makes, w wishes) error {
	text, where := rep.WriteText, w.written("layouts of the mix are")
	if m.Result == nil {
		where = ""
	}
	if c.Bool("csv") {
		w.text, text, where = true, rep.WriteCSV, ""
	}
	return reply(c, w, rep.WriteJSON, text, where)
}
