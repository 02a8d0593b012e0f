package bounds

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

type family struct {
	Instances []struct {
		Name  string
		Class int
		Bin   [2]int
		Width int
		Items [][4]*int
		Known map[string]struct{ Lb, Ub *float64 }
	}
}

func readFamily(t testing.TB, name string) family {
	b, err := os.ReadFile("../../../../shared/benchmarks/" + name)
	if err != nil {
		t.Skip("the folder of open benchmark instances is not here: ", err)
	}
	var f family
	require.NoError(t, json.Unmarshal(b, &f))
	return f
}

// Summed bounds over the 500 instances of Berkey & Wang (J. Oper. Res. Soc. 38,
// 1987) and Martello & Vigo (Management Science 44, 1998).
func TestClassTotals(t *testing.T) {
	f := readFamily(t, "bwmv.json")
	for _, turn := range []bool{false, true} {
		key, least := "G_O", 7167
		if turn {
			key, least = "G_R", 6889
		}
		total := 0
		byClass := map[int]int{}
		names := map[string]int{}
		for i, in := range f.Instances {
			if testing.Short() && i%10 > 0 {
				continue
			}
			pr := &model.Problem{Stocks: []model.Stock{{W: in.Bin[0], H: in.Bin[1], Copies: model.Unlimited, Cost: 1}}}
			for _, it := range in.Items {
				pr.Items = append(pr.Items, model.Item{W: *it[0], H: *it[1], Demand: 1, Turn: turn && *it[0] != *it[1]})
			}
			b, why := Sheets(pr)
			total += b
			byClass[in.Class] += b
			names[why]++
			if ub := in.Known[key].Ub; ub != nil {
				assert.LessOrEqual(t, b, int(*ub), "%s turn=%v: bound above a known layout (%s)", in.Name, turn, why)
			}
		}
		t.Log(turn, total, byClass, names)
		if !testing.Short() {
			assert.GreaterOrEqual(t, total, least, "turn=%v", turn)
		}
	}
}
