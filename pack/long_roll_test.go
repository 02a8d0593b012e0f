package pack

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// tensOfThousands are pieces of thirty sizes for one long roll.
func tensOfThousands(sheets ...Sheet) Problem {
	r := rand.New(rand.NewPCG(11, 5))
	p := Problem{Sheets: sheets, Roll: &Roll{ID: "bolt", W: 42 * units.Inch, Step: units.Yard / 8, Price: 1150, Per: units.Yard}}
	for i := range 30 {
		p.Pieces = append(p.Pieces, eighths(fmt.Sprint(i), 8+r.IntN(24), 8+r.IntN(24), 500+r.IntN(2000)))
		p.Pieces[i].Turn = true
	}
	return p
}

// Inserting piece by piece into one long roll takes hundreds of times a quick effort;
// it ends with the effort's work, or when the context does, and everything is cut.
func TestALongRollTakesNoMoreThanItsEffort(t *testing.T) {
	ended, end := context.WithCancel(t.Context())
	end()
	fat := Sheet{ID: "fat quarter", W: 21 * units.Inch, H: 18 * units.Inch, Copies: Unlimited, Price: 325}
	for name, p := range map[string]Problem{"roll": tensOfThousands(), "roll and sheets": tensOfThousands(fat)} {
		for _, ctx := range []context.Context{t.Context(), ended} {
			o := Options{Effort: Quick, Workers: 1}
			start := time.Now()
			s, err := Solve(ctx, p, o)
			require.NoError(t, err, name)
			t.Logf("%s: work %d, cost %d, bound %d, %v", name, s.Nodes, s.Cost, s.Bound, time.Since(start))
			assert.NotEqual(t, Short, s.Status, "%s: everything is cut", name)
			assert.LessOrEqual(t, s.Nodes, 2*o.budget(), name)
			if ctx.Err() == nil {
				assert.LessOrEqual(t, float64(s.Cost), 1.05*float64(s.Bound), name)
			}
			assert.Less(t, time.Since(start), time.Minute, name)
			assert.Equal(t, ctx.Err() != nil, s.Stopped, name)
		}
	}
}
