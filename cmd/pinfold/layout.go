package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"pinfold/fixtures"
	"pinfold/pack"
	"pinfold/plan"
	"pinfold/reports"
)

var layoutOutput = output{
	noun: "the plan", file: "result", formats: reports.Formats(), usual: "text,pdf,html,svg,csv,json",
	flag: "out", folder: "cutting-plan", into: "write the cutting plan into the folder `DIR`",
}

func layoutCommand() *cli.Command {
	return &cli.Command{
		Name:      "layout",
		Usage:     "work out what to buy and how to cut it, and write the cutting plan",
		ArgsUsage: "[PLAN]",
		Description: `Reads PLAN and the stash it names, cuts each fabric and writes the plan to print
into a folder; a summary goes to the screen. Without PLAN it is the demo. The
same plan, seed and effort give the same files; only --max-time and ctrl-C stop
by the clock, and then the best so far is written.

Exit codes: 0 done, 1 the plan cannot be cut from what there is (what can be cut
is written), 2 bad input, 130 interrupted.

` + example("pinfold layout --effort quick --out fair-plan", "a quick look at the demo, into the folder fair-plan"),
		Flags: slices.Concat(layoutOutput.flags(), []cli.Flag{
			&cli.BoolFlag{Name: "use-up", Usage: "cut as much as can be from scraps before anything else, as bin first in the plan"},
			layoutOutput.jsonFlag(),
		}, lookFlags()),
		Action: layout,
	}
}

func layout(c *cli.Context) error {
	w, p, undo, err := prepared(c, layoutOutput)
	if err != nil {
		return err
	}
	defer undo()
	p.Cutting.BinFirst = p.Cutting.BinFirst || c.Bool("use-up")
	r, err := solve(c, p, w)
	if err != nil {
		return err
	}
	rep := reports.New(r)
	if len(w.formats) > 0 {
		if _, err := rep.Write(w.dir, w.formats, w.paper); err != nil {
			return badInput("%v", err)
		}
	}
	if err := reply(c, w, rep.WriteJSON, rep.WriteText, w.written("plan is")); err != nil {
		return err
	}
	switch {
	case c.Context.Err() != nil:
		return errInterrupted
	case len(rep.Missing) > 0 && rep.Stopped:
		return failure{code: exitShort, msg: "the time was up before every piece had its place: " + strings.Join(rep.Missing, "; "),
			hint: "what has one is written; leave out --max-time, or write more"}
	case len(rep.Missing) > 0:
		return failure{code: exitShort, msg: "the plan cannot be cut from what there is: " + strings.Join(rep.Missing, "; "),
			hint: "what can be cut is written; add cloth to the stash or a way to buy it"}
	}
	return nil
}

func parseEffort(s string) (pack.Effort, error) {
	for _, e := range []pack.Effort{pack.Quick, pack.Normal, pack.Thorough} {
		if strings.EqualFold(s, e.String()) {
			return e, nil
		}
	}
	return 0, badInput("unknown effort %q", s).with("write quick, normal or thorough")
}

// parseTime reads "30s", "2m" or bare seconds; "" is no limit.
func parseTime(s string) (time.Duration, error) {
	if s == "" {
		return 0, nil
	}
	d, err := time.ParseDuration(s)
	if n, bare := strconv.ParseUint(s, 10, 32); bare == nil {
		d, err = time.Duration(n)*time.Second, nil
	}
	if err != nil || d <= 0 {
		return 0, badInput("cannot read %q as a time", s).with("write --max-time 30s or 2m")
	}
	return d, nil
}

// readPlan reads the plan named, or the demo.
func readPlan(c *cli.Context) (*plan.Plan, error) {
	if c.NArg() > 1 {
		return nil, badInput("%s takes one plan, not %d: %q", c.Command.Name, c.NArg(), c.Args().Slice()).with("quote a name with spaces")
	}
	if c.NArg() == 1 {
		switch name := c.Args().First(); name {
		case "":
			return nil, badInput("the name of the plan is empty").with("write the path of a plan file")
		case "-":
			return nil, badInput("a plan is read from a file, not from what is piped in").with("write the path of a plan file")
		default:
			return plan.Read(name)
		}
	}
	fmt.Fprintln(c.App.ErrWriter, "pinfold: no plan named, so this is the demo; \"pinfold new\" starts one of your own")
	return plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
}

// probe makes the folder and tries to write into it, so that a long search is
// not lost at its end; flag is what names it. undo takes the folder away again if it was not there.
func probe(dir, flag string) (undo func(), err error) {
	undo = func() {}
	if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
		undo = func() { _ = os.Remove(dir) } // fails, as it should, once something lies in it
	}
	err = os.MkdirAll(dir, 0o755)
	if err == nil {
		var f *os.File
		if f, err = os.CreateTemp(dir, ".pinfold-*"); err == nil {
			err = errors.Join(f.Close(), os.Remove(f.Name()))
		}
	}
	if err != nil {
		return nil, badInput("cannot write into the folder %q: %v", dir, cause(err)).with("choose another one with --%s, or make it writable", flag)
	}
	return undo, nil
}

// solve works the plan out.
func solve(c *cli.Context, p *plan.Plan, w wishes) (*plan.Result, error) {
	return searched(c, w.look, func(ctx context.Context, o plan.Options) (*plan.Result, error) { return plan.Solve(ctx, p, o) })
}
