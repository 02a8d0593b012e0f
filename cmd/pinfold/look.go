package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/urfave/cli/v2"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// look is how long and in what order a command searches.
type look struct {
	effort  pack.Effort
	seed    uint64
	maxTime time.Duration
}

// lookFlags are the flags of every command that searches.
func lookFlags() []cli.Flag {
	return []cli.Flag{
		&cli.Uint64Flag{Name: "seed", Usage: "another `NUMBER` searches in another order"},
		&cli.StringFlag{Name: "effort", Value: "normal", Usage: "look for something better with `EFFORT`, quick, normal or thorough"},
		&cli.StringFlag{Name: "max-time", Usage: "stop after `TIME`, like 30s or 2m, with the best so far"},
	}
}

func readLook(c *cli.Context) (l look, err error) {
	l.seed = c.Uint64("seed")
	if l.effort, err = parseEffort(c.String("effort")); err != nil {
		return l, err
	}
	l.maxTime, err = parseTime(c.String("max-time"))
	return l, err
}

// searched asks a question of the solver, within the time if there is a limit, and
// shows how far it is.
func searched[T any](c *cli.Context, l look, ask func(context.Context, plan.Options) (T, error)) (T, error) {
	ctx := c.Context
	if l.maxTime > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, l.maxTime)
		defer cancel()
	}
	show := newProgress(c.App.ErrWriter)
	defer show.done()
	got, err := ask(ctx, plan.Options{Effort: l.effort, Seed: l.seed, Progress: show.progress})
	if err != nil && !errors.Is(err, units.ErrOverflow) && !errors.Is(err, context.Canceled) {
		// What a user can get wrong was told when the plan was read.
		return got, bugError(err)
	}
	return got, err
}

// reply prints what goes to the screen: JSON if it is asked for, else, if text is
// wanted, the text and, where files are written, where they are.
func reply(c *cli.Context, w wishes, json, text func(io.Writer) error, where ...string) error {
	var b bytes.Buffer
	var err error
	switch {
	case w.json:
		err = json(&b)
	case w.text:
		err = text(&b)
		for _, line := range where {
			if line != "" && err == nil {
				fmt.Fprintf(&b, "\n%s\n", line)
			}
		}
	}
	if err != nil {
		return bugError(err)
	}
	return show(c.App.Writer, b.Bytes())
}

// written says where files lie, "" if there are none.
func (w wishes) written(what string) string {
	if w.dir == "" || len(w.formats) == 0 {
		return ""
	}
	return fmt.Sprintf("The %s in the folder %s.", what, w.dir)
}
