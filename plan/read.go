package plan

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

// StashFile fetches the stash file a plan names: its content and the name to
// show in messages. Errors are reported at the place where the plan names it.
type StashFile func(name string) (content []byte, shown string, err error)

// Read reads the plan file at path and the stash file it names, which must lie
// in the plan's folder or below. What is wrong with their content comes back as
// [Errors], everything of both files at once.
func Read(path string) (*Plan, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer f.Close()
	data, err := slurpPlan(f, path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	folder := filepath.Dir(path)
	return Parse(path, data, func(name string) ([]byte, string, error) {
		root, err := os.OpenRoot(folder)
		if err != nil {
			return nil, "", err
		}
		defer root.Close()
		f, err := root.Open(filepath.FromSlash(name))
		if err != nil {
			return nil, "", err
		}
		defer f.Close()
		data, err := slurp(f, maxStashBytes)
		return data, filepath.Join(folder, name), err
	})
}

// UnitOf returns the unit of the plan file at path. Nothing else of the plan is
// looked at: a stash can be kept while a plan is unfinished.
func UnitOf(path string) (units.Unit, error) {
	_, u, err := peek(path)
	return u, err
}

// StashOf returns the path of the stash file that the plan file at path names, and
// the plan's unit, as [UnitOf] does. It fails where the plan lists its stash in
// place or names none.
func StashOf(path string) (string, units.Unit, error) {
	n, u, err := peek(path)
	at := Pos{path, 1, 1}
	if n != nil {
		at = Pos{path, n.Line, n.Column}
	}
	switch {
	case err != nil:
		return "", 0, err
	case n == nil || isNull(n):
		return "", u, Errors{{at, "the plan names no stash", "write stash: stash.csv into it, or name the file with --stash"}}
	case n.Kind == yaml.SequenceNode:
		return "", u, Errors{{at, "the stash is listed in the plan itself, where only you can change it",
			"to have it kept, move the list into a file stash.csv with a row for each piece, and write stash: stash.csv"}}
	case !localFile(n.Value):
		return "", u, Errors{{at, "stash " + quoted(n.Value) + " leaves the plan's folder", "write a name like stash.csv, in the plan's folder or below"}}
	}
	folder, name := filepath.Dir(path), filepath.FromSlash(n.Value)
	root, err := os.OpenRoot(folder)
	if err != nil {
		return "", 0, unreadable(path, err)
	}
	defer root.Close()
	// A link could lead elsewhere.
	if _, err := root.Stat(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		msg, hint := reason(err)
		if hint == "" {
			hint = "write the name of a CSV file in the plan's folder"
		}
		return "", 0, Errors{{at, "stash " + quoted(n.Value) + ": " + msg, hint}}
	}
	return filepath.Join(folder, name), u, nil
}

// peek reads the two keys of a plan that a stash by itself needs.
func peek(path string) (stash *yaml.Node, u units.Unit, err error) {
	r := reader{file: path, plan: &Plan{}}
	f, err := os.Open(path)
	if err != nil {
		return nil, 0, unreadable(path, err)
	}
	defer f.Close()
	data, err := slurpPlan(f, path)
	if err != nil {
		return nil, 0, unreadable(path, err)
	}
	root := r.document(data)
	if root == nil {
		return nil, 0, r.faults
	}
	if root.Kind != yaml.MappingNode {
		return nil, 0, nil
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		switch n := root.Content[i+1]; root.Content[i].Value {
		case "stash":
			stash = n
		case "unit":
			if isNull(n) {
				continue
			}
			if u, err = units.ParseUnit(n.Value); err != nil {
				return nil, 0, Errors{{r.pos(n), "unknown unit " + quoted(n.Value), "write in or cm"}}
			}
		}
	}
	return stash, u, nil
}

// localFile tells whether a name stays within the folder it is read in.
func localFile(name string) bool {
	return fs.ValidPath(filepath.ToSlash(name)) && filepath.IsLocal(name) && name != "."
}

// ReadFS is [Read] for a plan in a file system, such as an embedded one.
func ReadFS(fsys fs.FS, name string) (*Plan, error) {
	data, err := slurpFS(fsys, name, maxPlanBytes)
	if err != nil {
		return nil, unreadable(name, err)
	}
	return Parse(name, data, func(stash string) ([]byte, string, error) {
		shown := path.Join(path.Dir(name), stash)
		data, err := slurpFS(fsys, shown, maxStashBytes)
		return data, shown, err
	})
}

func slurpFS(fsys fs.FS, name string, most int64) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return slurp(f, most)
}

var (
	errFolder = errors.New("is a folder")
	errTable  = errors.New("is a table, not a plan")
	errTooBig = errors.New("is too large")
)

// slurpPlan is [slurp] for a plan file. The stash is named in its place easily, and
// what is wrong with a table as YAML would help nobody.
func slurpPlan(f fs.File, name string) ([]byte, error) {
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".xlsx":
		return nil, errTable
	}
	return slurp(f, maxPlanBytes)
}

// slurp reads a whole file of at most most bytes.
func slurp(f fs.File, most int64) ([]byte, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, errFolder
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > most {
		return nil, fmt.Errorf("%w: the most is %d KiB", errTooBig, most>>10)
	}
	return data, nil
}

// unreadable is the error for a file that cannot be read at all.
func unreadable(name string, err error) Errors {
	f := Fault{Pos: Pos{File: name}}
	f.Msg, f.Hint = reason(err)
	switch {
	case errors.Is(err, errTable):
		f.Hint = "write the path of the plan file, which names its stash"
	case errors.Is(err, errFolder):
		f.Hint = "write the plan file in it, such as " + filepath.Join(name, "plan.yaml")
	case errors.Is(err, fs.ErrNotExist):
		f.Hint = "write the path of a plan file"
	}
	return Errors{f}
}

// reason says why a file could not be read, without the name of the file and
// the operating system's call.
func reason(err error) (msg, hint string) {
	switch {
	case errors.Is(err, errFolder), errors.Is(err, errTable):
		return err.Error(), ""
	case errors.Is(err, errTooBig):
		msg, hint, _ = strings.Cut(err.Error(), ": ")
		return msg, hint
	case errors.Is(err, fs.ErrNotExist):
		return "no such file", ""
	case errors.Is(err, fs.ErrPermission):
		return "may not be read", "change its permissions"
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return "cannot be read: " + err.Error(), ""
}
