package reports

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
	"pinfold/pack"
	"pinfold/plan"
)

// demo is the embedded plan, solved once with little effort.
func demo(t *testing.T) *plan.Result {
	t.Helper()
	if testing.Short() {
		t.Skip("solving the demo takes a second, and many under the race detector")
	}
	r, err := solvedDemo()
	require.NoError(t, err)
	return r
}

var solvedDemo = sync.OnceValues(func() (*plan.Result, error) {
	p, err := plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
	if err != nil {
		return nil, err
	}
	return plan.Solve(context.Background(), p, plan.Options{Effort: pack.Quick})
})

func TestDemoResultPassesTheIndependentCheck(t *testing.T) {
	tool := filepath.Join("..", "..", "shared", "tools", "check_result.py")
	if _, err := os.Stat(tool); err != nil {
		t.Skip("no folder with check_result.py beside the checkout")
	}
	python, err := exec.LookPath("python3")
	if os.Getenv("CI") == "true" {
		require.NoError(t, err, "CI needs python3")
	} else if err != nil {
		t.Skip("python3 is not installed")
	}
	for name, r := range map[string]*plan.Result{"demo": demo(t), "fair": fair(t), "unpriced": unpriced(t)} {
		var b bytes.Buffer
		require.NoError(t, New(r).WriteJSON(&b))
		check := exec.Command(python, tool, "-")
		check.Stdin = &b
		out, err := check.CombinedOutput()
		assert.NoError(t, err, "%s: %s", name, out)
	}
}

func TestDemoCrossCheckAgrees(t *testing.T) {
	rep := New(demo(t))
	require.Len(t, rep.CrossCheck, 2)
	for _, line := range rep.CrossCheck {
		assert.Contains(t, line, ": equal")
	}
}
