//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// In a folder that may not be written nothing changes, and reading goes on.
func TestStashInAReadOnlyFolder(t *testing.T) {
	k := newKept(t)
	require.NoError(t, os.Chmod(k.dir, 0o555))
	t.Cleanup(func() { _ = os.Chmod(k.dir, 0o755) })
	// The superuser may write anywhere, so the program runs as nobody.
	as := func(args ...string) (string, error) {
		c := exec.Command(k.program, append(args, "--stash", k.stash)...)
		if os.Getuid() == 0 {
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
			for d := k.dir; d != os.TempDir() && d != "/"; d = filepath.Dir(d) {
				info, err := os.Stat(d)
				require.NoError(t, err)
				require.NoError(t, os.Chmod(d, info.Mode().Perm()|0o055))
			}
		}
		out, err := c.CombinedOutput()
		return string(out), err
	}
	out, err := as("stash")
	require.NoError(t, err, out)
	assert.Contains(t, out, "blue plain: 3 pieces")
	for _, args := range [][]string{{"stash", "put", "navy dot: 2 x 2"}, {"stash", "take", "1"}, {"stash", "undo"}} {
		out, err = as(args...)
		assert.Error(t, err)
		assert.Contains(t, out, "stash.csv: cannot write into its folder: permission denied: make the folder and make it writable", args)
	}
	assert.Equal(t, handKept, stashOf(t, k.dir))
}
