package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/plan/ledger"
	"pinfold/reports"
)

func doneCommand() *cli.Command {
	return &cli.Command{
		Name:      "done",
		Usage:     "book what was cut: stash pieces go out, offcuts come in",
		ArgsUsage: "RESULT",
		Description: `RESULT is the folder of a cutting plan, or the result.json in it. The stash pieces
that it cuts are taken out of the stash, and the offcuts worth keeping put in, each
squared, with where it came from. Where the plan has sizes to keep, like

    cutting: {keep sizes: [5, 3 1/2, 2 1/2]}

offcuts are counted as strips of these widths, the widest first, as long as the
offcut is; the rest is kept if it is as large as keep.

    pinfold done cutting-plan --sheets 1,3,5-7,8x2

says that so far only the sheets 1, 3, 5, 6, 7 and two copies of 8 have been cut.
It says how far you are, so that saying it twice changes nothing; go on with all
the numbers cut until then, or without --sheets when everything is. With --over
nothing more will be cut, and what was bought for the other sheets goes into the
stash as it is. With --again the same plan was bought and cut once more.

A result that does not fit the stash - a piece is gone, or of another size - is
refused, and nothing is changed. "pinfold stash undo" takes the booking back.

` + example(`pinfold new fair
    pinfold layout fair/plan.yaml
    pinfold done cutting-plan --plan fair/plan.yaml`, "a first plan, its cutting plan, and what is left when it is cut"),
		Flags: append(stashFlags(),
			&cli.StringFlag{Name: "sheets", Usage: "only these `SHEETS` have been cut so far, like 1,3,5-7,8x2"},
			&cli.BoolFlag{Name: "over", Usage: "nothing more will be cut: uncut bought cloth goes into the stash"},
			&cli.BoolFlag{Name: "again", Usage: "the same plan was bought and cut once more"},
		),
		Action: done,
	}
}

func done(c *cli.Context) error {
	if c.NArg() != 1 {
		return badInput("done takes one result, not %s", listed(c.Args().Slice())).with("name the folder of the cutting plan, like: pinfold done cutting-plan")
	}
	rec, err := readResult(c.Args().First())
	if err != nil {
		return err
	}
	p := ledger.Progress{Over: c.Bool("over"), Again: c.Bool("again")}
	if c.IsSet("sheets") {
		if p.Cut, err = parseSheets(c.String("sheets"), rec.Sheets); err != nil {
			return err
		}
	}
	book, err := openStash(c, &rec.Unit)
	if err != nil {
		return err
	}
	e, err := book.Done(c.Context, session(rec), p)
	if err != nil {
		if faults, ok := err.(plan.Errors); ok && e == nil {
			return append(faults, plan.Fault{Pos: plan.Pos{File: book.Shown}, Msg: "nothing is changed"})
		}
		return err
	}
	var b bytes.Buffer
	if e == nil {
		fmt.Fprintf(&b, "%s: this was booked before, so nothing is changed\n", oneLine(rec.Title))
		return show(c.App.Writer, b.Bytes())
	}
	fmt.Fprintf(&b, "%s: booked %s in %s\n", oneLine(rec.Title), sheetsOf(e.Cut), book.Shown)
	moved(&b, e)
	fmt.Fprintf(&b, "took out %s, put in %s; \"pinfold stash undo\" takes it back\n", inAll(e.Took), inAll(e.Put))
	return show(c.App.Writer, b.Bytes())
}

// sheetsOf names what was booked.
func sheetsOf(cut []ledger.Booked) string {
	var out []string
	for _, s := range cut {
		name := strconv.Itoa(s.Sheet)
		if s.Copies > 1 {
			name += "x" + strconv.Itoa(s.Copies)
		}
		if s.Uncut {
			name += " uncut"
		}
		out = append(out, name)
	}
	if len(out) == 1 {
		return "sheet " + out[0]
	}
	return "sheets " + strings.Join(out, ", ")
}

// mostResult bounds a result file, far above that of the largest plan.
const mostResult = 256 << 20

// readResult reads a result.json, or the one in a folder.
func readResult(path string) (*reports.Record, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, "result.json")
	}
	info, err := os.Stat(path)
	if err == nil && info.Size() > mostResult {
		return nil, badInput("%q is too large for a result", path)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, badInput("cannot read the result %q: %v", path, cause(err)).with("name the folder of a cutting plan, or the result.json in it")
	}
	return reports.ReadResult(path, data)
}

// parseSheets reads numbers of sheets, each once: 3, 5-7, or 8x2 for two copies.
func parseSheets(s string, sheets []reports.RecordSheet) (map[int]int, error) {
	const form = "write numbers of sheets with commas between, like 1,3,5-7,8x2"
	out := map[int]int{}
	for item := range strings.SplitSeq(s, ",") {
		item = strings.TrimSpace(item)
		span, copies, some := strings.Cut(strings.ReplaceAll(strings.ReplaceAll(item, "X", "x"), "×", "x"), "x")
		from, to, ranged := strings.Cut(span, "-")
		if !ranged {
			to = from
		}
		first, err1 := strconv.ParseUint(strings.TrimSpace(from), 10, 31)
		last, err2 := strconv.ParseUint(strings.TrimSpace(to), 10, 31)
		many, err3 := strconv.ParseUint(strings.TrimSpace(copies), 10, 31)
		if err1 != nil || err2 != nil || some && (err3 != nil || many == 0) {
			return nil, badInput("--sheets: cannot read %q", item).with(form)
		}
		if first > last {
			return nil, badInput("--sheets: %q runs backwards", item).with("write %s-%s", strings.TrimSpace(to), strings.TrimSpace(from))
		}
		for n := int(first); n <= int(last); n++ {
			i := slices.IndexFunc(sheets, func(sh reports.RecordSheet) bool { return sh.Number == n })
			if i < 0 {
				return nil, badInput("--sheets: there is no sheet %d", n).with("the result has the sheets 1 to %d", len(sheets))
			}
			if _, twice := out[n]; twice {
				return nil, badInput("--sheets: sheet %d stands twice", n).with("write each sheet once, with how many copies of it are cut, like %dx2", n)
			}
			out[n] = sheets[i].Copies
			if some {
				out[n] = int(many)
			}
			if out[n] > sheets[i].Copies {
				return nil, badInput("--sheets: of sheet %d there are %d copies, not %d", n, sheets[i].Copies, out[n]).with("write %dx%d or fewer", n, sheets[i].Copies)
			}
		}
	}
	return out, nil
}

// session is a result as the stash sees it.
func session(rec *reports.Record) ledger.Session {
	s := ledger.Session{Result: rec.Hash, Title: oneLine(rec.Title), Unit: rec.Unit, Widths: rec.Widths, Keep: rec.Keep}
	for _, r := range rec.Sheets {
		s.Sheets = append(s.Sheets, ledger.Sheet{
			Number: r.Number, Fabric: r.Fabric, Piece: r.Stash, Cloth: oneLine(r.Bought), Size: r.Cloth, Copies: r.Copies,
			Whole: whole(r), Kerf: r.Kerf, Offcuts: r.Offcuts,
		})
	}
	return s
}

// whole tells whether nothing is cut from a sheet: it holds no piece and at most
// one offcut.
func whole(r reports.RecordSheet) bool {
	return r.Pieces == 0 && len(r.Offcuts) <= 1
}
