package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

// output is what a command can write into a folder. Its flags, their help and what
// is said of their values are the same with every command.
type output struct {
	noun    string           // what is written, "a cost"
	file    string           // the name of its files, without the ending
	formats []reports.Format // how it can be written, besides text on the screen
	usual   string           // the formats it has without --formats
	flag    string           // the flag that names the folder
	folder  string           // the folder without that flag, "" for none
	into    string           // the help of that flag
}

// flags are those of every command that writes an output.
func (o output) flags() []cli.Flag {
	out := []cli.Flag{
		&cli.StringFlag{Name: o.flag, Value: o.folder, Usage: o.into},
		&cli.StringFlag{Name: "formats", Value: o.usual, Usage: "write these `FORMATS` of " + o.known() + "; text is on the screen"},
	}
	if slices.Contains(o.formats, reports.PDF) {
		out = append(out, &cli.StringFlag{Name: "paper", Usage: "print on `PAPER`, letter or a4 (default: by the unit)"})
	}
	return out
}

// jsonFlag is the flag that prints an output as JSON.
func (o output) jsonFlag() cli.Flag {
	return &cli.BoolFlag{Name: "json", Usage: "print " + o.file + ".json instead of the text"}
}

// known lists the formats as --formats takes them.
func (o output) known() string {
	names := []string{"text"}
	for _, f := range o.formats {
		names = append(names, string(f))
	}
	return strings.Join(names, ",")
}

// wishes are the flags of a command that writes an output, read.
type wishes struct {
	dir     string // "" for none
	paper   reports.Paper
	formats []reports.Format // of the files
	text    bool             // on the screen
	json    bool
	look
}

// read reads the flags of [output.flags] and --json. A folder that nobody named where
// there is no usual one is no fault unless files are asked for.
func (o output) read(c *cli.Context) (wishes, error) {
	w := wishes{dir: c.String(o.flag), json: c.Bool("json")}
	if w.dir == "" && c.IsSet(o.flag) {
		return w, badInput("--%s is empty", o.flag).with("write the folder to put %s in", o.noun)
	}
	var err error
	if w.paper, err = reports.ParsePaper(c.String("paper")); err != nil {
		return w, badInput("--paper: %v", err)
	}
	if w.text, w.formats, err = o.parseFormats(c.String("formats")); err != nil {
		return w, err
	}
	if w.dir == "" {
		if len(w.formats) > 0 && c.IsSet("formats") {
			return w, badInput("there is no folder to write into").with("write --%s and the folder to put %s in", o.flag, o.noun)
		}
		w.formats = nil
	}
	return w, nil
}

// parseFormats parts what goes to the screen from the files.
func (o output) parseFormats(s string) (text bool, files []reports.Format, err error) {
	for word := range strings.SplitSeq(s, ",") {
		f := reports.Format(strings.ToLower(strings.TrimSpace(word)))
		switch {
		case f == "text":
			text = true
		case slices.Contains(files, f):
		case slices.Contains(o.formats, f):
			files = append(files, f)
		default:
			fault := badInput("--formats: unknown format %q", word)
			if slices.Contains(reports.Formats(), f) {
				fault = badInput("--formats: %s cannot be written as %s", o.noun, f)
			}
			return false, nil, fault.with("write one or more of %s with commas between", strings.ReplaceAll(o.known(), ",", ", "))
		}
	}
	return text, files, nil
}

// prepared reads the flags of an output and of the search and the plan, and makes sure
// that what is asked for can be written. undo takes an empty folder away again.
func prepared(c *cli.Context, o output) (w wishes, p *plan.Plan, undo func(), err error) {
	undo = func() {}
	if w, err = o.read(c); err != nil {
		return w, nil, undo, err
	}
	if w.look, err = readLook(c); err != nil {
		return w, nil, undo, err
	}
	if p, err = readPlan(c); err != nil || len(w.formats) == 0 {
		return w, p, undo, err
	}
	undo, err = probe(w.dir, o.flag)
	return w, p, undo, err
}
