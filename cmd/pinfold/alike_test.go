package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/urfave/cli/v2"

	"pinfold/fixtures"
)

// Every command that takes a plan answers what is none in the same words, and writes
// nothing.
func TestEveryCommandTakesAPlanTheSameWay(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, fixtures.PlanFile, "title: [\n")
	seen := 0
	for _, c := range newApp(nil, nil, nil).Commands {
		if c.ArgsUsage != "[PLAN]" {
			continue
		}
		seen++
		for arg, said := range map[string]string{
			"":                      "pinfold: the name of the plan is empty\n",
			"-":                     "pinfold: a plan is read from a file, not from what is piped in\n",
			".":                     ".: is a folder: write the plan file in it, such as plan.yaml\n",
			"gone.yaml":             "gone.yaml: no such file: write the path of a plan file\n",
			fixtures.PlanFile:       "plan.yaml:2:1: this is not YAML",
			filepath.Join("x", "y"): "x/y: no such file: write the path of a plan file\n",
		} {
			refused(t, invoke(t, c.Name, arg), said)
		}
		refused(t, invoke(t, c.Name, "a", "b"), c.Name+" takes one plan, not 2")
	}
	assert.Equal(t, []string{fixtures.PlanFile}, names(t, dir))
	require.Equal(t, 7, seen, "layout, check, cost, compare, face, shop, makes")
}

// Flags of the same name say the same with every command. What is written, and from
// what sheet or pole things start, is each command's own.
func TestFlagsOfOneNameSayTheSame(t *testing.T) {
	own := map[string]bool{"out": true, "layouts": true, "formats": true, "json": true, "from": true}
	said := map[string]string{}
	for _, c := range newApp(nil, nil, nil).Commands {
		for _, f := range c.Flags {
			name := f.Names()[0]
			usage, _, _ := strings.Cut(f.(cli.DocGenerationFlag).GetUsage(), " (default")
			if before, ok := said[name]; ok && !own[name] {
				assert.Equal(t, before, usage, "pinfold %s --%s", c.Name, name)
			}
			said[name] = usage
		}
	}
	require.Contains(t, said, "effort")
}
