package main

import (
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Commands that are documented are run as they stand there.

// words parts a command line at its blanks, but not inside quotes, as a shell
// would.
func words(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|(\S+)`).FindAllStringSubmatch(line, -1) {
		out = append(out, m[1]+m[2])
	}
	return out
}

// commands lists the program's command lines of a text: those that start a line
// with its name or with go run.
func commands(text string) []string {
	var out []string
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if rest, ok := strings.CutPrefix(line, "go run ./cmd/pinfold "); ok {
			out = append(out, rest)
		} else if rest, ok := strings.CutPrefix(line, "pinfold "); ok {
			out = append(out, rest)
		}
	}
	return out
}

func TestCommandsOfTheHelpTexts(t *testing.T) {
	app := newApp(strings.NewReader(""), io.Discard, io.Discard)
	for _, c := range app.Commands {
		_, worked, ok := strings.Cut(c.Description, "Example, ")
		require.True(t, ok, "%s has a worked example", c.Name)
		lines := commands(worked)
		require.NotEmpty(t, lines, c.Name)
		last := lines[len(lines)-1] // the lines before it lead up to it
		assert.True(t, strings.HasPrefix(last, c.Name), last)
		t.Run(c.Name, func(t *testing.T) {
			if c.Name == "layout" && testing.Short() {
				t.Skip("the demo is planned by another test already")
			}
			t.Chdir(t.TempDir())
			for _, line := range lines {
				s := invoke(t, words(line)...)
				assert.Equal(t, exitDone, s.code, "%s\n%s", line, s.errors)
				assert.NotEmpty(t, s.out)
			}
		})
	}
	_, worked, _ := strings.Cut(app.Description, "Example, ")
	assert.Equal(t, []string{"layout"}, commands(worked))
}

// Hints name commands; each must be one that exists, with flags that exist.
func TestHelpNamesOnlyWhatExists(t *testing.T) {
	app := newApp(strings.NewReader(""), io.Discard, io.Discard)
	for _, c := range app.Commands {
		s := invoke(t, c.Name, "--help")
		require.Equal(t, exitDone, s.code)
		for _, flag := range regexp.MustCompile(`--[a-z-]+`).FindAllString(s.out, -1) {
			_, _, err := split(c, []string{flag + "=x"})
			assert.NoError(t, err, c.Name)
		}
	}
}
