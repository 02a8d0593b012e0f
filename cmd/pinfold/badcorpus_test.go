package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// soundPlan is what most bad plans are one edit away from.
const soundPlan = `title: lantern fair
ornaments:
  star:
    ball: 3 in
    pieces:
      - {name: centre, size: 2 x 2, count: 10, role: ground}
    band: {width: 2, role: ground}
make:
  - {ornament: star, count: 2, colourway: {ground: navy dot}}
fabrics:
  navy dot:
    bolt: {width: 44, usable: 42}
    buy:
      - {fat quarter: 3.25}
`

// badFile is a file that must be refused, and what must be said of it: these lines
// and no others, unless the last is "...".
type badFile struct {
	name, text string
	want       []string
}

// badFiles reads a list of bad files. "== name" begins one. Its text is made of
// "|a line", "=a last line that does not end", "*9 a text nine times", "*n9 a line
// nine times" and "@base", the sound plan; or it is the sound plan with the "-"
// lines replaced by the "+" lines. "> " is said of it. With "| bytes" after the name
// the text has the escapes of Go.
func badFiles(t *testing.T, name string) []badFile {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "bad", name))
	require.NoError(t, err)
	var out []badFile
	for part := range strings.SplitSeq("\n"+strings.TrimSuffix(string(data), "\n"), "\n== ") {
		if part == "" {
			continue
		}
		lines := strings.Split(part, "\n")
		f := badFile{name: lines[0]}
		var was, is []string
		for _, l := range lines[1:] {
			rest := l[1:]
			if strings.HasSuffix(f.name, "| bytes") && strings.ContainsRune("|=*", rune(l[0])) {
				rest, err = strconv.Unquote(`"` + rest + `"`)
				require.NoError(t, err, l)
			}
			switch l[0] {
			case '|':
				f.text += rest + "\n"
			case '=':
				f.text += rest
			case '*':
				end := ""
				if strings.HasPrefix(rest, "n") {
					rest, end = rest[1:], "\n"
				}
				times, text, _ := strings.Cut(rest, " ")
				n, err := strconv.Atoi(times)
				require.NoError(t, err, l)
				f.text += strings.Repeat(text+end, n)
			case '@':
				f.text += soundPlan
			case '-':
				was = append(was, rest)
			case '+':
				is = append(is, rest)
			case '>':
				f.want = append(f.want, rest[1:])
			default:
				t.Fatalf("%s: cannot read %q", name, l)
			}
		}
		if was != nil {
			old := strings.Join(was, "\n")
			require.Contains(t, soundPlan, old, f.name)
			f.text = strings.Replace(soundPlan, old, strings.Join(is, "\n"), 1)
		}
		require.NotEmpty(t, f.want, f.name)
		out = append(out, f)
	}
	return out
}

// refusal runs the program on a bad file and returns what it says, line by line. It
// takes no longer and no more memory than a file of a megabyte may.
func refusal(t *testing.T, name string, args ...string) []string {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	began := time.Now()
	s := invoke(t, args...)
	took := time.Since(began)
	runtime.ReadMemStats(&after)
	assert.Less(t, took, 10*time.Second, name)
	assert.Less(t, (after.TotalAlloc-before.TotalAlloc)>>20, uint64(400), "MiB for %s", name)
	assert.Equal(t, exitInput, s.code, "%s: %s%s", name, s.out, s.errors)
	assert.Empty(t, s.out, name)
	var lines []string
	for l := range strings.Lines(s.errors) {
		l = strings.TrimSuffix(l, "\n")
		assert.Less(t, len(l), 600, name)
		lines = append(lines, strings.TrimPrefix(l, "pinfold: "))
	}
	return lines
}

// Every file that is no plan, no stash or no result is refused, with the place and
// with what to write instead.
func TestBadFiles(t *testing.T) {
	files := map[string][]badFile{}
	total := 0
	for _, kind := range []string{"plan", "stash", "result"} {
		files[kind] = badFiles(t, kind+".txt")
		total += len(files[kind])
	}
	t.Logf("%d files", total)
	assert.Greater(t, total, 500)
	t.Chdir(t.TempDir())
	for kind, args := range map[string][]string{
		"plan": {"check", "plan.yaml"}, "stash": {"check", "plan.yaml"}, "result": {"done", "result.json"},
	} {
		write(t, ".", "plan.yaml", soundPlan+"stash: stash.csv\n")
		write(t, ".", "stash.csv", "id,fabric,size\ns,navy dot,9 x 14\n")
		path := map[string]string{"plan": "plan.yaml", "stash": "stash.csv", "result": "result.json"}[kind]
		for _, f := range files[kind] {
			write(t, ".", path, f.text)
			got := refusal(t, kind+" "+f.name, args...)
			if last := len(f.want) - 1; f.want[last] == "..." && len(got) > last {
				f.want, got = f.want[:last], got[:last]
			}
			assert.Equal(t, f.want, got, "%s %s", kind, f.name)
		}
	}
}

// Files far too large are refused before they are read whole.
func TestFilesFarTooLarge(t *testing.T) {
	size := 50 << 20
	if testing.Short() {
		size = 8 << 20
	}
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"comments": "# more and more\n", "one line": "x", "lists": "[", "dashes": "- ", "quotes": `"`, "aliases": "- &a x\n- *a\n", "nothing": "\x00", "rows": "navy dot,9 x 14\n",
	} {
		huge := strings.Repeat(text, size/len(text))
		write(t, ".", "plan.yaml", huge)
		require.Len(t, refusal(t, name, "done", "plan.yaml"), 1, name)
		for _, args := range [][]string{{"check", "plan.yaml"}, {"layout", "plan.yaml"}, {"cost", "plan.yaml"}} {
			lines := refusal(t, name, args...)
			require.Len(t, lines, 1, "%s: %v", name, args)
			assert.Contains(t, lines[0], "is too large", "%s: %v", name, args)
		}
		write(t, ".", "plan.yaml", soundPlan+"stash: stash.csv\n")
		write(t, ".", "stash.csv", huge)
		for _, args := range [][]string{{"check", "plan.yaml"}, {"stash"}} {
			lines := refusal(t, name, args...)
			require.Len(t, lines, 1, "%s: %v", name, args)
			assert.Contains(t, lines[0], "is too large", "%s: %v", name, args)
		}
	}
}
