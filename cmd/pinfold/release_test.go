package main

import (
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// outside is the path of a program that a test asks; in CI it must be there.
func outside(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatal(err)
	}
	if err != nil {
		t.Skip("needs " + name)
	}
	return path
}

func TestVersionNamesGoAndTheFiles(t *testing.T) {
	s := invoke(t, "--version")
	require.Equal(t, exitDone, s.code, s.errors)
	for _, part := range []string{runtime.Version(), "pinfold/result/1", "pinfold/shop/1", "pinfold/makes/1", "pinfold/compare/1", "pinfold/cost/1", "pinfold/history/1"} {
		assert.Contains(t, s.out, part)
	}
}

func TestEveryCommandIsCompletedAndInTheManual(t *testing.T) {
	fish, page := invoke(t, "completion", "fish"), invoke(t, "man")
	require.Equal(t, exitDone, fish.code, fish.errors)
	require.Equal(t, exitDone, page.code, page.errors)
	for _, c := range newApp(strings.NewReader(""), nil, nil).Commands {
		assert.Contains(t, fish.out, "-a "+c.Name+" ")
		assert.Contains(t, page.out, ".SS pinfold "+c.Name)
		for _, f := range c.Flags {
			assert.Contains(t, page.out, `\-\-`+strings.ReplaceAll(f.Names()[0], "-", `\-`), c.Name)
		}
	}
}

func TestCompletionOfAnUnknownShell(t *testing.T) {
	for _, args := range [][]string{{"completion"}, {"completion", "dosbox"}, {"man", "x"}} {
		assert.Equal(t, exitInput, invoke(t, args...).code, args)
	}
}
