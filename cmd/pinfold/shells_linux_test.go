package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// typed is what is typed, with the tab key, and what the program must then be
// started with, in a folder with the files plan.yaml, "my plan.yaml" and far/off/x.
var typed = map[string]string{
	"pinfold lay\tpl\t":                   "<layout><plan.yaml>",
	"pinfold check my\t":                  "<check><my plan.yaml>",
	"pinfold layout --effo\tquick pl\t":   "<layout><--effort><quick><plan.yaml>",
	"pinfold layout plan.yaml --use\t":    "<layout><plan.yaml><--use-up>",
	"pinfold done --stash fa\tof\tx\t":    "<done><--stash><far/off/x>",
	"pinfold stash un\t":                  "<stash><undo>",
	"pinfold stash export --overw\tfar\t": "<stash><export><--overwrite><far/>",
	"pinfold --vers\t":                    "<--version>",
	"pinfold completion fi\t":             "<completion><fish>",
}

func completionFolder(t *testing.T, shell string) string {
	t.Helper()
	dir := t.TempDir()
	script := invoke(t, "completion", shell)
	require.Equal(t, exitDone, script.code, script.errors)
	write(t, dir, "load", script.out)
	write(t, dir, "plan.yaml", "")
	write(t, dir, "my plan.yaml", "")
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "far", "off"), 0o755))
	write(t, filepath.Join(dir, "far", "off"), "x", "")
	return dir
}

// A shell on a terminal, hands on the keys: where the program should start stands a
// function that tells its arguments.
func TestShellsComplete(t *testing.T) {
	for shell, start := range map[string][2]string{
		"bash": {"bash --norc --noprofile -i", "source ./load"},
		"zsh":  {"zsh -f -i", "autoload -Uz compinit; compinit -D; source ./load"},
	} {
		t.Run(shell, func(t *testing.T) {
			outside(t, shell)
			c := exec.Command(outside(t, "script"), "-qec", start[0], "/dev/null")
			c.Dir = completionFolder(t, shell)
			c.Env = append(os.Environ(), "TERM=xterm", "HISTFILE=")
			keys, err := c.StdinPipe()
			require.NoError(t, err)
			var seen screen
			c.Stdout, c.Stderr = &seen, &seen
			require.NoError(t, c.Start())
			defer func() {
				_ = c.Process.Kill()
				_ = c.Wait()
			}()
			enter := func(line, want string) {
				from := seen.len()
				_, err := io.WriteString(keys, line+"\n")
				require.NoError(t, err)
				assert.Eventually(t, func() bool { return strings.Contains(seen.after(from), want) },
					20*time.Second, 5*time.Millisecond, "%q must become %q", line, want)
				if t.Failed() {
					t.Fatal(seen.after(from))
				}
			}
			enter(start[1]+`; pinfold() { printf '<%s>' "$@"; echo .; }; pinfold ready`, "<ready>.")
			for line, want := range typed {
				if shell == "zsh" { // which takes the slash it added away again when the line ends
					want = strings.Replace(want, "/>", ">", 1)
				}
				enter(line, want+".")
			}
		})
	}
}

// screen is what a shell has written so far.
type screen struct {
	lock sync.Mutex
	text bytes.Buffer
}

func (s *screen) Write(p []byte) (int, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	return s.text.Write(p)
}

func (s *screen) len() int {
	s.lock.Lock()
	defer s.lock.Unlock()
	return s.text.Len()
}

func (s *screen) after(n int) string {
	s.lock.Lock()
	defer s.lock.Unlock()
	return string(s.text.Bytes()[n:])
}

// fish says itself what it would offer.
func TestFishCompletes(t *testing.T) {
	fish := outside(t, "fish")
	dir := completionFolder(t, "fish")
	for asked, want := range map[string][]string{
		"pinfold lay":                  {"layout"},
		"pinfold -":                    {"--help", "--version"},
		"pinfold layout --effo":        {"--effort"},
		"pinfold layout --use":         {"--use-up"},
		"pinfold layout pl":            {"plan.yaml"},
		"pinfold check my":             {"my plan.yaml"},
		"pinfold done --stash far/off": {"far/off/"},
		"pinfold stash un":             {"undo"},
		"pinfold stash put ":           {"far/", "load", "my plan.yaml", "plan.yaml"},
		"pinfold completion ":          {"bash", "far/", "fish", "load", "my plan.yaml", "plan.yaml", "zsh"},
		"pinfold man --":               {"--help"},
	} {
		c := exec.Command(fish, "--no-config", "-c", "source load; complete -C $argv[1]", asked)
		c.Dir = dir
		c.Env = append(os.Environ(), "HOME="+dir)
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
		var offered []string
		for line := range strings.Lines(string(out)) {
			word, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			offered = append(offered, word)
		}
		assert.Equal(t, want, offered, asked)
	}
}
