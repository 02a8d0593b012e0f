package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func packbench(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, exitDone, run(context.Background(), args, &out, &errs), errs.String())
	require.Empty(t, errs.String())
	return out.String()
}

const trial = "testdata/trial.json"

func TestLines(t *testing.T) {
	out := packbench(t, "-family", trial, "-effort", "quick")
	out = regexp.MustCompile(` +\d+\n`).ReplaceAllString(out, " MS\n")
	for _, want := range []string{
		`(?m)^trial, effort quick, no turning$`,
		`(?m)^two sheets +2 +2 +2 yes +MS$`,
		`(?m)^dear and cheap +160 +160 +160 yes +MS$`,
		`(?m)^SCP1 +1\d +13 +1[23] (yes|no) +MS$`,
		`(?m)^any number +215 +215 +215 yes +MS$`,
		`(?m)^total of 4 +39\d +390 +3\d\d [34] +MS$`,
	} {
		assert.Regexp(t, want, out)
	}
}

func TestOnly(t *testing.T) {
	out := packbench(t, "-family", trial, "-effort", "quick", "-only", "^two")
	assert.Contains(t, out, "total of 1")
	assert.NotContains(t, out, "SCP1")
}

func TestResumeKeepsWhatIsThere(t *testing.T) {
	file := filepath.Join(t.TempDir(), "out.json")
	args := []string{"-family", trial, "-effort", "quick", "-out", file}
	packbench(t, append(args, "-only", "SCP1")...)
	r, err := readRuns(file)
	require.NoError(t, err)
	require.Len(t, r.Runs, 1)
	r.Runs[0].MS = 987654
	require.NoError(t, r.write(file))
	assert.Contains(t, packbench(t, append(args, "-resume")...), " 987654\n")
	r, err = readRuns(file)
	require.NoError(t, err)
	assert.Len(t, r.Runs, 4)

	var errs bytes.Buffer
	code := run(context.Background(), append(args, "-resume", "-turn"), &errs, &errs)
	assert.Equal(t, exitInput, code)
	assert.Contains(t, errs.String(), "holds another run")
}

func TestUnprovedRunsOnlyTheRest(t *testing.T) {
	file := filepath.Join(t.TempDir(), "out.json")
	packbench(t, "-family", trial, "-effort", "quick", "-out", file)
	r, err := readRuns(file)
	require.NoError(t, err)
	for i := range r.Runs {
		r.Runs[i].MS = 987654
		r.Runs[i].Proved = i < 2
	}
	require.NoError(t, r.write(file))
	out := packbench(t, "-family", trial, "-effort", "normal", "-unproved", file)
	assert.Equal(t, 2, strings.Count(out, " 987654\n"))
}

func TestInterruptedRunKeepsWhatIsFinished(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	file := filepath.Join(t.TempDir(), "out.json")
	var out, errs bytes.Buffer
	assert.Equal(t, exitInterrupted, run(ctx, []string{"-family", trial, "-effort", "quick", "-out", file}, &out, &errs))
	r, err := readRuns(file)
	require.NoError(t, err)
	assert.Empty(t, r.Runs)

	packbench(t, "-family", trial, "-effort", "quick", "-out", file, "-only", "SCP1")
	assert.Equal(t, exitInterrupted, run(ctx, []string{"-family", trial, "-effort", "quick", "-out", file, "-resume"}, &out, &errs))
	r, err = readRuns(file)
	require.NoError(t, err)
	assert.Len(t, r.Runs, 1, "an interrupted run must not lose what there was")
}

func TestScores(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "SCORES.md")
	packbench(t, "-scores", file, "-keep", filepath.Join(dir, "runs"), "-effort", "quick", "-family", trial)
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Regexp(t, `(?m)^\| trial \| .* \| no \| 4 \| 3\d\d \|`, string(b))
	assert.Regexp(t, `(?m)^\| trial \| .* \| yes \| 4 \| `, string(b))
}

func TestUsage(t *testing.T) {
	for want, args := range map[string][]string{
		"-family FILE":      {},
		"no such file":      {"-family", "nowhere.json"},
		"quick, normal":     {"-family", trial, "-effort", "huge"},
		"-out FILE":         {"-family", trial, "-resume"},
		"0 for no limit":    {"-family", trial, "-stages", "-1"},
		"unexpected":        {"-family", trial, "more.json"},
		"-keep DIR":         {"-family", trial, "-scores", "s.md"},
		"missing closing ]": {"-family", trial, "-only", "[a"},
	} {
		var errs bytes.Buffer
		assert.Equal(t, exitInput, run(context.Background(), args, &errs, &errs), want)
		assert.Contains(t, errs.String(), want)
	}
}

func TestBadFamilies(t *testing.T) {
	for want, text := range map[string]string{
		"no instances":    `{"instances": []}`,
		"problem \"\"":    `{"instances": [{"name": "a"}]}`,
		"width 0":         `{"instances": [{"name": "a", "problem": "strip"}]}`,
		"lacks":           `{"instances": [{"name": "a", "problem": "strip", "width": 5, "items": [[3, null, 1, 1]]}]}`,
		"has no demand":   `{"instances": [{"name": "a", "problem": "strip", "width": 5, "items": [[3, 3, null, 1]]}]}`,
		"whole number":    `{"instances": [{"name": "a", "problem": "cutstock", "bin": [5, 5], "bins": [[5, 5, 1.5, null]], "items": []}]}`,
		"[width, height]": `{"instances": [{"name": "a", "problem": "binpack", "bin": [5], "items": []}]}`,
		"another problem": `{"instances": [{"name": "a", "problem": "cutstock", "bin": [5, 5], "defects": [[1]]}]}`,
		"invalid":         `{]`,
	} {
		file := filepath.Join(t.TempDir(), "f.json")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o666))
		_, err := readFamily(file)
		assert.ErrorContains(t, err, want)
	}
}

// The independent checker, where it is at hand, accepts what -out writes.
func TestOutputPassesTheChecker(t *testing.T) {
	const checker = "../../../shared/tools/check_result.py"
	if _, err := os.Stat(checker); err != nil {
		t.Skip("the independent checker is not here: ", err)
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("the independent checker needs python3: ", err)
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "out.json")
	for _, args := range [][]string{
		{"-family", trial},
		{"-family", trial, "-turn", "-stages", "2"},
		{"-family", "../../../shared/benchmarks/bwmv.json", "-only", "_020_01$"},
		{"-family", "../../../shared/benchmarks/ngcut.json", "-turn"},
		{"-family", "../../../shared/benchmarks/cintra_gcutd.json", "-only", "gcut[1-4]d"},
		{"-family", "../../../shared/benchmarks/hopper_turton_m.json", "-only", "M1"},
	} {
		if _, err := os.Stat(args[1]); err != nil {
			t.Log("the open families are not here: ", err)
			continue
		}
		packbench(t, append(args, "-effort", "quick", "-out", file)...)
		got, err := exec.Command(python, checker, file).CombinedOutput()
		assert.NoError(t, err, "%v: %s", args, got)
		assert.Contains(t, string(got), "VALID")
	}
}
