package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
	"pinfold/plan"
)

func TestFilesThatAreNoPlans(t *testing.T) {
	dir := t.TempDir()
	binary := strings.Repeat("\x00\x01\xfe\xff\x7fELF", 500)
	for name, path := range map[string]string{
		"missing":    filepath.Join(dir, "nowhere.yaml"),
		"folder":     dir,
		"binary":     write(t, dir, "binary.yaml", binary),
		"empty":      write(t, dir, "empty.yaml", ""),
		"blank":      write(t, dir, "blank.yaml", "\n\n# nothing\n"),
		"prose":      write(t, dir, "prose.yaml", "Dear Sir,\n\tplease find enclosed\n"),
		"tabs":       write(t, dir, "tabs.yaml", "title: a\nornaments:\n\tstar: 1\n"),
		"list":       write(t, dir, "list.yaml", "- 1\n- 2\n"),
		"two":        write(t, dir, "two.yaml", "title: a\n---\ntitle: b\n"),
		"huge":       write(t, dir, "huge.yaml", strings.Repeat("# more and more\n", 200_000)),
		"alias bomb": write(t, dir, "bomb.yaml", "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b]\nd: [*c,*c,*c,*c,*c,*c,*c]\n"),
		"latin 1":    write(t, dir, "latin.yaml", "title: caf\xe9\n"),
		"stash":      write(t, dir, "stash.csv", "id,fabric,size\n1,sand,2 x 3\n"),
	} {
		for _, command := range []string{"layout", "check", "cost"} {
			t.Run(name+" "+command, func(t *testing.T) {
				t.Chdir(t.TempDir())
				s := invoke(t, command, path)
				refused(t, s, path)
				assert.Empty(t, names(t, "."))
			})
		}
	}
}

// All faults of a file come in one run, each with its place.
func TestAllFaultsAtOnce(t *testing.T) {
	path := smallPlan(t, map[string]string{"SIZE": "2 y 3", "COUNT": "-4", "BUY": "buyy: []"})
	s := invoke(t, "check", path)
	refused(t, s, path+":6:", path+":10:", `did you mean "buy"?`)
	assert.GreaterOrEqual(t, strings.Count(s.errors, "\n"), 3)
}

// Line ends of another system and a byte order mark change nothing.
func TestPlansOfOtherSystems(t *testing.T) {
	plain := smallPlan(t, nil)
	text, err := os.ReadFile(plain)
	require.NoError(t, err)
	want := invoke(t, "check", plain)
	require.Equal(t, exitDone, want.code, want.errors)
	for name, other := range map[string]string{
		"CRLF":         strings.ReplaceAll(string(text), "\n", "\r\n"),
		"BOM":          "\ufeff" + string(text),
		"BOM and CRLF": "\ufeff" + strings.ReplaceAll(string(text), "\n", "\r\n"),
	} {
		got := invoke(t, "check", write(t, t.TempDir(), "plan.yaml", other))
		assert.Equal(t, want, got, name)
	}
	dir := t.TempDir()
	for _, name := range []string{fixtures.PlanFile, fixtures.StashFile} {
		text, err := fs.ReadFile(fixtures.Demo(), name)
		require.NoError(t, err)
		write(t, dir, name, "\ufeff"+strings.ReplaceAll(string(text), "\n", "\r\n"))
	}
	demo := invoke(t, "check")
	assert.Contains(t, demo.out, "in all 2,410 pieces and 130 spare for 60 ornaments\n2,410 pieces counted twice")
	got := invoke(t, "check", filepath.Join(dir, fixtures.PlanFile))
	assert.Equal(t, demo.out, got.out)
}

func TestPlansOfOddSizes(t *testing.T) {
	for _, c := range []struct {
		name string
		fill map[string]string
		code int
		want string
	}{
		{"one piece", map[string]string{"COUNT": "1"}, exitDone, "1 piece"},
		{"10,000 copies", map[string]string{"COUNT": "10000", "BUY": "buy: [{yard: 9, step: 1/8 yd}, {fat quarter: 3}]"}, exitDone, "10,000"},
		{"a piece exactly the sheet", map[string]string{
			"SIZE": "6 x 8", "COUNT": "2", "BUY": "direction: one-way",
			"STASH": "stash: [{fabric: sand, size: 6 x 8, squared: yes, count: 2}]\ncutting: {spare: 0%}",
		}, exitDone, "nothing"},
		{"a piece exactly the squared sheet", map[string]string{
			"SIZE": "17 1/2 x 41 1/2", "COUNT": "1", "BUY": "buy: [{cut: 5, name: half a yard, size: 18 x 42}]",
		}, exitDone, "half a yard"},
		{"a piece a hair too large", map[string]string{
			"SIZE": "6 1/64 x 8", "COUNT": "2", "BUY": "direction: one-way",
			"STASH": "stash: [{fabric: sand, size: 6 x 8, squared: yes, count: 2}]",
		}, exitInput, "fits no cloth"},
		{"no pieces", map[string]string{"COUNT": "0"}, exitInput, "count"},
		{"a million pieces too many", map[string]string{"COUNT": "2000000"}, exitInput, "2000000"},
		{"a tiny piece", map[string]string{"SIZE": "1/64 x 1/64", "COUNT": "3"}, exitDone, "3 pieces"},
		{"a mile of cloth", map[string]string{"SIZE": "2 x 99999 yd"}, exitInput, "too large"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			s := invoke(t, "layout", smallPlan(t, c.fill), "--effort", "quick", "--out", dir)
			require.Equal(t, c.code, s.code, s.errors+s.out)
			assert.Contains(t, s.out+s.errors, c.want)
			assert.NotContains(t, s.errors, "goroutine")
			if c.code == exitDone {
				text, err := os.ReadFile(filepath.Join(dir, "result.json"))
				require.NoError(t, err)
				complete(t, text)
			} else {
				assert.Empty(t, names(t, dir))
			}
		})
	}
}

// Names in any script, with emoji, quotes, brackets and line breaks.
func TestHostileNames(t *testing.T) {
	for i, name := range []string{
		`"Fish" & <b>Chips</b>`, "'; DROP TABLE fabrics; --", "=HYPERLINK(1)", "灯火の祭り", "фонарь", "🏮🐟", "مصباح", "e\u0301toile",
		"line\nbreak", "\u202etrof yaw", "\x1b[31mred", "%s%n\\", "]]>", "a,b;c", strings.Repeat("long ", 30), "{{.}}", "../../etc",
	} {
		text := fmt.Sprintf(`title: %[1]q
ornaments:
  %[1]q:
    ball: 3 in
    pieces: [{name: %[1]q, size: 2 x 3, count: 2, role: %[1]q}]
    supplies: [{name: %[1]q, count: 3}]
make: [{ornament: %[1]q, count: 2, colourway: {%[1]q: %[1]q}}]
fabrics:
  %[1]q: {bolt: {width: 44, usable: 42}, buy: [{fat quarter: 3}]}
stash: [{id: %[1]q, fabric: %[1]q, size: 6 x 8, where: %[1]q, note: %[1]q}]
`, name)
		dir := t.TempDir()
		out := filepath.Join(dir, "out")
		path := write(t, dir, "plan.yaml", text)
		s := invoke(t, "layout", path, "--effort", "quick", "--out", out)
		assert.NotContains(t, s.errors, "goroutine")
		assert.NotContains(t, s.out+s.errors, "\x1b", "%q steers the terminal", name)
		if s.code == exitInput {
			// Refusing a name is an answer too, if it says where and why.
			assert.Contains(t, s.errors, path+":", "name %d", i)
			continue
		}
		require.Equal(t, exitDone, s.code, "%q: %s", name, s.errors)
		text2, err := os.ReadFile(filepath.Join(out, "result.json"))
		require.NoError(t, err)
		assert.Equal(t, plan.Name(name), complete(t, text2).Fabrics[0].Fabric)
		assert.Equal(t, []string{"cutting-plan.html", "cutting-plan.pdf", "layout-001.svg", "pieces.csv", "result.json"}, names(t, out), name)
		check := invoke(t, "check", path)
		assert.Equal(t, exitDone, check.code)
		assert.NotContains(t, check.out, "\x1b")
	}
}

func TestFoldersThatCannotBeWritten(t *testing.T) {
	plan := smallPlan(t, nil)
	file := write(t, t.TempDir(), "file", "mine")
	for _, dir := range []string{file, filepath.Join(file, "out"), "/proc/fair", "bad\x00name"} {
		s := invoke(t, "layout", plan, "--out", dir)
		refused(t, s, "cannot write into the folder", "--out")
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))

	// A folder in the place of a file.
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "result.json"), 0o755))
	refused(t, invoke(t, "layout", plan, "--effort", "quick", "--out", dir), "result.json", "folder")
	for _, f := range names(t, dir) {
		assert.False(t, strings.HasPrefix(f, "."), "%s is left behind", f)
	}

	if os.Getuid() != 0 {
		locked := t.TempDir()
		require.NoError(t, os.Chmod(locked, 0o555))
		refused(t, invoke(t, "layout", plan, "--out", locked), "permission denied")
		refused(t, invoke(t, "new", locked), "permission denied")
	}
}

// A folder that exists keeps what it holds; the plan's own files are replaced
// whole.
func TestFolderThatExists(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "notes.txt", "mine")
	write(t, dir, "result.json", "old")
	s := invoke(t, "layout", smallPlan(t, nil), "--effort", "quick", "--out", dir)
	require.Equal(t, exitDone, s.code, s.errors)
	text, err := os.ReadFile(filepath.Join(dir, "notes.txt"))
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
	text, err = os.ReadFile(filepath.Join(dir, "result.json"))
	require.NoError(t, err)
	complete(t, text)
}
