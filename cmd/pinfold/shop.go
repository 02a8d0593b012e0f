package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

var shopOutput = output{
	noun: "the list", file: "shopping", formats: []reports.Format{reports.PDF, reports.HTML, reports.CSV, reports.JSON}, usual: "text,pdf,html,csv,json",
	flag: "out", into: "write the list into the folder `DIR` (default: only on the screen)",
}

func shopCommand() *cli.Command {
	return &cli.Command{
		Name:      "shop",
		Usage:     "the list for the counter: what to ask for, why less will not do, and what else there is",
		ArgsUsage: "[PLAN]",
		Description: `Says for every fabric what to ask for in the shop and what it costs; why less
will not do; the next cheaper purchase and which pieces it would lack; the next
safer one and what it leaves; down to which width the purchase does; and what
the ways to buy cost side by side. Every one of them is solved and checked like
the answer itself. Without PLAN it is the demo. Tax is left to you.

What may turn out otherwise is asked with --usable, --shrinks and --fat-quarter,
each for all fabrics or for one, as often as needed:

    pinfold shop fair/plan.yaml --usable "blue plain=41" --shrinks 4%
    pinfold shop fair/plan.yaml --fat-quarter "17 1/2 x 20" --budget 40

Exit codes: 0 done, 1 the pieces cannot be cut from what there is or the budget
does not do, 2 bad input, 130 interrupted.

` + example("pinfold shop --effort quick --out shopping", "the demo's list on the screen, and to print or for the phone in the folder shopping"),
		Flags: slices.Concat(shopOutput.flags(), []cli.Flag{
			&cli.StringFlag{Name: "layouts", Usage: "write the cutting plan of what is bought into the folder `DIR`"},
			&cli.StringFlag{Name: "budget", Usage: "spend at most `MONEY`, like 40.00, instead of the plan's budget"},
			listFlag("usable", "assume a usable `WIDTH`, or FABRIC=WIDTH"),
			listFlag("shrinks", "assume that cloth shrinks by `PERCENT`, or FABRIC=PERCENT"),
			listFlag("fat-quarter", "assume fat quarters of `SIZE`, or FABRIC=SIZE"),
			shopOutput.jsonFlag(),
		}, lookFlags()[:2]), // what it proves takes the time it takes
		Action: shop,
	}
}

// texts collects the values of a flag that may be given more than once. Unlike
// the library's lists it leaves commas alone: they stand in numbers and names.
type texts struct{ list []string }

// Set implements cli.Generic.
func (t *texts) Set(s string) error {
	t.list = append(t.list, s)
	return nil
}

// String implements cli.Generic.
func (t *texts) String() string { return strings.Join(t.list, "; ") }

func listFlag(name, usage string) cli.Flag {
	return &cli.GenericFlag{Name: name, Usage: usage, Value: &texts{}}
}

// given are the values of a list flag.
func given(c *cli.Context, name string) []string {
	if t, ok := c.Generic(name).(*texts); ok {
		return t.list
	}
	return nil
}

// trip is what shop is asked for.
type trip struct {
	wishes
	layouts string // the folder for the cutting plan, "" for none
	ifs     plan.WhatIf
	budget  *int64
}

// readTrip reads the flags that only shop has.
func readTrip(c *cli.Context, w wishes) (trip, error) {
	t := trip{wishes: w, layouts: c.String("layouts")}
	switch {
	case t.layouts == "" && c.IsSet("layouts"):
		return t, badInput("--layouts is empty").with("write the folder to put the cutting plan in")
	case t.layouts == "" && t.dir == "" && c.IsSet("paper"):
		return t, badInput("--paper is for the files").with("write --out and the folder to put the list in")
	}
	if c.IsSet("budget") {
		v, err := plan.ParsePrice(c.String("budget"))
		if err != nil {
			return t, badInput("--budget: %v", err)
		}
		t.budget = &v
	}
	t.ifs = plan.WhatIf{Usable: given(c, "usable"), Shrinks: given(c, "shrinks"), FatQuarter: given(c, "fat-quarter")}
	return t, nil
}

func shop(c *cli.Context) error {
	w, written, undo, err := prepared(c, shopOutput)
	if err != nil {
		return err
	}
	defer undo()
	t, err := readTrip(c, w)
	if err != nil {
		return err
	}
	p, changes, err := written.With(t.ifs)
	if err != nil {
		return badInput("%v", err)
	}
	if t.budget != nil {
		p.Budget = t.budget
	}
	if t.layouts != "" {
		undo, err := probe(t.layouts, "layouts")
		if err != nil {
			return err
		}
		defer undo()
	}
	rep, err := counter(c, written, p, changes, t)
	if err != nil {
		return err
	}
	if len(t.formats) > 0 {
		if _, err := rep.Write(t.dir, t.formats, t.paper); err != nil {
			return badInput("%v", err)
		}
	}
	if t.layouts != "" {
		if _, err := rep.CuttingPlan().Write(t.layouts, reports.Formats(), t.paper); err != nil {
			return badInput("%v", err)
		}
	}
	if err := showShop(c, rep, t); err != nil {
		return err
	}
	switch {
	case c.Context.Err() != nil:
		return errInterrupted
	case len(rep.Missing) > 0:
		return failure{code: exitShort, msg: "the plan cannot be cut from what there is: " + strings.Join(rep.Missing, "; "),
			hint: "add cloth to the stash or a way to buy it"}
	case rep.Budget != nil && !rep.Budget.Fits:
		return failure{code: exitShort, msg: fmt.Sprintf("the budget of %s does not buy everything", rep.Budget.Limit),
			hint: "make fewer, use another fabric, or spend up to " + rep.Total}
	}
	return nil
}

// counter works the list out; with assumptions also the plan as it is written.
func counter(c *cli.Context, written, p *plan.Plan, changes []string, t trip) (*reports.ShopReport, error) {
	var before *plan.Result
	if len(changes) > 0 {
		var err error
		before, err = searched(c, t.look, func(ctx context.Context, o plan.Options) (*plan.Result, error) {
			return plan.AtCounter(ctx, written, o)
		})
		if err != nil {
			return nil, err
		}
	}
	s, err := searched(c, t.look, func(ctx context.Context, o plan.Options) (*plan.Shop, error) { return plan.SolveShop(ctx, p, o) })
	if err != nil {
		return nil, err
	}
	return reports.NewShop(s, before, changes), nil
}

func showShop(c *cli.Context, rep *reports.ShopReport, t trip) error {
	where := ""
	if t.layouts != "" {
		where = fmt.Sprintf("The cutting plan is in the folder %s.", t.layouts)
	}
	return reply(c, t.wishes, rep.WriteJSON, rep.WriteText, t.written("list is"), where)
}
