package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
)

// tiny mounts a disk of so many kilobytes, or skips.
func tiny(t *testing.T, kilobytes int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("none", dir, "tmpfs", 0, fmt.Sprintf("size=%dk", kilobytes)); err != nil {
		t.Skipf("no disk can be mounted here, for which one must be the superuser: %v", err)
	}
	t.Cleanup(func() { assert.NoError(t, syscall.Unmount(dir, 0)) })
	return dir
}

// fillUp takes all the room of a disk.
func fillUp(t *testing.T, dir string) {
	t.Helper()
	for _, block := range []int{4096, 1} {
		f, err := os.OpenFile(filepath.Join(dir, "filler"), os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o644)
		require.NoError(t, err)
		for err == nil {
			_, err = f.Write(make([]byte, block))
		}
		require.ErrorIs(t, err, syscall.ENOSPC)
		require.NoError(t, f.Close())
	}
}

// wholeFiles asserts that what lies in the folder is whole, under the name it is
// to have.
func wholeFiles(t *testing.T, dir string) {
	t.Helper()
	for _, name := range names(t, dir) {
		if strings.HasPrefix(name, ".") {
			continue // under another name, as of a program that was killed
		}
		text, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		end := map[string]string{".pdf": "%%EOF", ".html": "</html>", ".svg": "</svg>"}[filepath.Ext(name)]
		assert.True(t, bytes.HasSuffix(bytes.TrimSpace(text), []byte(end)), name)
		if filepath.Ext(name) == ".json" {
			assert.True(t, json.Valid(text), name)
		}
	}
}

// On a full disk nothing that was there is lost and nothing half is left.
func TestAFullDisk(t *testing.T) {
	k := newKept(t)
	plan := filepath.Join(k.dir, fixtures.PlanFile)
	for _, args := range [][]string{
		{"layout", plan, "--effort", "quick", "--out"},
		{"shop", plan, "--effort", "quick", "--out"},
		{"makes", smallPlan(t, sandStash), "--effort", "quick", "--layouts"},
		{"compare", plan, "--effort", "quick", "--formats", "csv,json", "--out"},
		{"face", plan, "--out"},
	} {
		t.Run(args[0], func(t *testing.T) {
			disk := tiny(t, 64)
			out := filepath.Join(disk, "out")
			require.NoError(t, os.Mkdir(out, 0o755))
			write(t, out, "pieces.csv", "of last year\n")
			fillUp(t, disk)
			s := invoke(t, append(args, out)...)
			assert.Equal(t, exitInput, s.code, s.errors)
			assert.Contains(t, s.errors, "cannot write into")
			assert.Contains(t, s.errors, "no space left on device")
			assert.NotContains(t, s.errors, "goroutine")
			assert.Equal(t, []string{"pieces.csv"}, names(t, out))
			text, err := os.ReadFile(filepath.Join(out, "pieces.csv"))
			require.NoError(t, err)
			assert.Equal(t, "of last year\n", string(text))
		})
	}
}

func TestTheStashOnAFullDisk(t *testing.T) {
	k := newKept(t)
	disk := tiny(t, 1024)
	require.NoError(t, os.CopyFS(disk, os.DirFS(k.dir)))
	fillUp(t, disk)
	before, err := os.ReadFile(filepath.Join(disk, fixtures.StashFile))
	require.NoError(t, err)
	for _, op := range [][]string{{"done"}, {"stash", "put", "navy dot: 5 x 7"}, {"stash", "take", "1"}} {
		s := invoke(t, k.in(disk, op)...)
		refused(t, s, "no space left on device")
		text, err := os.ReadFile(filepath.Join(disk, fixtures.StashFile))
		require.NoError(t, err)
		assert.Equal(t, string(before), string(text), op)
	}
	// With room again it goes on as if nothing had been.
	require.NoError(t, os.Remove(filepath.Join(disk, "filler")))
	s := invoke(t, k.in(disk, []string{"done"})...)
	assert.Equal(t, exitDone, s.code, s.errors)
	text, err := os.ReadFile(filepath.Join(disk, fixtures.StashFile))
	require.NoError(t, err)
	assert.Equal(t, string(k.would([]string{"done"})), string(text))
}

// What is asked for on the screen cannot be written there: the files and the
// booking are there all the same.
func TestTheScreenIsFull(t *testing.T) {
	k := newKept(t)
	want := k.would([]string{"done"})
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	require.NoError(t, err)
	defer full.Close()
	c := exec.Command(k.program, k.in(k.dir, []string{"done"})...)
	var errs strings.Builder
	c.Stdout, c.Stderr = full, &errs
	var exit *exec.ExitError
	require.ErrorAs(t, c.Run(), &exit)
	assert.Equal(t, exitInput, exit.ExitCode())
	assert.Equal(t, "pinfold: cannot write the answer: no space left on device\n", errs.String())
	text, err := os.ReadFile(k.stash)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(text))
}

func TestFilesThatAreGone(t *testing.T) {
	k := newKept(t)
	plan := filepath.Join(k.dir, fixtures.PlanFile)
	out := filepath.Join(t.TempDir(), "out")
	require.NoError(t, os.Rename(k.stash, k.stash+".away"))
	refused(t, invoke(t, "layout", plan, "--out", out), "stash.csv", "no such file")
	refused(t, invoke(t, "stash", "--stash", k.stash), "no such file")
	refused(t, invoke(t, k.in(k.dir, []string{"done"})...), "no such file")
	require.NoError(t, os.Remove(plan))
	refused(t, invoke(t, "layout", plan, "--out", out), "plan.yaml", "no such file")
	require.NoError(t, os.RemoveAll(filepath.Join(k.dir, "cut")))
	refused(t, invoke(t, k.in(k.dir, []string{"done"})...), "cannot read the result", "no such file")
	assert.NoDirExists(t, out)
}

// Nobody reads what the program says: it ends as programs do, by SIGPIPE, and what
// it was to write is written.
func TestNobodyReadsTheAnswer(t *testing.T) {
	k := newKept(t)
	want := k.would([]string{"done"})
	deaf := func(args ...string) {
		r, w, err := os.Pipe()
		require.NoError(t, err)
		require.NoError(t, r.Close())
		c := exec.Command(k.program, args...)
		c.Stdout = w
		err = c.Run()
		require.NoError(t, w.Close())
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit)
		assert.Equal(t, syscall.SIGPIPE, exit.Sys().(syscall.WaitStatus).Signal())
	}
	out := filepath.Join(t.TempDir(), "out")
	deaf("layout", filepath.Join(k.dir, fixtures.PlanFile), "--effort", "quick", "--out", out)
	wholeFiles(t, out)
	assert.Contains(t, names(t, out), "result.json")
	deaf(k.in(k.dir, []string{"done"})...)
	text, err := os.ReadFile(k.stash)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(text))
}

// Under nohup the program goes on when its terminal has gone away; without, that is
// a wish to stop like any other (see [TestSignalsAtEveryStage]).
func TestNohup(t *testing.T) {
	path, err := built()
	require.NoError(t, err)
	out := filepath.Join(t.TempDir(), "out")
	c := exec.Command("sh", "-c", `trap "" HUP; exec "$@"`, "sh", path, "layout", "--out", out)
	require.NoError(t, c.Start())
	require.Eventually(t, func() bool { _, err := os.Stat(out); return err == nil }, 20*time.Second, time.Millisecond)
	require.NoError(t, c.Process.Signal(syscall.SIGHUP))
	require.NoError(t, c.Wait())
	text, err := os.ReadFile(filepath.Join(out, "result.json"))
	require.NoError(t, err)
	assert.False(t, complete(t, text).Stopped)
}

// Every command gets signals at random moments of its run. It ends as it would
// have, or as interrupted with whole files, or - before it listens, or by a kill -
// by the signal itself; the stash is what it was or what it was to become.
func TestSignalsAtEveryStage(t *testing.T) {
	times := 3
	if testing.Short() {
		times = 1
	}
	k := newKept(t)
	plan := filepath.Join(k.dir, fixtures.PlanFile)
	r := rand.New(rand.NewPCG(19, 23))
	was, err := os.ReadFile(k.stash)
	require.NoError(t, err)
	becomes := k.would([]string{"done"})
	for _, args := range [][]string{
		{"layout", plan, "--effort", "quick", "--out", "OUT"},
		{"shop", plan, "--effort", "quick", "--out", "OUT"},
		{"makes", smallPlan(t, sandStash), "--effort", "quick", "--layouts", "OUT"},
		{"compare", plan, "--effort", "quick", "--formats", "csv,json", "--out", "OUT"},
		k.in(k.dir, []string{"done"}),
	} {
		t.Run(args[0], func(t *testing.T) {
			reset := func() {
				require.NoError(t, os.RemoveAll(k.stash+".history"))
				require.NoError(t, os.WriteFile(k.stash, was, 0o644))
			}
			start := func(out string) *exec.Cmd {
				var filled []string
				for _, a := range args {
					filled = append(filled, strings.ReplaceAll(a, "OUT", out))
				}
				c := exec.Command(k.program, filled...)
				require.NoError(t, c.Start())
				return c
			}
			began := time.Now()
			require.NoError(t, start(filepath.Join(t.TempDir(), "out")).Wait())
			usual := time.Since(began)
			ends := map[string]int{}
			for i := range times {
				for _, signal := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGKILL} {
					reset()
					out := filepath.Join(t.TempDir(), "out")
					c := start(out)
					time.Sleep(time.Duration(r.Int64N(int64(usual))))
					_ = c.Process.Signal(signal) // it may have ended
					_ = c.Wait()                 // its state tells how
					code := c.ProcessState.ExitCode()
					status := c.ProcessState.Sys().(syscall.WaitStatus)
					if status.Signaled() {
						assert.Equal(t, signal, status.Signal())
					} else {
						assert.Contains(t, []int{exitDone, exitShort, exitInterrupted}, code, "%v, %d", signal, i)
					}
					wholeFiles(t, out)
					if !status.Signaled() {
						for _, name := range names(t, out) {
							assert.False(t, strings.HasPrefix(name, "."), "%s is left lying about", name)
						}
					}
					now, err := os.ReadFile(k.stash)
					require.NoError(t, err)
					if args[0] == "done" && bytes.Equal(now, becomes) {
						ends["booked"]++
					} else {
						assert.Equal(t, string(was), string(now))
					}
					ends[fmt.Sprint(code)]++
				}
			}
			t.Log(usual, ends)
			reset()
		})
	}
}
