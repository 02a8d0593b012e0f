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
				b, why := Length(pr, in.Width)
				assert.LessOrEqual(t, b, int(*in.Known[key].Ub), "%s turn=%v: above a known layout (%s)", in.Name, turn, why)
				total += b
			}
			t.Log(c.file, turn, total)
			assert.GreaterOrEqual(t, total, least, "%s turn=%v", c.file, turn)
		}
	}
}
