package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
	"pinfold/plan"
	"pinfold/plan/ledger"
	"pinfold/units"
)

// handKept is the template's stash as somebody goes on with it by hand; what is done
// to it below must leave the rest of it alone.
const handKept = "\ufeff# counted in November, \"12 in\" ruler\r\n" +
	"colour,id,fabric,size,count,squared,\"note\"\r\n" +
	"blue,1,blue plain,17 1/2 x 20,,no,\"two\r\nlines\"\r\n" +
	"# pressed\r\n" +
	"blue,2,blue plain,\"9 x 12\",2,yes,\r\n" +
	",3,white print,10 x 14,1,no,\r\n" +
	",,sail white,4 x 4\r\n"

// built is the real program, built once and taken away by [TestMain].
var built = sync.OnceValues(func() (string, error) {
	out, err := exec.Command("go", "build", "-o", builtFolder+"/pinfold", ".").CombinedOutput()
	if err != nil {
		err = fmt.Errorf("%w: %s", err, out)
	}
	return filepath.Join(builtFolder, "pinfold"), err
})

// builtFolder is a folder that anybody may look into.
var builtFolder = filepath.Join(os.TempDir(), fmt.Sprintf("pinfold-built-%d", os.Getpid()))

// kept is a folder with a plan, its cutting plan and its stash.
type kept struct {
	t                   *testing.T
	program, dir, stash string
}

func newKept(t *testing.T) kept {
	t.Helper()
	path, err := built()
	require.NoError(t, err)
	k := kept{t, path, t.TempDir(), ""}
	k.stash = filepath.Join(k.dir, fixtures.StashFile)
	require.NoError(t, os.CopyFS(k.dir, fixtures.Template()))
	write(t, k.dir, fixtures.StashFile, handKept)
	s := invoke(t, "layout", filepath.Join(k.dir, fixtures.PlanFile), "--effort", "quick", "--formats", "json", "--out", filepath.Join(k.dir, "cut"))
	require.Equal(t, exitDone, s.code, s.errors)
	return k
}

// in returns the arguments for the same folder elsewhere.
func (k kept) in(dir string, op []string) []string {
	args := append([]string{}, op...)
	if op[0] == "done" {
		args = append(args, filepath.Join(dir, "cut"))
	}
	return append(args, "--stash", filepath.Join(dir, fixtures.StashFile))
}

// would returns the stash that op leaves when nobody disturbs it.
func (k kept) would(op []string) []byte {
	dir := k.t.TempDir()
	require.NoError(k.t, os.CopyFS(dir, os.DirFS(k.dir)))
	if s := invoke(k.t, k.in(dir, op)...); s.code != exitDone {
		require.Equal(k.t, exitInput, s.code, s.errors)
	}
	text, err := os.ReadFile(filepath.Join(dir, fixtures.StashFile))
	require.NoError(k.t, err)
	return text
}

// entries returns the history, which must end with the stash as it is.
func (k kept) entries() []ledger.Entry {
	b, err := ledger.Open(k.stash, units.Inches)
	require.NoError(k.t, err)
	entries, err := b.History()
	require.NoError(k.t, err)
	text, err := os.ReadFile(k.stash)
	require.NoError(k.t, err)
	if n := len(entries); n > 0 {
		require.Equal(k.t, entries[n-1].After, fmt.Sprintf("%x", sha256.Sum256(text)), "the history ends with the stash")
	}
	return entries
}

// killed starts op and kills it: after a while, or as soon as it has left a mark
// in the folder. It tells whether the program was still running.
func (k kept) killed(op []string, after time.Duration, mark string) bool {
	c := exec.Command(k.program, k.in(k.dir, op)...)
	require.NoError(k.t, c.Start())
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	size := func() (n int64) {
		if info, err := os.Stat(k.stash + ".history"); err == nil {
			n = info.Size()
		}
		return n
	}
	seen := func() bool {
		found, _ := filepath.Glob(filepath.Join(k.dir, ".stash.csv[0-9]*"))
		return len(found) > 0
	}
	start := size()
	first, err := os.Stat(k.stash)
	require.NoError(k.t, err)
	replaced := func() bool {
		info, err := os.Stat(k.stash)
		return err == nil && !os.SameFile(info, first)
	}
	deadline := time.Now().Add(after)
	for running := true; running; {
		select {
		case err := <-ended:
			ended <- err
			running = false
		default:
			if mark == "" {
				time.Sleep(time.Until(deadline))
				running = false
			}
			running = running && !(mark == "file" && seen() || mark == "history" && size() != start || mark == "stash" && replaced())
		}
	}
	_ = c.Process.Kill() // it may have ended
	<-ended
	return c.ProcessState.ExitCode() == -1
}

// The program is killed at random moments, hundreds of times: the stash is always
// what it was or what it was to become, byte for byte, and its history says which.
// In the end everything is undone, which gives the first stash back.
func TestKills(t *testing.T) {
	times := 500
	if testing.Short() {
		times = 60
	}
	k := newKept(t)
	r := rand.New(rand.NewPCG(7, 11))
	started := time.Now()
	require.NoError(t, exec.Command(k.program, k.in(k.dir, []string{"stash"})...).Run())
	usual := time.Since(started)
	var kills, before, after int
	for i := range times {
		op := k.random(r)
		was, err := os.ReadFile(k.stash)
		require.NoError(t, err)
		becomes := k.would(op)
		mark := []string{"", "", "file", "history", "stash"}[r.IntN(5)]
		killed := k.killed(op, time.Duration(r.Int64N(int64(2*usual))), mark)
		now, err := os.ReadFile(k.stash)
		require.NoError(t, err)
		_, err = plan.ReadStash(k.stash, now, units.Inches)
		require.NoError(t, err, "kill %d, of %q", i, op)
		switch {
		case bytes.Equal(now, becomes) && !bytes.Equal(was, becomes):
			if killed {
				after++
			}
		case bytes.Equal(now, was):
			if killed {
				before++
			} else {
				require.Equal(t, string(becomes), string(now), "%q ended by itself", op)
			}
		default:
			require.Fail(t, "neither before nor after", "kill %d, of %q:\n%s", i, op, now)
		}
		if killed {
			kills++
		}
		k.entries()
	}
	t.Logf("%d kills of %d starts, %d with the change made and %d without", kills, times, after, before)
	assert.Greater(t, kills, times/4, "the kills came too late to tell anything")
	assert.Positive(t, after)
	assert.Positive(t, before)

	for n := 0; ; n++ {
		s := invoke(t, k.in(k.dir, []string{"stash", "undo"})...)
		if s.code != exitDone {
			assert.Contains(t, s.errors, "there is nothing to undo")
			break
		}
		require.Less(t, n, times)
	}
	text, err := os.ReadFile(k.stash)
	require.NoError(t, err)
	assert.Equal(t, handKept, string(text))
	assert.ElementsMatch(t, []string{"plan.yaml", "cut", "stash.csv", "stash.csv.history", ".stash.csv.lock"}, names(t, k.dir), "nothing is left lying about")
}

// random draws one change.
func (k kept) random(r *rand.Rand) []string {
	switch n := r.IntN(10); {
	case n < 4:
		return []string{"stash", "put", fmt.Sprintf("navy dot: %d x 7, 3 x %d x%d", 1+r.IntN(9), 1+r.IntN(9), 2+r.IntN(4))}
	case n < 6:
		b, err := ledger.Open(k.stash, units.Inches)
		require.NoError(k.t, err)
		pieces, err := b.Stash()
		require.NoError(k.t, err)
		if len(pieces) > 0 {
			return []string{"stash", "take", pieces[r.IntN(len(pieces))].ID, "1"}
		}
		return []string{"stash", "undo"}
	case n < 7:
		return []string{"done"}
	case n < 8:
		return []string{"done", "--sheets", fmt.Sprint(1 + r.IntN(3))}
	}
	return []string{"stash", "undo"}
}

// Two programs change one stash at once, and some are killed on the way: what was
// reported as done is there.
func TestTwoAtOnce(t *testing.T) {
	rounds := 40
	if testing.Short() {
		rounds = 10
	}
	k := newKept(t)
	r := rand.New(rand.NewPCG(3, 5))
	reported := map[string]bool{}
	for i := range rounds {
		var ids []string
		var running []*exec.Cmd
		for h := range 2 {
			id := fmt.Sprintf("piece %d of hand %d", i, h)
			c := exec.Command(k.program, k.in(k.dir, []string{"stash", "put", "navy dot: 5 x 7", "--id", id})...)
			require.NoError(t, c.Start())
			ids, running = append(ids, id), append(running, c)
		}
		if i%2 == 1 {
			time.Sleep(time.Duration(r.IntN(12)) * time.Millisecond)
			_ = running[r.IntN(2)].Process.Kill() // it may have ended
		}
		for h, c := range running {
			if c.Wait() == nil {
				reported[ids[h]] = true
			} else {
				require.Equal(t, -1, c.ProcessState.ExitCode(), "only the killed may fail")
			}
		}
	}
	require.GreaterOrEqual(t, len(reported), rounds*3/2)
	entries := k.entries()
	b, err := ledger.Open(k.stash, units.Inches)
	require.NoError(t, err)
	pieces, err := b.Stash()
	require.NoError(t, err)
	assert.Len(t, pieces, 4+len(entries), "every change of the history is in the stash")
	there := map[string]bool{}
	for _, p := range pieces {
		there[p.ID] = true
	}
	for id := range reported {
		assert.True(t, there[id], id)
	}
}
