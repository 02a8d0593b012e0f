// Packbench runs families of open benchmark instances through package pack and
// prints what it reaches beside the best published results.
//
//	packbench -family FILE [-family FILE]... [-turn] [-stages N] [-effort quick|normal|thorough]
//	          [-only REGEXP] [-seed N] [-workers N] [-out FILE [-resume]] [-unproved FILE]
//	packbench -scores FILE -keep DIR -family FILE...
//
// A family is a JSON file of instances of one problem: binpack and cutstock (the
// fewest sheets, or the least cost when there are several sizes), knapsack (the
// most value from one sheet) or strip (the shortest length of a width). Each
// instance is printed as one line:
//
//	name, result, best known result, proved bound, whether proved best, milliseconds
//
// followed by the family's totals. -out writes the layouts as JSON. With -resume
// what -out already holds is not run again, so a long run may be interrupted.
// -unproved FILE takes the instances proved in FILE, the -out of an earlier run,
// as they are there and runs only the others.
//
// -scores runs every family without and with turning, keeps each run's -out in
// the folder given by -keep, resuming there, and writes the table of the totals.
//
// Instances' whole numbers are used as ticks: there is no unit.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"regexp"

	"pinfold/pack"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// The exit codes.
const (
	exitDone        = 0
	exitInput       = 2
	exitInterrupted = 130
)

type config struct {
	families []string
	turn     bool
	stages   int
	effort   pack.Effort
	only     *regexp.Regexp
	seed     uint64
	workers  int
	out      string
	resume   bool
	unproved string
	scores   string
	keep     string
}

func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	c, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return exitDone
	}
	if err == nil {
		if c.scores != "" {
			err = writeScores(ctx, c, stdout)
		} else {
			err = runAll(ctx, c, stdout)
		}
	}
	switch {
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "packbench: interrupted: what was finished is written")
		return exitInterrupted
	case err != nil:
		fmt.Fprintln(stderr, "packbench:", err)
		return exitInput
	}
	return exitDone
}

func parse(args []string, stderr io.Writer) (config, error) {
	c := config{only: regexp.MustCompile("")}
	fs := flag.NewFlagSet("packbench", flag.ContinueOnError)
	fs.SetOutput(stderr)
	fs.Func("family", "a `FILE` of instances; may be given several times", func(s string) error {
		c.families = append(c.families, s)
		return nil
	})
	fs.BoolVar(&c.turn, "turn", false, "pieces may be turned")
	fs.IntVar(&c.stages, "stages", 0, "most changes of direction, a last trim being free; 0 for no limit")
	fs.Func("effort", "quick, normal or thorough (normal)", func(s string) error {
		for _, e := range []pack.Effort{pack.Quick, pack.Normal, pack.Thorough} {
			if e.String() == s {
				c.effort = e
				return nil
			}
		}
		return fmt.Errorf("write quick, normal or thorough")
	})
	fs.Func("only", "run the instances whose name matches `REGEXP`", func(s string) (err error) {
		c.only, err = regexp.Compile(s)
		return err
	})
	fs.Uint64Var(&c.seed, "seed", 0, "chooses the random streams")
	fs.IntVar(&c.workers, "workers", 0, "cores to use; 0 for all")
	fs.StringVar(&c.out, "out", "", "write the results as JSON to `FILE`")
	fs.BoolVar(&c.resume, "resume", false, "keep what -out holds and run the rest")
	fs.StringVar(&c.unproved, "unproved", "", "run only what `FILE`, an earlier -out, does not prove")
	fs.StringVar(&c.scores, "scores", "", "run the families both ways and write the table of scores to `FILE`")
	fs.StringVar(&c.keep, "keep", "", "`DIR` for the results behind the scores")
	if err := fs.Parse(args); err != nil {
		return c, err
	}
	switch {
	case fs.NArg() > 0:
		return c, fmt.Errorf("unexpected argument %q, write -family %s", fs.Arg(0), fs.Arg(0))
	case len(c.families) == 0:
		return c, fmt.Errorf("nothing to run, write -family FILE")
	case c.stages < 0:
		return c, fmt.Errorf("-stages %d is negative, write 0 for no limit", c.stages)
	case c.resume && c.out == "":
		return c, fmt.Errorf("-resume needs the file to go on with, write -out FILE")
	case c.out != "" && len(c.families) > 1:
		return c, fmt.Errorf("-out takes one family, write -family once")
	case c.scores != "" && (c.keep == "" || c.out != "" || c.unproved != "" || c.turn):
		return c, fmt.Errorf("-scores runs both ways and keeps its results, write -keep DIR and neither -turn, -out nor -unproved")
	}
	return c, nil
}

// runAll runs the families one after another.
func runAll(ctx context.Context, c config, w io.Writer) error {
	for i, file := range c.families {
		f, err := readFamily(file)
		if err != nil {
			return err
		}
		if i > 0 {
			fmt.Fprintln(w)
		}
		if _, err := runFamily(ctx, c, f, w); err != nil {
			return err
		}
	}
	return nil
}
