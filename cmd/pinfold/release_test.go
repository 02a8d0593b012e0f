package main

import (
	"os/exec"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestVersionNamesGoAndTheFiles(t *testing.T) {
	s := invoke(t, "--version")
	require.Equal(t, exitDone, s.code, s.errors)
	for _, part := range []string{runtime.Version(), "pinfold/result/1", "pinfold/shop/1", "pinfold/makes/1", "pinfold/compare/1", "pinfold/cost/1"} {
		assert.Contains(t, s.out, part)
	}
}

// bash itself says what it would complete.
func TestBashCompletes(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("needs bash")
	}
	script := invoke(t, "completion", "bash")
	require.Equal(t, exitDone, script.code, script.errors)
	for typed, want := range map[string]string{
		"pinfold la":            "layout",
		"pinfold layout --effo": "--effort",
		"pinfold completion fi": "fish",
		"pinfold stash un":      "undo",
	} {
		words := strings.Fields(typed)
		ask := script.out + "\nCOMP_WORDS=(" + typed + ")\nCOMP_CWORD=" + string(rune('0'+len(words)-1)) + "\n_pinfold\necho \"${COMPREPLY[@]}\"\n"
		cmd := exec.Command(bash, "--norc", "-c", ask)
		cmd.Dir = t.TempDir()
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		assert.Equal(t, want, strings.TrimSpace(string(out)), typed)
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
