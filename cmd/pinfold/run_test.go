package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// said is what one run of the program gave.
type said struct {
	code        int
	out, errors string
}

// invoke runs the program in this process, as if typed.
func invoke(t *testing.T, args ...string) said {
	t.Helper()
	return invokeContext(t.Context(), args...)
}

func invokeContext(ctx context.Context, args ...string) said {
	var out, errs bytes.Buffer
	code := run(ctx, args, strings.NewReader(""), &out, &errs)
	return said{code, out.String(), errs.String()}
}

// refused asserts that the program ended with exit code 2, said something like
// want on stderr and nothing on stdout, and did not print a usage page.
func refused(t *testing.T, s said, want ...string) {
	t.Helper()
	assert.Equal(t, exitInput, s.code, s.errors)
	assert.Empty(t, s.out)
	for _, w := range want {
		assert.Contains(t, s.errors, w)
	}
	assert.NotContains(t, s.errors, "USAGE")
	assert.NotContains(t, s.errors, "goroutine")
}

// write puts a file into a folder and returns its path.
func write(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

// names lists what lies in a folder, hidden files included.
func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestHelpAndVersion(t *testing.T) {
	for _, args := range [][]string{nil, {"--help"}, {"-h"}, {"help"}} {
		s := invoke(t, args...)
		assert.Equal(t, exitDone, s.code, args)
		assert.Empty(t, s.errors)
		for _, c := range []string{"layout", "check", "new", "yield", "ball", "cost"} {
			assert.Contains(t, s.out, c)
		}
	}
	for _, args := range [][]string{{"yield", "--help"}, {"help", "yield"}, {"yield", "2 x 2", "-h"}} {
		s := invoke(t, args...)
		assert.Equal(t, exitDone, s.code, args)
		assert.Contains(t, s.out, "--no-turn")
		assert.Contains(t, s.out, "pinfold yield")
	}
	s := invoke(t, "--version")
	assert.Equal(t, exitDone, s.code)
	assert.Regexp(t, `^pinfold version \S+\nbuilt with go`, s.out)
}

func TestUsageErrorsGoToStderr(t *testing.T) {
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"lay-out"}, []string{`pinfold: there is no command "lay-out"`, "pinfold: hint: did you mean: pinfold layout"}},
		{[]string{"yeild", "2 x 2"}, []string{"did you mean: pinfold yield"}},
		{[]string{"help", "bal"}, []string{"did you mean: pinfold ball"}},
		{[]string{"embroider"}, []string{"the commands are layout, check, new, yield, ball, "}},
		{[]string{"fair.yaml"}, []string{"write the command first, like: pinfold layout fair.yaml"}},
		{[]string{"--json", "cost"}, []string{`"--json" stands before the command`, "like: pinfold cost --json\n"}},
		{[]string{"--json"}, []string{`"--json" stands before the command`, "like: pinfold layout --json\n"}},
		{[]string{"layout", "--papr", "a4"}, []string{`layout has no flag "--papr"`, "did you mean --paper"}},
		{[]string{"layout", "--xyzzy"}, []string{"pinfold layout --help lists them"}},
		{[]string{"layout", "--out"}, []string{"flag --out needs a value"}},
		{[]string{"layout", "--out", "--json"}, []string{"flag --out needs a value"}},
		{[]string{"layout", "--out="}, []string{"--out is empty"}},
		{[]string{"layout", "--seed", "x"}, []string{`--seed: "x" is not a whole number`, "like: --seed 7"}},
		{[]string{"layout", "--seed=-1"}, []string{`--seed: "-1" is not a whole number`, "write one from 0"}},
		{[]string{"layout", "--json=maybe"}, []string{`--json takes no value, not "maybe"`}},
		{[]string{"layout", "--paper", "a5"}, []string{`unknown paper "a5"`, "letter or a4"}},
		{[]string{"layout", "--formats", "pdf,docx"}, []string{`unknown format "docx"`}},
		{[]string{"layout", "--formats", ""}, []string{`unknown format ""`}},
		{[]string{"layout", "--effort", "heroic"}, []string{`unknown effort "heroic"`, "quick, normal or thorough"}},
		{[]string{"layout", "--max-time", "soon"}, []string{`cannot read "soon" as a time`}},
		{[]string{"layout", "--max-time", "0s"}, []string{`cannot read "0s" as a time`}},
		{[]string{"layout", "a.yaml", "b.yaml"}, []string{"layout takes one plan, not 2"}},
		{[]string{"check", "a.yaml", "b.yaml"}, []string{"check takes one plan, not 2"}},
		{[]string{"new", "a", "b"}, []string{"new takes one folder, not 2"}},
	} {
		dir := t.TempDir()
		t.Chdir(dir)
		refused(t, invoke(t, c.args...), c.want...)
		assert.Empty(t, names(t, dir), "%q wrote something", c.args)
	}
}

func TestFlagsWorkAnywhere(t *testing.T) {
	want := invoke(t, "yield", "--json", "--from", "10 x 12", "2 x 3")
	require.Equal(t, exitDone, want.code, want.errors)
	for _, args := range [][]string{
		{"yield", "2 x 3", "--json", "--from", "10 x 12"},
		{"yield", "--from", "10 x 12", "2 x 3", "--json"},
		{"yield", "2 x 3", "-json", "-from=10 x 12"},
		{"yield", "--from=10 x 12", "--json=true", "--", "2 x 3"},
		{"yield", "2", "x", "3", "--from", "10 x 12", "--json"},
	} {
		assert.Equal(t, want, invoke(t, args...), args)
	}
}

func TestNegativeNumbersAreNoFlags(t *testing.T) {
	refused(t, invoke(t, "ball", "-3"), `length "-3" is negative`)
	refused(t, invoke(t, "yield", "-2 x 3", "--from", "fat quarter"), "is negative")
}

// broken fails like a full disk, and panics when it is told to.
type broken struct{ panics bool }

func (b broken) Write([]byte) (int, error) {
	if b.panics {
		panic("the lamp went out")
	}
	return 0, errors.New("no space left on device")
}

func TestFaultsOfOursAreOwned(t *testing.T) {
	var errs bytes.Buffer
	code := run(t.Context(), []string{"ball", "3"}, strings.NewReader(""), broken{panics: true}, &errs)
	assert.Equal(t, exitBug, code)
	assert.Contains(t, errs.String(), "a fault of the program, not of your plan: the lamp went out")

	errs.Reset()
	code = run(t.Context(), []string{"ball", "3"}, strings.NewReader(""), broken{}, &errs)
	assert.Equal(t, exitInput, code)
	assert.Equal(t, "pinfold: cannot write the answer: no space left on device\n", errs.String())
}

func TestErrorsWithoutACodeAreBadInput(t *testing.T) {
	var errs bytes.Buffer
	say := messages{&errs}
	assert.Equal(t, exitDone, say.outcome(nil))
	assert.Equal(t, exitInput, say.outcome(errors.New("odd")))
	assert.Equal(t, exitBug, say.outcome(bugError(errors.New("odd"))))
	assert.Equal(t, exitInterrupted, say.outcome(context.Canceled))
	for line := range strings.Lines(errs.String()) {
		assert.True(t, strings.HasPrefix(line, "pinfold: "), line)
	}
}
