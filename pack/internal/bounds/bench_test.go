package bounds

import (
	"math/rand/v2"
	"testing"

	"pinfold/pack/internal/model"
)

// A quilt shop's case: 40 sizes, five kinds of stock.
func BenchmarkCost(b *testing.B) {
	for _, grid := range []struct {
		name string
		unit int
	}{{"quarter inches", 4}, {"64ths", 64}, {"ticks", 8128}} {
		r := rand.New(rand.NewPCG(1, 2))
		pr := &model.Problem{}
		for range 40 {
			pr.Items = append(pr.Items, model.Item{
				W: (4 + r.IntN(40)) * grid.unit / 4, H: (4 + r.IntN(40)) * grid.unit / 4, Demand: 1 + r.IntN(200), Turn: true,
			})
		}
		for _, s := range [][3]int{{18, 21, 325}, {9, 21, 180}, {40, 36, 1100}, {40, 18, 600}, {12, 15, 0}} {
			pr.Stocks = append(pr.Stocks, model.Stock{W: s[0] * grid.unit, H: s[1] * grid.unit, Copies: model.Unlimited, Cost: int64(s[2])})
		}
		pr.Stocks[4].Copies = 3
		b.Run(grid.name, func(b *testing.B) {
			for b.Loop() {
				Cost(pr)
			}
		})
	}
}
