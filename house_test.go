// Package pinfold_test holds the rules of the whole house.
package pinfold_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arrows is the house: what each package may import of the others. Everything
// flows one way, from the lengths at the bottom to the command on top.
var arrows = map[string][]string{
	"units":            {},
	"pack":             {"units"},
	"plan":             {"pack", "units"},
	"plan/ledger":      {"plan", "units"},
	"plan/spreadsheet": {"plan", "units"},
	"reports":          {"plan", "pack", "units"},
	"fixtures":         {},
	"cmd/pinfold":      {"reports", "plan/ledger", "plan/spreadsheet", "plan", "pack", "units", "fixtures"},
	"cmd/packbench":    {"pack", "units"},
}

// engines is the floor below pack: what each of its internal packages may import
// of the others. Engines know the model, and of each other only what is listed:
// a table or a linear programme they are built on, or one that packs what they
// leave over. Only search and pack itself know them all.
var engines = map[string][]string{
	"model":    {},
	"lp":       {},
	"random":   {},
	"insert":   {"model"},
	"ruin":     {"model", "random"},
	"beam":     {"model"},
	"dp":       {"model"},
	"bounds":   {"lp", "model"},
	"reselect": {"lp", "model"},
	"blocks":   {"dp", "model"},
	"peel":     {"model", "random", "ruin"},
	"svc":      {"dp", "model"},
	"colgen":   {"dp", "lp", "model", "reselect", "svc"},
	"search":   {"beam", "blocks", "bounds", "colgen", "dp", "insert", "model", "reselect", "ruin", "svc"},
}

// borrowed is what each package may import from other modules.
var borrowed = map[string][]string{
	"plan":             {"go.yaml.in/yaml/v4", "golang.org/x/text/unicode/norm"},
	"plan/ledger":      {"github.com/gofrs/flock", "github.com/google/renameio/v2"},
	"plan/spreadsheet": {"github.com/xuri/excelize/v2"},
	"pack":             {"gonum.org/v1/gonum/mat"},
	"reports":          {"github.com/jung-kurt/gofpdf", "golang.org/x/image/font"},
	"cmd/pinfold":      {"github.com/urfave/cli/v2"},
}

const module = "pinfold"

// TestImportsFollowTheArrows reads every Go file that is not a test.
func TestImportsFollowTheArrows(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		files++
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		dir := filepath.ToSlash(filepath.Dir(name))
		for _, spec := range file.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			assert.True(t, allowed(dir, imported), "%s imports %s against the arrows", name, imported)
		}
		return nil
	})
	require.NoError(t, err)
	assert.Greater(t, files, 20, "the walk has seen the whole house")
}

func allowed(dir, imported string) bool {
	own, inside := strings.CutPrefix(imported, module+"/")
	if !inside {
		if !strings.Contains(strings.Split(imported, "/")[0], ".") {
			return true // the standard library
		}
		return slices.ContainsFunc(borrowed[room(dir)], func(m string) bool {
			return imported == m || strings.HasPrefix(imported, m+"/")
		})
	}
	// Internal parts look up to nobody, and sideways only at what is listed.
	if _, part, ok := strings.Cut(dir, "/internal/"); ok {
		other, inside := strings.CutPrefix(own, "pack/internal/")
		return inside && room(dir) == "pack" && slices.Contains(engines[part], other)
	}
	return slices.Contains(arrows[dir], own) || strings.HasPrefix(own, dir+"/internal/")
}

// room is the package a folder belongs to, its internal parts included.
func room(dir string) string {
	outer, _, _ := strings.Cut(dir, "/internal/")
	return path.Clean(outer)
}

func TestArrowsAreHeld(t *testing.T) {
	for _, c := range []struct {
		dir, imported string
		ok            bool
	}{
		{"units", "fmt", true},
		{"units", "pinfold/pack", false},
		{"pack", "pinfold/units", true},
		{"pack", "pinfold/plan", false},
		{"pack", "pinfold/pack/internal/model", true},
		{"pack/internal/dp", "pinfold/pack/internal/model", true},
		{"pack/internal/dp", "pinfold/pack", false},
		{"pack/internal/dp", "pinfold/units", false},
		{"pack/internal/dp", "pinfold/pack/internal/blocks", false},
		{"pack/internal/colgen", "pinfold/pack/internal/svc", true},
		{"pack/internal/beam", "pinfold/pack/internal/ruin", false},
		{"pack/internal/newcomer", "pinfold/pack/internal/model", false},
		{"plan/internal/newcomer", "pinfold/pack/internal/model", false},
		{"plan", "pinfold/reports", false},
		{"plan", "pinfold/pack/internal/model", false},
		{"plan", "go.yaml.in/yaml/v4", true},
		{"reports", "go.yaml.in/yaml/v4", false},
		{"plan", "pinfold/plan/ledger", false},
		{"plan/ledger", "pinfold/plan", true},
		{"plan/ledger", "pinfold/reports", false},
		{"plan/ledger", "github.com/google/renameio/v2", true},
		{"cmd/pinfold", "github.com/gofrs/flock", false},
		{"fixtures", "pinfold/units", false},
		{"cmd/packbench", "pinfold/plan", false},
		{"cmd/pinfold", "github.com/urfave/cli/v2", true},
		{"newroom", "pinfold/units", false},
	} {
		assert.Equal(t, c.ok, allowed(c.dir, c.imported), "%s -> %s", c.dir, c.imported)
	}
}
