package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

var costOutput = output{
	noun: "a cost", file: "cost", formats: []reports.Format{reports.CSV, reports.JSON, reports.PDF}, usual: "text",
	flag: "out", folder: "cost", into: "write cost.csv, cost.json and cost.pdf into the folder `DIR`",
}

func costCommand() *cli.Command {
	return &cli.Command{
		Name:      "cost",
		Usage:     "what each ornament costs, in fabric and supplies",
		ArgsUsage: "[PLAN]",
		Description: `Cuts PLAN as layout does and shares the bill among its ornaments, to set a price
from: once all that is paid, waste and spares and what is left over included, and
once the cloth in the pieces alone, whether bought or from the stash. The shares
add up to the bill. Without PLAN it is the demo.

A supply has its price in the plan, for one or for a length:

    - {name: straight pins, count: 210, price: 0.02}
    - {name: hanging cord, length: 10 in, price: 0.90, per: 1 yd}

What has no price is left out, and named.

` + example("pinfold cost --effort quick --formats text,pdf --out cost", "what the ornaments of the demo cost, on the screen and to print"),
		Flags:  slices.Concat(costOutput.flags(), []cli.Flag{costOutput.jsonFlag()}, lookFlags()),
		Action: costs,
	}
}

func costs(c *cli.Context) error {
	w, p, undo, err := prepared(c, costOutput)
	if err != nil {
		return err
	}
	defer undo()
	r, err := solve(c, p, w)
	if err != nil {
		return err
	}
	cost, err := plan.CostOf(r)
	if err != nil {
		return badInput("the cost of the plan is %v", err).with("make fewer, or check the prices")
	}
	if len(cost.Bills) == 0 {
		return badInput("nothing in the plan has a price").with("write prices under buy, like - {fat quarter: 3.25}, and with the supplies, like price: 0.02")
	}
	costing := reports.NewCosting(r, cost)
	if len(w.formats) > 0 {
		if _, err := costing.Write(w.dir, w.formats, w.paper); err != nil {
			return badInput("%v", err)
		}
	}
	if err := reply(c, w, costing.WriteJSON, costing.WriteText, w.written("cost is")); err != nil {
		return err
	}
	switch {
	case c.Context.Err() != nil:
		return errInterrupted
	case short(r):
		return failure{code: exitShort, msg: "the plan cannot be cut from what there is, so this is not its whole cost",
			hint: "pinfold layout tells what is missing"}
	}
	return nil
}

// short tells whether pieces are missing.
func short(r *plan.Result) bool {
	for _, f := range r.Fabrics {
		for _, n := range f.Solution.Missing {
			if n > 0 {
				return true
			}
		}
	}
	return false
}
