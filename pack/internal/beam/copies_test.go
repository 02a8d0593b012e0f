package beam

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// Two copies side by side share what is lost beside them: each grows by half of it.
func TestCopiesShareWhatIsLost(t *testing.T) {
	for _, c := range []struct {
		side, demand, extent int
		grown                int32
	}{
		{2, 1, 6, 6}, {2, 2, 6, 3}, {2, 3, 6, 2}, {2, 2, 5, 2}, {3, 2, 8, 4}, {3, 9, 10, 3}, {3, 2, 10, 5}, {4, 2, 7, 7},
	} {
		pr := &model.Problem{Items: []model.Item{{W: c.side, H: 1, Demand: c.demand}}, Stocks: []model.Stock{{W: c.extent, H: 1, Copies: 1}}}
		assert.Equal(t, c.grown, New(pr, Options{}).shapes[0][0].a, "%+v", c)
	}
}

// With several copies of a size a search that has tried everything has found the
// best as well.
func TestTinyCopiesAgainstBruteForce(t *testing.T) {
	problems := 240
	if testing.Short() {
		problems = 60
	}
	rng := rand.New(rand.NewPCG(7, 2))
	for n := range problems {
		w, h := 3+rng.IntN(8), 3+rng.IntN(8)
		pr := draw(rng, 1+rng.IntN(2), 6, w, h, 3, []int{0, 2, 3}[n%3], n%2 == 0)
		if n%4 == 1 {
			pr.Stocks[0].Cost = int64(w * h)
			pr.Stocks = append(pr.Stocks, model.Stock{W: h, H: w, Copies: 1, Cost: int64(w*h) - 1}, model.Stock{W: 4, H: 9, Copies: 1, Cost: 0})
		}
		b := newBrute(pr)
		for goal, want := range map[Goal]func() int64{
			Pack: b.cost, Strip: func() int64 { return b.height(w) }, Fill: func() int64 { return b.value(w, h) },
		} {
			name := fmt.Sprintf("%d goal %d: %+v", n, goal, pr)
			q := *pr
			if goal == Strip {
				q.Stocks = []model.Stock{{W: w, H: 60, Copies: 1}}
			}
			s := New(&q, Options{Goal: goal})
			_, more := s.Run(500_000)
			require.False(t, more, name)
			require.True(t, s.Exhausted(), name)
			require.NotNil(t, s.Best(), name)
			require.Equal(t, want(), s.Value(), name)
			check(t, &q, goal, s.Best())
		}
	}
}
