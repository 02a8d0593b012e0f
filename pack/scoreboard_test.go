package pack_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

var update = flag.Bool("update", false, "write the scoreboard anew")

const scoreForm = "%-14s %-8s %9s %9s %9s %s\n"

// The scoreboard shows what effort quick reaches on classical instances, so that
// a change for the worse is a visible difference. Run with -update to accept a
// new one.
func TestScoreboard(t *testing.T) {
	if testing.Short() {
		t.Skip("takes several seconds")
	}
	var b strings.Builder
	fmt.Fprintf(&b, scoreForm, "instance", "pieces", "result", "best", "bound", "proved")
	for _, c := range readClassical(t) {
		for i, way := range []string{"fixed", "turning"} {
			value, bound, proved := score(t, c, i == 1)
			best := "-"
			if c.best[i] > 0 {
				best = fmt.Sprint(c.best[i])
			}
			word := "no"
			if proved {
				word = "yes"
			}
			fmt.Fprintf(&b, scoreForm, c.name, way, fmt.Sprint(value), best, fmt.Sprint(bound), word)

			// Values are least costs, but for fillings.
			sign := int64(1)
			if c.fill {
				sign = -1
			}
			assert.LessOrEqual(t, sign*bound, sign*value, "%s %s: the bound is beaten", c.name, way)
			if c.provable[i] {
				assert.GreaterOrEqual(t, sign*value, sign*c.best[i], "%s %s: better than the optimum", c.name, way)
				assert.LessOrEqual(t, sign*bound, sign*c.best[i], "%s %s: the bound excludes the optimum", c.name, way)
			}
		}
	}
	const golden = "testdata/scoreboard.golden"
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o666))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String(), "the scoreboard changed: go test ./pack -run Scoreboard -update accepts it")
}

// score runs one instance at effort quick with a fixed seed.
func score(t *testing.T, c classical, turn bool) (value, bound int64, proved bool) {
	p, o := c.problem(turn), pack.Options{Effort: pack.Quick, Seed: 1}
	if c.fill {
		f, err := pack.Fill(context.Background(), p, o)
		require.NoError(t, err, c.name)
		return f.Value, f.Bound, f.Proved
	}
	s, err := pack.Solve(context.Background(), p, o)
	require.NoError(t, err, c.name)
	require.NotEqual(t, pack.Short, s.Status, c.name)
	return s.Cost, s.Bound, s.Status == pack.Proved
}
