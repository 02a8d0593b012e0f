package plan

import (
	"math"
	"math/bits"
	"slices"
)

// surrogateSteps is how often the prices of the spaces are mended.
const surrogateSteps = 3000

// surrogate is a space made of all others, each with a price: what keeps to every
// space keeps to their sum. With the prices that make it tightest it bounds a mix
// as sharply as the linear programme over all spaces does (F. Glover, Surrogate
// constraint duality in mathematical programming, Operations Research 23, 1975).
// The prices come from a subgradient search in floating point; any prices are
// valid, and the sums are whole numbers rounded in the safe direction.
func surrogate(spaces []space, most []int) space {
	prices := pricesOf(spaces, most)
	out := space{weight: make([]int64, len(most))}
	for c, s := range spaces {
		price := uint64(prices[c] * (1 << 20))
		if s.room == 0 || price == 0 {
			continue
		}
		out.room += int64(price)
		for i, w := range s.weight {
			// What does not fit once is never made.
			if w <= s.room {
				high, low := bits.Mul64(price, uint64(w))
				q, _ := bits.Div64(high, low, uint64(s.room))
				out.weight[i] += int64(q)
			}
		}
	}
	return out
}

// pricesOf looks for the prices, of a space's whole room, that make
//
//	sum of prices + sum over lines of most * max(0, 1 - priced weight)
//
// least: an upper bound on the ornaments in all for any prices.
func pricesOf(spaces []space, most []int) []float64 {
	part := make([][]float64, len(spaces))
	for c, s := range spaces {
		part[c] = make([]float64, len(most))
		for i, w := range s.weight {
			part[c][i] = float64(w) / float64(max(s.room, 1))
		}
	}
	prices := make([]float64, len(spaces))
	best, least := slices.Clone(prices), math.Inf(1)
	slope := make([]float64, len(spaces))
	for step := range surrogateSteps {
		value, norm := 0.0, 0.0
		for c := range slope {
			slope[c] = 1
			value += prices[c]
		}
		for i, n := range most {
			gain := 1.0
			for c := range spaces {
				gain -= prices[c] * part[c][i]
			}
			if gain <= 0 || n == 0 {
				continue
			}
			value += float64(n) * gain
			for c := range slope {
				slope[c] -= float64(n) * part[c][i]
			}
		}
		if value < least {
			best, least = slices.Clone(prices), value
		}
		for _, d := range slope {
			norm += d * d
		}
		if norm == 0 {
			break
		}
		size := value / norm / (2 + float64(step)/20)
		for c := range prices {
			prices[c] = min(max(0, prices[c]-size*slope[c]), 1<<20)
		}
	}
	return best
}
