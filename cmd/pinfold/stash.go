package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/plan/ledger"
	"pinfold/units"
)

func stashCommand() *cli.Command {
	return &cli.Command{
		Name:      "stash",
		Usage:     "the cloth you have: list it, put some in, take some out, undo, spreadsheets",
		ArgsUsage: "[put CLOTH ... | take ID [COUNT] | undo | history | export FILE | import FILE]",
		Description: `Without a word it lists the stash, with sums for each fabric.

    pinfold stash put "navy dot: 5 x 7, 6 x 9 x3"

puts a piece and three others of navy dot in: sizes are along the selvage x across,
and a third number is how many there are. A comma needs a blank after it. The file
is begun if it is not there. What a scrap lacks follows on its size:

    pinfold stash put "navy dot: 6 x 9 less 2 x 2 corner, 4 1/2 x 11 x3"

    pinfold stash take N4 2

takes two of the pieces N4 out, without a number one, with "all" every one.

    pinfold stash undo

takes the last change back, and said again the one before, done by whichever
command. What you changed by hand is never undone: then it says so and leaves the
file alone. "history" lists the changes.

` + exportImport + `

The stash is stash.csv, the file a --plan names, or --stash FILE. Bare numbers are
in the plan's unit, in that of a plan.yaml beside the stash, or in inches; --unit
overrules it. Beside the stash lies its history, stash.csv.history.

` + example(`pinfold stash put "navy dot: 5 x 7, 6 x 9 less 2 x 2 corner x3" --where "blue tin"
    pinfold stash export bin.xlsx
    pinfold stash import bin.xlsx --renumber --dry-run
    pinfold stash import bin.xlsx --replace
    pinfold stash export bin.csv`, "a first stash, with four pieces in it, out to a workbook and back"),
		Flags: append(append(stashFlags(), sheetFlags()...),
			unitFlag("the plan's, or in"),
			&cli.StringFlag{Name: "id", Usage: "put: call the piece `ID` (default: the fabric's letter and a number)"},
			&cli.StringFlag{Name: "where", Usage: "put: note `WHERE` the cloth lies"},
			&cli.StringFlag{Name: "note", Usage: "put: note `TEXT` beside it"},
			&cli.BoolFlag{Name: "squared", Usage: "put: all four edges are straight and square already"},
		),
		Action: stash,
	}
}

func stash(c *cli.Context) error {
	word, args := c.Args().First(), c.Args().Tail()
	if err := ofWord(c, word); err != nil {
		return err
	}
	var unit *units.Unit
	if c.IsSet("unit") {
		u, err := unitOr(c, units.Inches)
		if err != nil {
			return err
		}
		unit = &u
	}
	known := map[string]func(*cli.Context, *ledger.Book, []string, *bytes.Buffer) error{
		"": listStash, "put": putCloth, "take": takeCloth, "undo": undoChange, "history": listHistory,
		"export": exportStash, "import": importStash,
	}
	do, ok := known[word]
	if !ok {
		f := badInput("stash cannot %q", word)
		if near, ok := plan.Near(word, []string{"put", "take", "undo", "history", "export", "import"}); ok {
			return f.with("did you mean: pinfold stash %s", near)
		}
		return f.with("write put, take, undo, history, export, import or nothing behind it")
	}
	if len(args) > 0 && (word == "" || word == "undo" || word == "history") {
		return badInput("stash %s takes nothing behind it, not %q", word, args).with("pinfold stash --help shows how")
	}
	book, err := openStash(c, unit)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := do(c, book, args, &b); err != nil {
		return err
	}
	return show(c.App.Writer, b.Bytes())
}

// ofWord refuses flags that are for another word.
func ofWord(c *cli.Context, word string) error {
	for _, f := range []struct {
		names      []string
		word, said string
	}{
		{[]string{"id", "where", "note", "squared"}, "put", "cloth that is put in"},
		{[]string{"replace", "renumber", "dry-run", "sheet"}, "import", "a sheet that is taken over"},
		{[]string{"overwrite"}, "export", "a file that is written"},
	} {
		for _, name := range f.names {
			if c.IsSet(name) && word != f.word {
				return badInput("--%s is for %s", name, f.said).with("write it with: pinfold stash %s", f.word)
			}
		}
	}
	return nil
}

func putCloth(c *cli.Context, book *ledger.Book, args []string, b *bytes.Buffer) error {
	if len(args) == 0 {
		return badInput("stash put says not what").with(`write the fabric and its pieces, like: pinfold stash put "navy dot: 5 x 7, 6 x 9 x3"`)
	}
	var cloth []ledger.Cloth
	sizes := 0
	for _, a := range args {
		one, err := ledger.ParseCloth(a, book.Unit)
		if err != nil {
			return badInput("%v", err)
		}
		cloth, sizes = append(cloth, one), sizes+len(one.Sizes)
	}
	tag := ledger.Tag{
		ID: strings.TrimSpace(c.String("id")), Squared: c.Bool("squared"),
		Where: strings.TrimSpace(c.String("where")), Note: strings.TrimSpace(c.String("note")),
	}
	switch {
	case c.IsSet("id") && tag.ID == "":
		return badInput("--id is empty").with("write an id, or leave --id out to have one made up")
	case tag.ID != "" && sizes > 1:
		return badInput("--id %q cannot be the id of %d sizes", tag.ID, sizes).with("put them in one by one, or leave --id out to have ids made up")
	}
	before, _ := book.Stash() // a file that is not there has no fabrics, one that is faulty is told next
	e, err := book.Put(c.Context, cloth, tag)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "%s: put in %s\n", book.Shown, inAll(e.Put))
	moved(b, e)
	strangers(c.App.ErrWriter, before, cloth)
	return nil
}

// strangers tells of fabrics whose name is nearly that of another in the stash.
func strangers(w io.Writer, before []plan.StashPiece, cloth []ledger.Cloth) {
	var names []string
	for _, p := range before {
		names = append(names, p.Fabric)
	}
	for _, c := range cloth {
		if slices.Contains(names, c.Fabric) {
			continue
		}
		if near, ok := plan.Near(c.Fabric, names); ok {
			fmt.Fprintf(w, "pinfold: %q is a new fabric in this stash, beside %q\npinfold: hint: if they are one, pinfold stash undo, then put it in again\n", c.Fabric, near)
		}
	}
}

func inAll(list []ledger.Moved) string {
	n := 0
	for _, m := range list {
		n += m.Count
	}
	return pieces(n)
}

func takeCloth(c *cli.Context, book *ledger.Book, args []string, b *bytes.Buffer) error {
	if len(args) == 0 || len(args) > 2 {
		return badInput("stash take takes an id and a number, not %s", listed(args)).with("write them like: pinfold stash take N4 2, and quote an id with blanks")
	}
	count := 1
	if len(args) == 2 {
		n, err := strconv.Atoi(args[1])
		switch {
		case args[1] == "all":
			n = ledger.All
		case err != nil || n < 1:
			return badInput("cannot take %q pieces", args[1]).with("write a whole number, or all")
		}
		count = n
	}
	e, err := book.Take(c.Context, args[0], count)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "%s: took out %s\n", book.Shown, inAll(e.Took))
	moved(b, e)
	return nil
}

func undoChange(c *cli.Context, book *ledger.Book, _ []string, b *bytes.Buffer) error {
	e, undone, err := book.Undo(c.Context)
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "%s: undid change %d, %s, of %s\n", book.Shown, undone.N, undone.What, when(undone))
	moved(b, e)
	return nil
}
