package pinfold_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// clocked are the only files that may look at a clock, and what for.
var clocked = map[string]string{
	"cmd/pinfold/look.go":     "--max-time",
	"cmd/pinfold/progress.go": "when to tell that work goes on",
	"plan/ledger/book.go":     "the time that the history notes, and how long to wait for another program",
	"cmd/packbench/solve.go":  "how long a benchmark took",
	"cmd/packbench/table.go":  "when to save what a benchmark has so far",
}

// Nothing but --max-time and signals makes a result depend on the clock.
func TestNobodyElseLooksAtTheClock(t *testing.T) {
	looks := map[string]bool{"time.Now": true, "time.Since": true, "time.Until": true, "time.After": true, "time.AfterFunc": true,
		"time.NewTimer": true, "time.NewTicker": true, "time.Tick": true, "time.Sleep": true,
		"context.WithTimeout": true, "context.WithDeadline": true}
	found := map[string]bool{}
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		ast.Inspect(file, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if pkg, ok := s.X.(*ast.Ident); ok && looks[pkg.Name+"."+s.Sel.Name] {
					found[name] = true
					assert.Contains(t, clocked, name, "uses %s.%s", pkg.Name, s.Sel.Name)
				}
			}
			return true
		})
		return nil
	})
	require.NoError(t, err)
	for name := range clocked {
		assert.True(t, found[name], "%s looks at no clock any more", name)
	}
}
