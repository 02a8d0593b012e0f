package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// result is what the tests look at in a result.json.
type result struct {
	Schema  string
	Stopped bool
	Fabrics []struct {
		Fabric, Status string
		Pieces         []struct {
			ID              string
			Demand, Missing int
		}
		Sheets []struct {
			Copies     int
			Placements []struct{ Piece string }
		}
	}
	Shopping []struct{ Text string }
	Hash     string
}

// complete reads a result and holds that exactly the pieces wanted, less those
// said to be missing, lie on its sheets.
func complete(t *testing.T, text []byte) result {
	t.Helper()
	var r result
	require.NoError(t, json.Unmarshal(text, &r))
	assert.Equal(t, "pinfold/result/1", r.Schema)
	for _, f := range r.Fabrics {
		placed := map[string]int{}
		for _, s := range f.Sheets {
			for _, p := range s.Placements {
				placed[p.Piece] += s.Copies
			}
		}
		for _, p := range f.Pieces {
			assert.Equal(t, p.Demand-p.Missing, placed[p.ID], "%s %s", f.Fabric, p.ID)
		}
	}
	return r
}

// small is a plan of one ornament and one fabric, with %-like gaps filled by
// name.
const small = `title: TITLE
ornaments:
  gull:
    ball: 3 in
    pieces:
      - {name: wing, size: SIZE, count: COUNT, role: ground}
make:
  - {ornament: gull, count: 1, colourway: {ground: sand}}
fabrics:
  sand: {bolt: {width: 44, usable: 42}, BUY}
STASH
`

// smallPlan writes the small plan with its gaps filled into a new folder.
func smallPlan(t *testing.T, fill map[string]string) string {
	t.Helper()
	text := small
	for gap, usual := range map[string]string{
		"TITLE": "Sand", "SIZE": "2 x 3", "COUNT": "4", "BUY": "buy: [{fat quarter: 3}]", "STASH": "",
	} {
		if f, ok := fill[gap]; ok {
			usual = f
		}
		text = strings.ReplaceAll(text, gap, usual)
	}
	return write(t, t.TempDir(), "plan.yaml", text)
}

func TestLayoutOfTheDemo(t *testing.T) {
	t.Chdir(t.TempDir())
	s := invoke(t, "layout", "--effort", "quick")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.errors, "this is the demo")
	for _, want := range []string{"Lantern fair at Windlass Quay", "60 ornaments", "night water", "straight pins", "2,410 pieces counted twice", "in the folder cutting-plan"} {
		assert.Contains(t, s.out, want)
	}
	files := names(t, "cutting-plan")
	assert.Subset(t, files, []string{"cutting-plan.pdf", "cutting-plan.html", "layout-001.svg", "pieces.csv", "result.json"})
	for _, f := range files {
		assert.False(t, strings.HasPrefix(f, "."), "%s is left behind", f)
	}
	pdf, err := os.ReadFile("cutting-plan/cutting-plan.pdf")
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	text, err := os.ReadFile("cutting-plan/result.json")
	require.NoError(t, err)
	assert.Len(t, complete(t, text).Fabrics, 4)

	if testing.Short() {
		return
	}
	// Once more into the same folder, printed instead: the same bytes.
	again := invoke(t, "layout", "--effort", "quick", "--json")
	assert.Equal(t, exitDone, again.code)
	assert.Equal(t, string(text), again.out)
}

func TestLayoutWritesTheFormatsAskedFor(t *testing.T) {
	plan := smallPlan(t, nil)
	for formats, want := range map[string][]string{
		"text":          nil,
		"csv":           {"pieces.csv"},
		"PDF, json":     {"cutting-plan.pdf", "result.json"},
		"svg,svg,text":  {"layout-001.svg"},
		"html":          {"cutting-plan.html"},
		"json,text,csv": {"pieces.csv", "result.json"},
	} {
		dir := filepath.Join(t.TempDir(), "out")
		s := invoke(t, "layout", plan, "--effort", "quick", "--out", dir, "--formats", formats)
		require.Equal(t, exitDone, s.code, s.errors)
		assert.Equal(t, want, names(t, dir), formats)
		if strings.Contains(formats, "text") {
			assert.Contains(t, s.out, "Sand")
		} else {
			assert.Empty(t, s.out)
		}
	}
}

func TestLayoutPapers(t *testing.T) {
	plan := smallPlan(t, nil)
	box := map[string]string{"letter": "[0 0 612.00 792.00]", "a4": "[0 0 595.28 841.89]"}
	for paper, want := range box {
		dir := t.TempDir()
		s := invoke(t, "layout", plan, "--effort", "quick", "--out", dir, "--paper", paper)
		require.Equal(t, exitDone, s.code, s.errors)
		pdf, err := os.ReadFile(filepath.Join(dir, "cutting-plan.pdf"))
		require.NoError(t, err)
		assert.Contains(t, string(pdf), "/MediaBox "+want)
	}
}

// Short of cloth: what can be cut is written, what is missing is said.
func TestLayoutOfAPlanThatCannotBeCut(t *testing.T) {
	plan := smallPlan(t, map[string]string{
		"COUNT": "30", "BUY": "direction: one-way",
		"STASH": "stash: [{fabric: sand, size: 6 x 8, squared: yes}]",
	})
	dir := t.TempDir()
	s := invoke(t, "layout", plan, "--effort", "quick", "--out", dir)
	assert.Equal(t, exitShort, s.code)
	assert.Contains(t, s.errors, "pinfold: the plan cannot be cut from what there is")
	assert.Contains(t, s.errors, "24 of 30")
	assert.Contains(t, s.out, "Missing")
	text, err := os.ReadFile(filepath.Join(dir, "result.json"))
	require.NoError(t, err)
	r := complete(t, text)
	assert.Equal(t, "short", r.Fabrics[0].Status)
	assert.Equal(t, 24, r.Fabrics[0].Pieces[0].Missing, "6 x 8 in hold 3 x 2 of 2 x 3 in")
}

func TestInterruptedInTheMiddle(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	time.AfterFunc(300*time.Millisecond, stop)
	began := time.Now()
	s := invokeContext(ctx, "layout", "--effort", "thorough", "--out", dir)
	assert.Less(t, time.Since(began), 20*time.Second)
	assert.Equal(t, exitInterrupted, s.code, s.errors)
	assert.Contains(t, s.errors, "pinfold: interrupted")
	assert.Contains(t, s.out, "stopped early")
	text, err := os.ReadFile(filepath.Join(dir, "result.json"))
	require.NoError(t, err)
	r := complete(t, text)
	assert.True(t, r.Stopped)
	for _, f := range names(t, dir) {
		assert.False(t, strings.HasPrefix(f, "."), "%s is left behind", f)
	}
}

// The first answer comes fast enough to be given whatever happens.
func TestInterruptedBeforeItBegan(t *testing.T) {
	if testing.Short() {
		t.Skip("one interrupted plan is enough for the race detector")
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	dir := filepath.Join(t.TempDir(), "out")
	s := invokeContext(ctx, "layout", "--out", dir)
	assert.Equal(t, exitInterrupted, s.code, s.errors)
	text, err := os.ReadFile(filepath.Join(dir, "result.json"))
	require.NoError(t, err)
	for _, f := range complete(t, text).Fabrics {
		for _, p := range f.Pieces {
			assert.Zero(t, p.Missing, "%s %s", f.Fabric, p.ID)
		}
	}
}

func TestMaxTimeStopsWithTheBest(t *testing.T) {
	if testing.Short() {
		t.Skip("one interrupted plan is enough for the race detector")
	}
	dir := t.TempDir()
	began := time.Now()
	s := invoke(t, "layout", "--effort", "thorough", "--max-time", "300ms", "--out", dir)
	assert.Less(t, time.Since(began), 20*time.Second)
	assert.Contains(t, s.out, "stopped early")
	text, err := os.ReadFile(filepath.Join(dir, "result.json"))
	require.NoError(t, err)
	assert.True(t, complete(t, text).Stopped)
	assert.Equal(t, exitDone, s.code, s.errors)
}

func TestParseTime(t *testing.T) {
	for text, want := range map[string]time.Duration{"": 0, "30": 30 * time.Second, "1m30s": 90 * time.Second, "250ms": 250 * time.Millisecond} {
		d, err := parseTime(text)
		require.NoError(t, err)
		assert.Equal(t, want, d)
	}
}

func TestProgressIsForTerminalsOnly(t *testing.T) {
	var b bytes.Buffer
	p := newProgress(&b)
	p.since = time.Now().Add(-time.Minute)
	p.progress("sand", pack.Progress{Sheets: 3})
	p.done()
	assert.Empty(t, b.String())

	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer null.Close()
	assert.False(t, isTerminal(null))

	p = &progress{w: &b, since: time.Now().Add(-time.Minute)}
	p.progress("sand\n\x1b[2J", pack.Progress{Sheets: 3})
	p.progress("sand", pack.Progress{Sheets: 2})
	p.done()
	assert.Equal(t, "\r\x1b[K\"sand\\n\\x1b[2J\": 3 sheets so far; ctrl-C stops with the best\r\x1b[K", b.String())

	b.Reset()
	p = &progress{w: &b, since: time.Now()}
	p.progress("sand", pack.Progress{Sheets: 3})
	p.done()
	assert.Empty(t, b.String(), "quiet for the first second")
}
