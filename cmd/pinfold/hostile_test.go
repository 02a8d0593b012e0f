package main

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// everyOutput runs every command that writes files on a plan that bears the names in
// turn, with all formats that others open, and returns the files' texts.
func everyOutput(t *testing.T, name ...string) map[string]string {
	t.Helper()
	var in []any
	for i := range 9 {
		in = append(in, name[i%len(name)])
	}
	dir := t.TempDir()
	plan := write(t, dir, "plan.yaml", fmt.Sprintf(`title: %[1]q
money: "$"
ornaments:
  %[2]q:
    ball: 3 in
    pieces: [{name: %[3]q, size: 2 x 3, count: 2, role: %[4]q}]
    supplies: [{name: %[5]q, count: 3, price: 0.02}]
make: [{ornament: %[2]q, count: 5, colourway: {%[4]q: %[6]q}}]
fabrics:
  %[6]q: {bolt: {width: 44, usable: 42}, buy: [{cut: 3, name: %[7]q, size: 9 x 9}]}
stash: [{id: %[8]q, fabric: %[6]q, size: 6 x 8, where: %[9]q, note: %[1]q}]
`, in...))
	for _, args := range [][]string{
		{"layout", plan, "--effort", "quick", "--formats", "html,svg,csv,json", "--out", filepath.Join(dir, "layout")},
		{"shop", plan, "--effort", "quick", "--formats", "html,csv,json", "--out", filepath.Join(dir, "shop")},
		{"cost", plan, "--effort", "quick", "--formats", "csv,json", "--out", filepath.Join(dir, "cost")},
		{"compare", plan, "--effort", "quick", "--formats", "csv,json", "--out", filepath.Join(dir, "compare")},
		{"makes", plan, "--effort", "quick", "--formats", "html,svg,csv,json", "--layouts", filepath.Join(dir, "makes")},
	} {
		s := invoke(t, args...)
		require.Equal(t, exitDone, s.code, "%q %s: %s", name, args[0], s.errors)
		assert.NotContains(t, s.out, "\x1b")
	}
	require.ElementsMatch(t, []string{"plan.yaml", "layout", "shop", "cost", "compare", "makes"}, names(t, dir), "%q wrote beside the folders", name)
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Dir(path) == dir {
			return err
		}
		text, err := os.ReadFile(path)
		rel, _ := filepath.Rel(dir, path)
		files[rel] = string(text)
		return err
	}))
	return files
}

// Names that a spreadsheet takes for formulas, also one whose cells are parted by
// semicolons, are only text in every table; numbers stay numbers.
func TestNoNameIsAFormula(t *testing.T) {
	sets := [][]string{
		{`=HYPERLINK("http://harbour.example","x")`, "+1+1", "-1+1", "@SUM(A1)", "=cmd|' /C calc'!A1", "＝1+1", "sand;=1+1", `",=1+1,"`, "＠x"},
		{"sand; +1", `sand";=1+1`, "a\n=1+1", "-", "sand,=1+1", "=", "＋1", ";@", "－1"},
		{"=1+1"}, {";=1+1"}, {"sand;-1"},
	}
	if testing.Short() {
		sets = sets[:1]
	}
	numbers := 0
	for _, name := range sets {
		tables := 0
		for path, text := range everyOutput(t, name...) {
			if filepath.Ext(path) != ".csv" {
				continue
			}
			tables++
			for _, comma := range ",;\t" {
				r := csv.NewReader(strings.NewReader(text))
				r.Comma, r.FieldsPerRecord, r.LazyQuotes = comma, -1, true
				for {
					row, err := r.Read()
					if errors.Is(err, io.EOF) {
						break
					}
					require.NoError(t, err)
					for _, cell := range row {
						if _, err := strconv.ParseFloat(cell, 64); err == nil {
							numbers++
							continue
						}
						if cell = strings.TrimLeft(cell, " "); cell != "" {
							assert.False(t, strings.ContainsAny(cell[:1], "=+-@\t\r"), "%q in %s for %q", cell, path, name)
							assert.NotContains(t, "＝＋－＠", string([]rune(cell)[0]), "%s for %q", path, name)
						}
					}
				}
			}
		}
		assert.GreaterOrEqual(t, tables, 5)
	}
	assert.Greater(t, numbers, 10*len(sets))
}

var (
	ownScripts = regexp.MustCompile(`(?s)<(script|style)[^>]*>.*?</(script|style)>`)
	markup     = regexp.MustCompile(`<!?/?[A-Za-z][^<>]*>`)
	attribute  = regexp.MustCompile(`\s([a-zA-Z:-]+)=`)
)

// shapes of markup: the elements of a page, each with the names of its attributes.
func shapesOf(page string) map[string]bool {
	out := map[string]bool{}
	for _, tag := range markup.FindAllString(ownScripts.ReplaceAllString(page, "<script>"), -1) {
		name := strings.ToLower(strings.Fields(strings.Trim(tag, "<>/"))[0])
		out[name] = true
		quoted := regexp.MustCompile(`"[^"]*"|'[^']*'`).ReplaceAllString(tag, `""`)
		for _, a := range attribute.FindAllStringSubmatch(quoted, -1) {
			out[name+" "+strings.ToLower(a[1])] = true
		}
	}
	return out
}

// No name brings an element, an attribute or a script into a page or a picture.
func TestNoNameIsMarkup(t *testing.T) {
	sets := [][]string{
		{"<script>alert(1)</script>"},
		{`"><img src=x onerror=alert(1)>' onmouseover='alert(1)//`},
		{
			"</script><script>alert(1)</script>", "</title></style><script>alert(1)</script>", "--><script>alert(1)</script>", "]]><script>alert(1)</script>",
			"javascript:alert(1)", "${alert(1)}{{.}}`alert(1)`", `\u003cscript\u003e&lt;script&gt;&#60;script&#62;`, "<svg/onload=alert(1)>", "<!--<![CDATA[",
		},
		{
			"<!ENTITY x SYSTEM 'file:///etc/passwd'>", "&x;", "x\u2028alert(1)", "*/alert(1)/*", "<?xml?>", "<a href=javascript:alert(1)>x</a>", "'", `"`, "<",
		},
	}
	if testing.Short() {
		sets = sets[2:3]
	}
	plain := map[string]map[string]bool{}
	scripts := map[string]int{}
	for path, text := range everyOutput(t, "sand") {
		plain[filepath.Ext(path)] = add(plain[filepath.Ext(path)], shapesOf(text))
		scripts[path] = strings.Count(text, "<script")
	}
	require.Contains(t, plain[".html"], "script")
	require.NotContains(t, plain[".svg"], "script")
	for _, name := range sets {
		pages := 0
		for path, text := range everyOutput(t, name...) {
			ext := filepath.Ext(path)
			if ext != ".html" && ext != ".svg" {
				continue
			}
			pages++
			for shape := range shapesOf(text) {
				assert.True(t, plain[ext][shape], "%q brings <%s> into %s", name, shape, path)
			}
			assert.Equal(t, scripts[path], strings.Count(text, "<script"), "%q in %s", name, path)
			assert.NotContains(t, text, "href=\"javascript", path)
			if ext == ".svg" {
				d := xml.NewDecoder(strings.NewReader(text))
				for {
					if _, err := d.Token(); errors.Is(err, io.EOF) {
						break
					} else if !assert.NoError(t, err, "%q in %s", name, path) {
						break
					}
				}
			}
		}
		assert.GreaterOrEqual(t, pages, 4)
	}
}

func add(all, more map[string]bool) map[string]bool {
	if all == nil {
		all = map[string]bool{}
	}
	maps.Copy(all, more)
	return all
}

// What a plan names lies in its folder, whatever links lie there; what is written
// replaces links and never goes through them.
func TestPlansStayInTheirFolders(t *testing.T) {
	outside := t.TempDir()
	const secret = "id,fabric,size\ntreasure,navy dot,90 x 140\n"
	stash := write(t, outside, "stash.csv", secret)
	unharmed := func(why string) {
		text, err := os.ReadFile(stash)
		require.NoError(t, err)
		assert.Equal(t, secret, string(text), why)
		assert.Equal(t, []string{"stash.csv"}, names(t, outside), why)
	}

	dir := t.TempDir()
	t.Chdir(dir)
	require.NoError(t, os.Symlink(stash, "link.csv"))
	require.NoError(t, os.Symlink(outside, "elsewhere"))
	for _, name := range []string{"link.csv", "elsewhere/stash.csv", "../" + filepath.Base(outside) + "/stash.csv", stash} {
		plan := write(t, ".", "plan.yaml", soundPlan+"stash: "+name+"\n")
		for _, args := range [][]string{
			{"check", plan}, {"layout", plan, "--effort", "quick", "--out", "out"}, {"shop", plan}, {"cost", plan}, {"makes", plan}, {"compare", plan},
			{"stash", "--plan", plan}, {"stash", "put", "3 x 4", "--fabric", "navy dot", "--plan", plan}, {"stash", "take", "treasure", "--plan", plan}, {"stash", "undo", "--plan", plan},
		} {
			s := invoke(t, args...)
			assert.Equal(t, exitInput, s.code, "%s %q: %s%s", name, args, s.out, s.errors)
			assert.NotContains(t, s.out+s.errors, "treasure,", "%s %q", name, args)
			unharmed(fmt.Sprintf("%s %q", name, args))
		}
	}

	// Files that are written take the place of links.
	plan := write(t, ".", "plan.yaml", soundPlan)
	require.NoError(t, os.Mkdir("out", 0o755))
	files := []string{"result.json", "pieces.csv", "cutting-plan.html", "cutting-plan.pdf", "layout-001.svg", "layout-002.svg"}
	for _, f := range files {
		require.NoError(t, os.Symlink(stash, filepath.Join("out", f)))
	}
	s := invoke(t, "layout", plan, "--effort", "quick", "--out", "out")
	require.Equal(t, exitDone, s.code, s.errors)
	unharmed("links in the folder of the plan")
	for _, f := range names(t, "out") {
		info, err := os.Lstat(filepath.Join("out", f))
		require.NoError(t, err)
		assert.True(t, info.Mode().IsRegular(), f)
	}
	assert.True(t, slices.Contains(names(t, "out"), "result.json"))
}
