package blocks

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// Sheets too large to be searched completely, the larger ones in coarse measures: the
// layout can always be cut and only gets better, the bound only falls and never below
// it, in each phase of the search.
func TestFillLargeSheets(t *testing.T) {
	mended, repriced, coarse := 0, 0, 0
	for seed := range uint64(2) {
		side := []int{300, 1500}[seed%2]
		r := rand.New(rand.NewPCG(3, 81))
		pr := &model.Problem{Stocks: []model.Stock{{W: side + r.IntN(side/2), H: side + r.IntN(side/2), Copies: 1}}}
		for range 25 {
			it := model.Item{W: side/20 + r.IntN(side/3), H: side/20 + r.IntN(side/3), Demand: 1 + r.IntN(2), Turn: r.IntN(2) == 0}
			it.Value = it.Area() * int64(90+r.IntN(20)) / 100
			pr.Items = append(pr.Items, it)
		}
		said := fmt.Sprintf("seed %d", seed)
		fill := func() *FillSearch {
			f := NewFill(pr, FillOptions{})
			worth, bound := int64(0), f.Bound()
			for more, spent := true, int64(0); more && spent < 250_000; {
				var n int64
				n, more = f.Run(25_000)
				spent += n
				p, v := f.Best()
				checkPattern(t, pr, p, v, said)
				require.GreaterOrEqual(t, v, worth, said)
				require.LessOrEqual(t, f.Bound(), bound, said)
				require.LessOrEqual(t, v, f.Bound(), said)
				worth, bound = v, f.Bound()
			}
			return f
		}
		f := fill()
		// Half of the sheet and more is used, by pieces worth about their area.
		assert.Greater(t, 2*f.worth*f.unit, pr.Stocks[0].Area(), said)
		if f.mender != nil {
			mended++
		}
		if f.patience == 0 {
			repriced++
		}
		if !f.s.exact() {
			coarse++
		}
	}
	assert.Positive(t, mended)
	assert.Positive(t, repriced)
	assert.Positive(t, coarse)
}

// A sheet of so many measures that no table holds them, in whatever unit, still gets a
// bound, by area, and no wrong answer.
func TestFillVastSheet(t *testing.T) {
	pr := &model.Problem{
		Stocks: []model.Stock{{W: 1 << 30, H: 1 << 30, Copies: 1}},
		Items:  []model.Item{{W: 3, H: 2, Demand: 5, Value: 6}, {W: 1<<29 + 1, H: 1 << 29, Demand: 9, Value: 1 << 50}},
	}
	f := NewFill(pr, FillOptions{})
	require.True(t, f.s.vast)
	spent, more := f.Run(1_000)
	assert.False(t, more)
	assert.LessOrEqual(t, spent, int64(2))
	p, v := f.Best()
	checkPattern(t, pr, p, v)
	assert.GreaterOrEqual(t, f.Bound(), 2*int64(1<<50)+5*6, "two of the large ones and all small ones fit")
}
