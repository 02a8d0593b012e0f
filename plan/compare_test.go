package plan

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// The published piece lists, 24 of each, with 4 layers: every preference takes
// under a third of the passes of one sheet and one cut at a time, at equal area
// bought. With PINFOLD_TABLE set the table is printed, the demo with it.
func TestPassesOfPublishedLists(t *testing.T) {
	table := os.Getenv("PINFOLD_TABLE") != ""
	files, err := filepath.Glob("testdata/published/S*.yaml")
	require.NoError(t, err)
	require.Len(t, files, len(published))
	o := Options{Effort: pack.Quick}
	if table {
		o.Effort = pack.Normal
		files = append(files, "../fixtures/demo/plan.yaml")
	} else if testing.Short() {
		files = files[:2]
	}
	for _, file := range files {
		p, err := Read(file)
		require.NoError(t, err)
		if strings.Contains(file, "published") {
			for i := range p.Make {
				p.Make[i].Count = 24
			}
		}
		require.Equal(t, 4, p.Cutting.Layers)
		c, err := Compare(context.Background(), p, o)
		require.NoError(t, err)
		assert.LessOrEqual(t, c.Rows[FewerPasses].Passes, c.Rows[Balanced].Passes, file)
		toil := func(p Preference) int { s := c.Rows[p].Result.Session; return s.Passes + 2*s.Settings }
		assert.LessOrEqual(t, toil(Balanced), toil(Thrift), file)
		cloth := func(p Preference) int64 { return int64(c.Rows[p].Bought + c.Rows[p].Hand) }
		assert.LessOrEqual(t, 100*cloth(Balanced), 103*cloth(Thrift), file)
		row := []any{filepath.Base(file), c.Singly}
		for _, r := range c.Rows {
			row = append(row, r.Passes)
			assert.LessOrEqual(t, r.Bought, c.Rows[0].Bought, "%s, %v", file, r.Prefer)
			if strings.Contains(file, "published") {
				assert.Less(t, 3*r.Passes, c.Singly, "%s, %v", file, r.Prefer)
			}
		}
		if table {
			fmt.Printf("%-10s singly %4d  thrift %4d  fewer %4d  balanced %4d\n", row...)
		}
	}
}
