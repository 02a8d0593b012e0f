package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// handbook lists the pages a user reads: the README and all of docs.
func handbook(t *testing.T) []string {
	t.Helper()
	pages, err := filepath.Glob(filepath.Join("..", "..", "docs", "*.md"))
	require.NoError(t, err)
	require.NotEmpty(t, pages)
	return append(pages, filepath.Join("..", "..", "README.md"))
}

func pageText(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

// Each page is followed from top to bottom in an empty folder: a fence whose first
// line is "# name.yaml" or "# name.csv" is that file, commands are run and end as
// they say, and what a page says they print is printed.
func TestHandbookIsFollowed(t *testing.T) {
	if testing.Short() {
		t.Skip("plans at normal effort are not for the race detector")
	}
	fileName := regexp.MustCompile(`^# (\S+\.(?:yaml|csv))\n`)
	ends := regexp.MustCompile(`\s+# exit code (\d)$`)
	for _, path := range handbook(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text := pageText(t, path)
			t.Chdir(t.TempDir())
			printed, after := "", ""
			for _, fence := range fenced.FindAllStringSubmatch(text, -1) {
				kind, body := fence[1], fence[2]
				switch {
				case kind == "sh":
					printed = ""
					for line := range strings.Lines(body) {
						line, want := strings.TrimSpace(line), exitDone
						if m := ends.FindStringSubmatch(line); m != nil {
							line = strings.TrimSuffix(line, m[0])
							want, _ = strconv.Atoi(m[1])
						}
						for _, command := range commands(line) {
							s := invoke(t, words(command)...)
							assert.Equal(t, want, s.code, "%s\n%s", line, s.errors)
							assert.NotEmpty(t, s.out, line)
							printed += s.out
						}
					}
				case kind == "text" && after == "sh":
					assertPrints(t, printed, body)
				case fileName.MatchString(body):
					name := fileName.FindStringSubmatch(body)[1]
					require.NoError(t, os.WriteFile(name, []byte(body), 0o644))
				}
				after = kind
			}
		})
	}
}

// assertPrints fails unless the lines stand in what was printed, one under the other;
// "..." stands for any lines between.
func assertPrints(t *testing.T, printed, lines string) {
	t.Helper()
	for part := range strings.SplitSeq(lines, "...\n") {
		assert.Contains(t, "\n"+printed, "\n"+part)
		_, printed, _ = strings.Cut(printed, part)
	}
}

var (
	link    = regexp.MustCompile(`\]\(([^)]+)\)`)
	heading = regexp.MustCompile(`(?m)^#+ (.*)$`)
)

// Links and pictures lead somewhere, and every page can be reached from the README.
func TestHandbookLinks(t *testing.T) {
	reached := map[string]bool{}
	for _, path := range handbook(t) {
		for _, m := range link.FindAllStringSubmatch(pageText(t, path), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			name, anchor, _ := strings.Cut(m[1], "#")
			target := filepath.Join(filepath.Dir(path), name)
			_, err := os.Stat(target)
			if !assert.NoError(t, err, "%s links to %s", path, m[1]) || anchor == "" {
				reached[filepath.Base(target)] = true
				continue
			}
			var anchors []string
			for _, h := range heading.FindAllStringSubmatch(pageText(t, target), -1) {
				anchors = append(anchors, strings.ReplaceAll(regexp.MustCompile(`[^a-z0-9 -]`).ReplaceAllString(strings.ToLower(h[1]), ""), " ", "-"))
			}
			assert.Contains(t, anchors, anchor, "%s links to %s", path, m[1])
		}
	}
	readme := pageText(t, filepath.Join("..", "..", "README.md"))
	for _, path := range handbook(t) {
		name := filepath.Base(path)
		assert.True(t, reached[name] || name == "README.md", "nothing links to %s", name)
		assert.True(t, strings.Contains(readme, "(docs/"+name+")") || name == "README.md" || name == "scraps.md", "the README names %s", name)
	}
}

// The README names every command there is.
func TestReadmeNamesEveryCommand(t *testing.T) {
	readme := pageText(t, filepath.Join("..", "..", "README.md"))
	for _, c := range newApp(strings.NewReader(""), io.Discard, io.Discard).Commands {
		assert.Contains(t, readme, "`pinfold "+c.Name+"`")
	}
}

// The page of the plan file names every key that the parser knows: what it asks
// reader.mapping for, and the lists of columns and ways to buy.
func TestPageOfThePlanFileNamesEveryKey(t *testing.T) {
	text := pageText(t, filepath.Join("..", "..", "docs", "plan-file.md"))
	sources, err := filepath.Glob(filepath.Join("..", "..", "plan", "parse*.go"))
	require.NoError(t, err)
	keys := map[string]bool{"shape": true}
	for _, source := range sources {
		file, err := parser.ParseFile(token.NewFileSet(), source, nil, 0)
		require.NoError(t, err)
		literals := func(exprs []ast.Expr) {
			for _, e := range exprs {
				if lit, ok := e.(*ast.BasicLit); ok {
					key, err := strconv.Unquote(lit.Value)
					require.NoError(t, err)
					keys[key] = true
				}
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if f, ok := n.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "mapping" {
					literals(n.Args[3:])
				}
				if f, ok := n.Fun.(*ast.Ident); ok && f.Name == "append" {
					literals(n.Args[1:])
				}
			case *ast.ValueSpec:
				if len(n.Names) == 1 && n.Names[0].Name == "stashKeys" {
					literals(n.Values[0].(*ast.CompositeLit).Elts)
				}
				if len(n.Values) == 1 && n.Names[0].Name != "BandName" { // the ways to sell
					literals(n.Values)
				}
			}
			return true
		})
	}
	require.Greater(t, len(keys), 45)
	for key := range keys {
		assert.Contains(t, text, "`"+key+"`", "a key of the plan file")
	}
}

// The pictures are those that "make picture" draws, byte for byte.
func TestPicturesAreCurrent(t *testing.T) {
	if testing.Short() {
		t.Skip("plans at normal effort are not for the race detector")
	}
	root := filepath.Join("..", "..")
	recipe := regexp.MustCompile(`(?m)^picture: +; (.*)$`).FindStringSubmatch(pageText(t, filepath.Join(root, "Makefile")))
	require.NotNil(t, recipe)
	all := ""
	for _, path := range handbook(t) {
		all += pageText(t, path)
	}
	for line := range strings.SplitSeq(recipe[1], " && ") {
		args := words(commands(line)[0])
		last := len(args) - 1
		require.Equal(t, "--out", args[last-1], line)
		shown := filepath.Join(root, args[last])
		args[1] = filepath.Join(root, args[1])
		args[last] = t.TempDir()
		s := invoke(t, args...)
		require.Equal(t, exitDone, s.code, s.errors)
		require.Equal(t, names(t, args[last]), names(t, shown))
		for _, name := range names(t, shown) {
			assert.Equal(t, pageText(t, filepath.Join(args[last], name)), pageText(t, filepath.Join(shown, name)),
				"%s is drawn otherwise now: run make picture and look at it", name)
			assert.Contains(t, all, fmt.Sprintf("%s/%s)", filepath.Base(shown), name), "a picture that no page shows")
		}
	}
}
