package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"pinfold/fixtures"
)

func newCommand() *cli.Command {
	return &cli.Command{
		Name:      "new",
		Usage:     "write a commented plan and stash to start from",
		ArgsUsage: "[DIR]",
		Description: `Writes plan.yaml and stash.csv into DIR, or here. Both are commented and run as
they are. A file that exists is never touched.

` + example("pinfold new fair", "a first plan in the folder fair"),
		Action: func(c *cli.Context) error {
			if c.NArg() > 1 {
				return badInput("new takes one folder, not %d", c.NArg()).with("quote a name with spaces")
			}
			dir := c.Args().First()
			if dir == "" {
				dir = "."
			}
			written, err := startFolder(dir)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(c.App.Writer, "wrote %s and %s\nnext: pinfold layout %s\n", written[0], written[1], written[0])
			return err
		},
	}
}

// startFolder writes the template's files into dir, both or none.
func startFolder(dir string) ([]string, error) {
	names := []string{fixtures.PlanFile, fixtures.StashFile}
	paths := make([]string, len(names))
	for i, name := range names {
		paths[i] = filepath.Join(dir, name)
		if _, err := os.Lstat(paths[i]); err == nil {
			return nil, badInput("%q exists and is left alone", paths[i]).with("name another folder, like: pinfold new %s", another(dir))
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, badInput("cannot make the folder %q: %v", dir, cause(err))
	}
	for i, name := range names {
		text, err := fs.ReadFile(fixtures.Template(), name)
		if err == nil {
			err = create(paths[i], text)
		}
		if err != nil {
			for _, p := range paths[:i] {
				err = errors.Join(err, os.Remove(p))
			}
			return nil, badInput("cannot write %q: %v", paths[i], cause(err))
		}
	}
	return paths, nil
}

// another is a name beside that of a folder that has a plan already.
func another(dir string) string {
	if dir = filepath.Clean(dir); dir == "." {
		return "fair"
	}
	return dir + "-2"
}

// create writes a file that must not exist yet, whole or not at all: it is
// written under another name and then linked, which never overwrites.
func create(path string, text []byte) error {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".pinfold-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.Write(text)
	if err = errors.Join(err, tmp.Chmod(0o644), tmp.Close()); err != nil {
		return err
	}
	return os.Link(tmp.Name(), path)
}

// cause is what went wrong with a file, without the operation and the path that
// the message names already.
func cause(err error) error {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		return pathErr.Err
	}
	return err
}
