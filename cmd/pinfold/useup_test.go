package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Four pieces of 2 x 3 lie on 9 x 30 or on two scraps of 4 x 3: with --use-up, as
// with the plan's own words, on the scraps.
func TestUseUp(t *testing.T) {
	stash := `stash:
  - {id: large, fabric: sand, size: 9 x 30, squared: yes}
  - {id: scrap, fabric: sand, size: 4 x 3, squared: yes, count: 2}
  - {id: snip, fabric: sand, size: 1 x 9, squared: yes}
`
	dir := filepath.Join(t.TempDir(), "out")
	for _, words := range []string{"", "cutting: {bin first: no}", "cutting: {bin first: yes}"} {
		plan := smallPlan(t, map[string]string{"STASH": stash + words})
		s := invoke(t, "layout", plan, "--use-up", "--effort", "quick", "--out", dir, "--formats", "text")
		require.Equal(t, exitDone, s.code, s.errors)
		assert.Contains(t, s.out, "  2 of scrap", words)
		assert.NotContains(t, s.out, " of large", words)
		assert.Contains(t, s.out, "To let go, since no piece of this plan fits in them: snip", words)
	}
	s := invoke(t, "layout", smallPlan(t, map[string]string{"STASH": stash + "cutting: {bin first: perhaps}"}), "--out", dir)
	assert.Equal(t, exitInput, s.code)
	assert.Contains(t, s.errors, `unknown answer to bin first "perhaps"`)
	s = invoke(t, "layout", smallPlan(t, map[string]string{"STASH": stash}), "--effort", "quick", "--out", dir, "--formats", "text")
	assert.NotContains(t, s.out, "The scrap bin")
}
