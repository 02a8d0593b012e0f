package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"pinfold/fixtures"
	"pinfold/plan"
	"pinfold/plan/ledger"
	"pinfold/units"
)

// stashFlags name the stash that a command changes.
func stashFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "stash", Usage: "keep the stash in `FILE` (default: stash.csv)"},
		&cli.StringFlag{Name: "plan", Usage: "keep the stash that the plan `PLAN` names"},
	}
}

// openStash opens the stash that the flags name. In which unit its bare numbers are
// written: the plan tells, or unit does where it is known, or a plan.yaml that lies
// beside the stash.
func openStash(c *cli.Context, unit *units.Unit) (*ledger.Book, error) {
	file, named := c.String("stash"), c.String("plan")
	switch {
	case c.IsSet("stash") && file == "", c.IsSet("plan") && named == "":
		return nil, badInput("a name is empty").with("write --stash stash.csv or --plan plan.yaml")
	case file != "" && named != "":
		return nil, badInput("--stash and --plan both name a stash").with("write one of them")
	case named != "":
		path, u, err := plan.StashOf(named)
		if err != nil {
			return nil, err
		}
		file = path
		if unit == nil {
			unit = &u
		}
	case file == "":
		file = "stash.csv"
	}
	if unit == nil {
		var u units.Unit
		beside := filepath.Join(filepath.Dir(file), fixtures.PlanFile)
		if _, err := os.Stat(beside); !errors.Is(err, fs.ErrNotExist) {
			if u, err = plan.UnitOf(beside); err != nil {
				return nil, err
			}
		}
		unit = &u
	}
	return ledger.Open(file, *unit)
}

// moved prints what a change took out and put in, piece by piece.
func moved(b *bytes.Buffer, e *ledger.Entry) {
	rows := func(t io.Writer, verb string, list []ledger.Moved) {
		for _, m := range list {
			left := ""
			if m.Left > 0 {
				left = fmt.Sprintf("%d left", m.Left)
			}
			fmt.Fprintf(t, "  %s\t%s\t%s\t%s\tx%d\t%s\t%s\n", verb, oneLine(m.ID), oneLine(m.Fabric), m.Size, m.Count, left, oneLine(m.Note))
		}
	}
	aligned(b, func(t io.Writer) {
		rows(t, "took", e.Took)
		rows(t, "put", e.Put)
	})
	if n := len(e.Named); n > 0 {
		fmt.Fprintf(b, "  %s had no id: they are now called as pinfold called them\n", pieces(n))
	}
}
