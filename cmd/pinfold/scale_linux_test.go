package main

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// "make scale" gives the file that the whole table is written into.
var scaleFile = flag.String("scale", "", "measure plans of every scale and write the table into `FILE`")

const (
	scaleFabrics   = 20
	scaleOrnaments = 8
	scalePatience  = 5 * time.Minute
)

// The kinds of plans that grow, each along one of the ways in which a plan can.
const (
	manyOrders = "orders"                    // n orders of one ornament each
	oneOrder   = "ornaments, 1 order"        // one order of n ornaments
	oneBolt    = "orders, off the bolt only" // n orders of one ornament each, nothing ready cut to buy
	manyPieces = "stash pieces"              // n pieces of stash, a third with a bad corner, for 20 orders
	manyScraps = "stash pieces, 1000 orders" // the same for so many orders that all are cut
)

// scaled writes a plan of scale n with its stash and returns the plan's path.
func scaled(t *testing.T, kind string, n int) string {
	t.Helper()
	dir := t.TempDir()
	var p strings.Builder
	p.WriteString("title: Scale\nunit: in\nornaments:\n")
	for k := range scaleOrnaments {
		fmt.Fprintf(&p, `  star %d:
    ball: 3 in
    pieces:
      - {name: centre, size: 2 1/2 x 2 1/2, count: 10, role: ground}
      - {name: round 2, size: 2 x %d, count: 16, role: accent}
    band: {width: 1 3/4, overlap: 1, role: ground}
`, k, 2+k%3)
	}
	order := func(i, count int) {
		fmt.Fprintf(&p, "  - {ornament: star %d, count: %d, colourway: {ground: cloth %d, accent: cloth %d}}\n",
			i%scaleOrnaments, count, i%scaleFabrics, (i*7+1)%scaleFabrics)
	}
	p.WriteString("make:\n")
	switch kind {
	case manyOrders, oneBolt:
		for i := range n {
			order(i, 1)
		}
	case oneOrder:
		order(0, n)
	case manyPieces:
		for i := range 20 {
			order(i, 1)
		}
	case manyScraps:
		for i := range 1000 {
			order(i, 1)
		}
	}
	p.WriteString("fabrics:\n")
	sold := "{yard: 11.50}, {fat quarter: 3.25}"
	if kind == oneBolt {
		sold = "{yard: 11.50}"
	}
	for i := range scaleFabrics {
		fmt.Fprintf(&p, "  cloth %d:\n    bolt: {width: 44, usable: 42}\n    buy: [%s]\n", i, sold)
	}
	if kind == manyPieces || kind == manyScraps {
		p.WriteString("stash: stash.csv\n")
		var s strings.Builder
		s.WriteString("id,fabric,size,count,bad areas\n")
		for i := range n {
			bad := ""
			if i%3 == 0 {
				bad = "1 x 2 at top right"
			}
			fmt.Fprintf(&s, "p%d,cloth %d,%d x %d,1,%s\n", i, i%scaleFabrics, 6+i*7%13, 8+i*5%11, bad)
		}
		write(t, dir, "stash.csv", s.String())
	}
	p.WriteString("cutting: {squaring: 1/4, keep: 3 x 3}\n")
	return write(t, dir, "plan.yaml", p.String())
}

// measured is what one run of the program took and left.
type measured struct {
	took        time.Duration
	memory      int64 // bytes, at most
	pages       int   // of the booklet
	files       int
	page, whole int64 // bytes of the tablet's page and of all files
	code        int
	errors      string
}

var pageOfPDF = regexp.MustCompile(`/Type /Page\b[^s]`)

// runScaled lays a plan out in a process of its own.
func runScaled(t *testing.T, path, effort string) measured {
	t.Helper()
	prog, err := built()
	require.NoError(t, err)
	out := filepath.Join(filepath.Dir(path), "out-"+effort)
	ctx, cancel := context.WithTimeout(t.Context(), scalePatience)
	defer cancel()
	c := exec.CommandContext(ctx, prog, "layout", path, "--effort", effort, "--out", out)
	var errs strings.Builder
	c.Stderr = &errs
	// Linux counts towards a program's peak that of the process which started it.
	debug.FreeOSMemory()
	require.NoError(t, os.WriteFile("/proc/self/clear_refs", []byte("5"), 0), "resets this process's own peak")
	start := time.Now()
	err = c.Run()
	m := measured{took: time.Since(start), errors: errs.String(), code: c.ProcessState.ExitCode()}
	require.NoError(t, err, m.errors)
	m.memory = c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss * 1024
	require.NoError(t, filepath.WalkDir(out, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		m.files++
		m.whole += info.Size()
		if e.Name() == "cutting-plan.html" {
			m.page = info.Size()
		}
		return nil
	}))
	pdf, err := os.ReadFile(filepath.Join(out, "cutting-plan.pdf"))
	require.NoError(t, err)
	m.pages = len(pageOfPDF.FindAll(pdf, -1))
	return m
}

// Ten times the plan is neither ten times the paper nor ten times the files: equal
// layouts, bags and steps are merged.
func TestPaperDoesNotGrowWithThePlan(t *testing.T) {
	if testing.Short() {
		t.Skip("plans of a thousand orders are not for the race detector")
	}
	for _, kind := range []string{manyOrders, oneOrder, manyPieces} {
		small, large := runScaled(t, scaled(t, kind, 100), "quick"), runScaled(t, scaled(t, kind, 1000), "quick")
		require.Positive(t, small.pages)
		assert.Less(t, large.pages, 2*small.pages, "pages for 1000 %s and for 100", kind)
		assert.LessOrEqual(t, large.files, small.files+20, kind)
		assert.Less(t, large.memory, int64(1)<<30, kind)
	}
}

// A long booklet shares its pages and has an index, and each page that the index
// names holds the sheets it says. The index and the pages are read as poppler's
// pdftotext reads them.
func TestIndexNamesThePagesOfSheets(t *testing.T) {
	if testing.Short() {
		t.Skip("a booklet of a hundred pages is not for the race detector")
	}
	pdftotext := outside(t, "pdftotext")
	path := scaled(t, manyPieces, 100)
	runScaled(t, path, "quick")
	text, err := exec.Command(pdftotext, "-layout", filepath.Join(filepath.Dir(path), "out-quick", "cutting-plan.pdf"), "-").Output()
	require.NoError(t, err)
	pages := strings.Split(string(text), "\f")
	starts := regexp.MustCompile(`SHEET (\d+) OF (\d+)`)
	require.Contains(t, pages[1], "Index of sheets")
	fabric, of, shared := "", 0, 0
	begins, said := map[string]bool{}, map[string]bool{}
	for i, page := range pages {
		on := map[string]bool{}
		for _, m := range starts.FindAllStringSubmatch(page, -1) {
			on[m[1]] = true
			begins[m[1]] = true
			of, err = strconv.Atoi(m[2])
			require.NoError(t, err)
		}
		if len(on) > 1 {
			shared++
		}
		assert.LessOrEqual(t, len(on), 8, "page %d", i+1)
	}
	require.Len(t, begins, of, "every sheet is on a page")
	assert.Greater(t, shared, 5, "pages with more than one sheet")
	entry := regexp.MustCompile(`(\d+(?: to \d+)?(?:, \d+(?: to \d+)?)*) {2,}(\d+)`)
	for _, page := range pages[1:] {
		if !strings.Contains(page, "Index of sheets") {
			break
		}
		for line := range strings.SplitSeq(page, "\n") {
			if strings.HasPrefix(line, "cloth ") {
				fabric = strings.TrimSpace(line)
			}
			for _, m := range entry.FindAllStringSubmatch(line, -1) {
				at, err := strconv.Atoi(m[2])
				require.NoError(t, err)
				require.LessOrEqual(t, at, len(pages))
				for _, n := range sheetsIn(t, m[1]) {
					said[strconv.Itoa(n)] = true
					assert.Contains(t, pages[at-1], fmt.Sprintf("SHEET %d OF %d", n, of), "page %d of %s", at, fabric)
					assert.Contains(t, pages[at-1], fabric, "page %d", at)
				}
			}
		}
	}
	assert.Equal(t, begins, said, "the index names all sheets")
}

// sheetsIn reads numbers as the index words them, "1 to 4, 6".
func sheetsIn(t *testing.T, s string) (out []int) {
	t.Helper()
	for part := range strings.SplitSeq(s, ", ") {
		first, last, several := strings.Cut(part, " to ")
		a, err := strconv.Atoi(first)
		require.NoError(t, err)
		b := a
		if several {
			b, err = strconv.Atoi(last)
			require.NoError(t, err)
		}
		for n := a; n <= b; n++ {
			out = append(out, n)
		}
	}
	return out
}

// The table of SCALE.md.
func TestScale(t *testing.T) {
	if *scaleFile == "" {
		t.Skip(`"make scale" measures for some minutes; it writes the table of SCALE.md`)
	}
	const mb = 1 << 20
	var b strings.Builder
	fmt.Fprintf(&b, `# What a large plan takes

Made by "make scale" on %d cores, %s: each line is "pinfold layout" with all
formats, in a process of its own. Memory is the most it ever held. The plans are
over %d fabrics and %d ornaments; "stash pieces" are one third with a bad corner,
for 20 orders if nothing else is said. Paper grows with the layouts that differ:
small scraps share pages, and a long booklet has an index.

| scale | effort | seconds | memory | pages of PDF | files | page for the tablet | all files |
|---|---|---:|---:|---:|---:|---:|---:|
`, runtime.NumCPU(), runtime.GOOS+"/"+runtime.GOARCH, scaleFabrics, scaleOrnaments)
	for _, kind := range []string{manyOrders, oneOrder, oneBolt, manyPieces, manyScraps} {
		for _, n := range []int{10, 100, 1000, 10_000} {
			path := scaled(t, kind, n)
			for _, effort := range []string{"quick", "normal"} {
				m := runScaled(t, path, effort)
				fmt.Fprintf(&b, "| %d %s | %s | %.1f | %d MB | %d | %d | %.1f MB | %.1f MB |\n", n, kind, effort,
					m.took.Seconds(), m.memory/mb, m.pages, m.files, float64(m.page)/mb, float64(m.whole)/mb)
				t.Log(n, kind, effort, m.took)
			}
			require.NoError(t, os.RemoveAll(filepath.Dir(path)))
		}
	}
	require.NoError(t, os.WriteFile(*scaleFile, []byte(b.String()), 0o644))
}
