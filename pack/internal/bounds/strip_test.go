package bounds

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"pinfold/pack/internal/model"
)

// Summed bounds on strips against the best known lengths: Hifi (Computers & OR
// 25, 1998; all optima known), Burke et al. (Operations Research 52, 2004) and
// Hopper & Turton (EJOR 128, 2001).
func TestStripTotals(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second")
	}
	for _, c := range []struct {
		file         string
		fixed, turns int // the sums reached
	}{
		{"hifi_scp.json", 1100, 1056},
		{"burke.json", 2310, 2310},
		{"hopper_turton_c.json", 1725, 1725},
	} {
		f := readFamily(t, c.file)
		for _, turn := range []bool{false, true} {
			key, least := "G_O", c.fixed
			if turn {
				key, least = "G_R", c.turns
			}
			total := 0
			for _, in := range f.Instances {
				pr := &model.Problem{}
				for _, it := range in.Items {
					pr.Items = append(pr.Items, model.Item{W: *it[0], H: *it[1], Demand: *it[2], Turn: turn && *it[0] != *it[1]})
				}
				b, why := stripBound(pr, in.Width)
				assert.LessOrEqual(t, b, int(*in.Known[key].Ub), "%s turn=%v: above a known layout (%s)", in.Name, turn, why)
				total += b
			}
			t.Log(c.file, turn, total)
			assert.GreaterOrEqual(t, total, least, "%s turn=%v", c.file, turn)
		}
	}
}

// stripBound is a lower bound on the length of a strip of the given width that
// holds every piece, x running across it, and the name of the reasoning behind
// it: the first length at which [Cost] does not ask for a second strip.
func stripBound(pr *model.Problem, width int) (int, string) {
	strip := model.Problem{Items: pr.Items}
	var area int64
	least := 0
	for _, it := range pr.Items {
		if it.Demand == 0 {
			continue
		}
		area += it.Area() * int64(it.Demand)
		switch {
		case it.W <= width && (!it.Turn || it.H > width):
			least = max(least, it.H)
		case it.W <= width:
			least = max(least, min(it.W, it.H))
		case it.Turn && it.H <= width:
			least = max(least, it.W)
		}
	}
	if width <= 0 || area == 0 {
		return least, "area"
	}
	// Whatever rules out a length rules out all shorter ones.
	name := "longest piece"
	if h := int((area + int64(width) - 1) / int64(width)); h > least {
		least, name = h, "area"
	}
	for step := 1; step > 0; {
		strip.Stocks = []model.Stock{{W: width, H: least + step - 1, Copies: model.Unlimited, Cost: 1}}
		if n, why := Cost(&strip); n > 1 {
			least, name = least+step, why
			step *= 2
		} else {
			step /= 2
		}
	}
	return least, name
}
