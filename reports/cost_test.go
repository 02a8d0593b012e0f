package reports

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// sale is the fair with supplies that have prices.
func sale(t *testing.T) *Costing {
	r := fair(t)
	pin, cord := int64(210), int64(9050)
	r.Plan.Ornaments[0].Supplies = []plan.Supply{{Name: "straight pins", Count: 101, Price: &pin}, {Name: "hanging cord", Length: 10 * in, Price: &cord, Per: units.Yard}}
	r.Plan.Ornaments[1].Supplies = []plan.Supply{{Name: "straight pins", Count: 53, Price: &pin}, {Name: "a\nbell"}}
	c, err := plan.CostOf(r)
	require.NoError(t, err)
	return NewCosting(r, c)
}

func TestCostGolden(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, sale(t).WriteText(&b))
	golden(t, "cost.txt", b.Bytes())
	b.Reset()
	require.NoError(t, sale(t).WriteJSON(&b))
	golden(t, "cost.json", b.Bytes())
}

// The columns of the table add up to the last row as they are printed.
func TestCostTablesAddUp(t *testing.T) {
	cents := func(s string) int {
		n, err := strconv.Atoi(strings.NewReplacer("$", "", ".", "", ",", "").Replace(s))
		require.NoError(t, err, s)
		return n
	}
	c := sale(t)
	bill := 0
	for _, l := range c.Bill {
		bill += cents(l.Price)
	}
	assert.Equal(t, bill, cents(c.Total))
	for _, rows := range [][]CostRow{c.Bought, c.Used} {
		var sum [3]int
		for i, r := range rows {
			now := [3]int{cents(r.Fabric), cents(r.Supplies), cents(r.Together)}
			assert.Equal(t, now[2], now[0]+now[1])
			if i == len(rows)-1 {
				assert.Equal(t, sum, now)
			}
			for k := range sum {
				sum[k] += now[k]
			}
		}
	}
	assert.Equal(t, c.Total, c.Bought[len(c.Bought)-1].Together)
}

func TestCostFiles(t *testing.T) {
	c := sale(t)
	c.result.Plan.Make[0].Ornament = "=star"
	c.result.Plan.Ornaments[0].Name = "=star"
	var b bytes.Buffer
	require.NoError(t, c.WriteCSV(&b))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, []string{"'=star", "night water", "6"}, rows[1][:3])
	require.NoError(t, c.WriteJSON(&b))
	var doc struct {
		Schema string
		Bill   []struct {
			Bought, Used int
			Shares       []struct{ Bought, Used int }
		}
		Total struct {
			FabricBought int `json:"fabric_bought"`
			Supplies     int
		}
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, "pinfold/cost/1", doc.Schema)
	all := 0
	for _, l := range doc.Bill {
		assert.Equal(t, l.Bought, l.Shares[0].Bought+l.Shares[1].Bought)
		assert.Equal(t, l.Used, l.Shares[0].Used+l.Shares[1].Used)
		all += l.Bought
	}
	assert.Equal(t, all, doc.Total.FabricBought+doc.Total.Supplies)
	_, err = c.Write(t.TempDir(), []Format{PDF})
	assert.ErrorContains(t, err, "a cost cannot be written as pdf: write text, csv or json")
}

func TestFineMoney(t *testing.T) {
	for n, want := range map[int64]string{0: "$0.00", 210: "$0.021", 200: "$0.02", 1: "$0.0001", 1234567: "$123.4567", 123450000: "$12,345.00"} {
		assert.Equal(t, want, fineMoney("$", n))
	}
}
