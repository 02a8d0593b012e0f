package main

import (
	"bytes"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asProgram in the environment makes the test binary be the program itself, so
// that signals can be sent to a process of its own.
const asProgram = "PINFOLD_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	code := m.Run()
	_ = os.RemoveAll(builtFolder) // it may never have been built
	os.Exit(code)
}

// program is a process of its own.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	c := exec.CommandContext(t.Context(), self, args...)
	c.Env = append(os.Environ(), asProgram+"=1")
	return c
}

func TestSignalsAreAnsweredWithTheBest(t *testing.T) {
	if testing.Short() {
		t.Skip("a search of seconds is not for the race detector")
	}
	for _, sent := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		t.Run(sent.String(), func(t *testing.T) {
			if signal.Ignored(sent) {
				t.Skip("what runs these tests ignores it, as nohup does, and so does what they start")
			}
			dir := filepath.Join(t.TempDir(), "out")
			c := program(t, "layout", "--effort", "thorough", "--out", dir)
			var out, errs bytes.Buffer
			c.Stdout, c.Stderr = &out, &errs
			require.NoError(t, c.Start())
			// The folder is made once the plan is read, just before the search.
			require.Eventually(t, func() bool { _, err := os.Stat(dir); return err == nil }, 20*time.Second, 10*time.Millisecond)
			time.Sleep(300 * time.Millisecond)
			require.NoError(t, c.Process.Signal(sent))
			err := c.Wait()
			var exit *exec.ExitError
			require.ErrorAs(t, err, &exit, errs.String())
			assert.Equal(t, exitInterrupted, exit.ExitCode(), errs.String())
			text, err := os.ReadFile(filepath.Join(dir, "result.json"))
			require.NoError(t, err)
			assert.True(t, complete(t, text).Stopped)
			assert.Contains(t, out.String(), "stopped early")
		})
	}
}

func TestExitCodesOfTheProcess(t *testing.T) {
	out, err := program(t, "ball", "3").Output()
	require.NoError(t, err)
	assert.Contains(t, string(out), "10 1/2 in")
	err = program(t, "bell", "3").Run()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	assert.Equal(t, exitInput, exit.ExitCode())
}
