package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/plan/ledger"
	"pinfold/plan/spreadsheet"
)

// sheetFlags are those of stash export and stash import.
func sheetFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "replace", Usage: "import: the sheet is the whole stash; what it does not list goes out"},
		&cli.BoolFlag{Name: "renumber", Usage: "import: give pieces whose id is taken another one"},
		&cli.BoolFlag{Name: "dry-run", Usage: "import: say what would change, and change nothing"},
		&cli.StringFlag{Name: "sheet", Usage: "import: read the worksheet `NAME` (default: Bin, or else the first)"},
		&cli.BoolFlag{Name: "overwrite", Usage: "export: write over a file of that name"},
	}
}

const exportImport = `    pinfold stash export bin.xlsx
    pinfold stash import bin.xlsx --replace

writes the stash into a workbook, or with the ending .csv into CSV, and takes it
back after you worked on it, in one change that undo takes back. Columns may stand
in any order: id, fabric, size or along and across, count, shape, bad areas,
squared, where, note, unit. Without --replace what the sheet lists is added; an id
that is taken is refused, or changed with --renumber. --dry-run tells what would
change.`

// sheetName takes the one argument of export and import.
func sheetName(word string, args []string) (string, error) {
	if len(args) != 1 {
		return "", badInput("stash %s takes the name of one file, not %s", word, listed(args)).with("write one like: pinfold stash %s bin.xlsx", word)
	}
	if _, err := spreadsheet.Kind(args[0]); err != nil {
		return "", badInput("%q %v", args[0], err)
	}
	return args[0], nil
}

func exportStash(c *cli.Context, book *ledger.Book, args []string, b *bytes.Buffer) error {
	file, err := sheetName("export", args)
	if err != nil {
		return err
	}
	all, err := book.Stash()
	if err != nil {
		return err
	}
	if same(file, book.Shown) {
		return badInput("%q is the stash itself", file).with("write another name")
	}
	data, err := spreadsheet.Write(file, all, book.Unit)
	if err != nil {
		return badInput("cannot write %q: %v", file, err)
	}
	err = create(file, data)
	if errors.Is(err, fs.ErrExist) {
		if !c.Bool("overwrite") {
			return badInput("%q is there already", file).with("write another name, or --overwrite")
		}
		err = overwrite(file, data)
	}
	if err != nil {
		return badInput("cannot write %q: %v", file, cause(err))
	}
	n := 0
	for _, p := range all {
		n += p.Count
	}
	fmt.Fprintf(b, "%s: %s in %s, from %s\n", file, pieces(n), counted(len(all), "row"), book.Shown)
	return nil
}

// same tells whether two names are of one file.
func same(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// overwrite puts a file in the place of another, whole or not at all.
func overwrite(path string, data []byte) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return errors.New("it is no file")
	}
	tmp, err := os.CreateTemp(filepath.Dir(path), ".pinfold-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.Write(data)
	if err = errors.Join(err, tmp.Chmod(info.Mode().Perm()), tmp.Close()); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), path)
}

func importStash(c *cli.Context, book *ledger.Book, args []string, b *bytes.Buffer) error {
	file, err := sheetName("import", args)
	if err != nil {
		return err
	}
	if c.Bool("replace") && c.Bool("renumber") {
		return badInput("--renumber is of no use with --replace").with("leave it out: with --replace the sheet's ids are the stash's")
	}
	if same(file, book.Shown) {
		return badInput("%q is the stash itself", file).with("write the name of another file")
	}
	data, err := readBounded(file)
	if err != nil {
		return err
	}
	sheet, err := spreadsheet.Read(file, data, c.String("sheet"), book.Unit)
	if err != nil {
		return err
	}
	from := file
	if sheet.Name != "" {
		from += ", sheet " + oneLine(sheet.Name)
	}
	if len(sheet.Ignored) > 0 {
		fmt.Fprintf(c.App.ErrWriter, "pinfold: %s: not taken over: %s\n", from, oneLine(strings.Join(sheet.Ignored, ", ")))
	}
	in := ledger.Import{Pieces: sheet.Pieces, Replace: c.Bool("replace"), Renumber: c.Bool("renumber")}
	before, _ := book.Stash() // as for put
	var done *ledger.Imported
	if c.Bool("dry-run") {
		done, err = book.TryImport(in)
	} else {
		done, err = book.Import(c.Context, in)
	}
	if err != nil {
		return err
	}
	tellImport(b, book.Shown, from, done, c.Bool("dry-run"))
	var cloth []ledger.Cloth
	told := map[string]bool{}
	for _, p := range sheet.Pieces {
		if !told[p.Fabric] {
			told[p.Fabric] = true
			cloth = append(cloth, ledger.Cloth{Fabric: p.Fabric})
		}
	}
	if !in.Replace {
		strangers(c.App.ErrWriter, before, cloth)
	}
	return nil
}

func tellImport(b *bytes.Buffer, shown, from string, done *ledger.Imported, try bool) {
	e := done.Entry
	if e == nil {
		fmt.Fprintf(b, "%s: %s changes nothing\n", shown, from)
		return
	}
	would := ""
	if try {
		would = "would have "
	}
	fmt.Fprintf(b, "%s: %sput in %s from %s", shown, would, inAll(e.Put), from)
	if len(e.Took) > 0 {
		fmt.Fprintf(b, ", took out %s", inAll(e.Took))
	}
	if done.Stayed > 0 {
		fmt.Fprintf(b, "; %s stay as they are", counted(done.Stayed, "row"))
	}
	fmt.Fprintln(b)
	moved(b, e)
	for _, r := range done.Renumbered {
		fmt.Fprintf(b, "  %s becomes %s: the stash has its id\n", oneLine(r.From), oneLine(r.To))
	}
}

// readBounded reads a file that is to be imported.
func readBounded(file string) ([]byte, error) {
	fault := func(msg, hint string) error {
		return plan.Errors{{Pos: plan.Pos{File: file}, Msg: msg, Hint: hint}}
	}
	info, err := os.Stat(file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fault("no such file", "write the name of a workbook or a CSV file")
	case err != nil:
		return nil, fault("cannot be read: "+cause(err).Error(), "")
	case !info.Mode().IsRegular():
		return nil, fault("is no file", "write the name of a workbook or a CSV file")
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, fault("cannot be read: "+cause(err).Error(), "")
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, spreadsheet.MostBytes+1))
	if err != nil {
		return nil, fault("cannot be read: "+cause(err).Error(), "")
	}
	return data, nil
}
