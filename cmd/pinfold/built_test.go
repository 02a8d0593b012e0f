package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What go build makes of a tagged checkout is called after the tag; what a release
// build says is stronger. Both know the day for the manual.
func TestVersionOfTheBuild(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program twice")
	}
	git := outside(t, "git")
	dir := filepath.Join(t.TempDir(), "copy")
	in := func(name string, args ...string) string {
		c := exec.Command(name, args...)
		c.Dir = dir
		c.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null",
			"GIT_AUTHOR_DATE=2026-11-25T12:00:00Z", "GIT_COMMITTER_DATE=2026-11-25T12:00:00Z")
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s %s: %s", name, args, out)
		return string(out)
	}
	require.NoError(t, os.MkdirAll(dir, 0o755))
	root, err := filepath.Abs(filepath.Join("..", ".."))
	require.NoError(t, err)
	// Only what is built from: others may be at work beside it.
	files, err := exec.Command("go", "list", "-deps", "-f",
		`{{if not .Standard}}{{if .Module.Main}}{{$d := .Dir}}{{range .GoFiles}}{{$d}}/{{.}}{{"\n"}}{{end}}{{range .EmbedFiles}}{{$d}}/{{.}}{{"\n"}}{{end}}{{end}}{{end}}`, ".").Output()
	require.NoError(t, err)
	for _, file := range append(strings.Fields(string(files)), filepath.Join(root, "go.mod"), filepath.Join(root, "go.sum")) {
		name, err := filepath.Rel(root, file)
		require.NoError(t, err)
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	in(git, "init", "-q")
	in(git, "add", ".")
	in(git, "-c", "user.name=nobody", "-c", "user.email=nobody@example.org", "commit", "-qm", "all")
	in(git, "tag", "v1.2.3")

	title := func(page string) string {
		line, _, _ := strings.Cut(page, "\n")
		return line
	}
	program := filepath.Join(t.TempDir(), "pinfold")
	in("go", "build", "-buildvcs=true", "-trimpath", "-o", program, "./cmd/pinfold")
	assert.Contains(t, in(program, "--version"), "pinfold version v1.2.3\nbuilt with "+runtime.Version()+" for ")
	assert.Contains(t, title(in(program, "man")), `.TH PINFOLD 1 "2026-11-25" "pinfold v1.2.3"`)

	in("go", "build", "-trimpath", "-ldflags", "-X main.release=v9.9.0 -X main.released=2027-01-31", "-o", program, "./cmd/pinfold")
	assert.Contains(t, in(program, "--version"), "pinfold version v9.9.0\n")
	assert.Contains(t, title(in(program, "man")), `.TH PINFOLD 1 "2027-01-31" "pinfold v9.9.0"`)
}

// mandoc reads the manual and has nothing to remark.
func TestManualHasNoFaults(t *testing.T) {
	mandoc := outside(t, "mandoc")
	released = "2026-11-25"
	defer func() { released = "" }()
	page := invoke(t, "man")
	require.Equal(t, exitDone, page.code, page.errors)
	lint := exec.Command(mandoc, "-T", "lint")
	lint.Stdin = strings.NewReader(page.out)
	out, err := lint.CombinedOutput()
	assert.NoError(t, err)
	assert.Empty(t, string(out))

	read := exec.Command(mandoc, "-T", "ascii", "-O", "width=78")
	read.Stdin = strings.NewReader(page.out)
	text, err := read.Output()
	require.NoError(t, err)
	for _, c := range newApp(strings.NewReader(""), nil, nil).Commands {
		for _, line := range strings.Split(c.Description, "\n") {
			if command, example := strings.CutPrefix(line, "    "); example {
				assert.Contains(t, string(text), "           "+command+"\n", "examples are printed as they are typed")
			}
		}
	}
}
