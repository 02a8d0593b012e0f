package reports

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"path/filepath"
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
	dir := t.TempDir()
	_, err = c.Write(dir, []Format{PDF, SVG}, Paper{})
	assert.ErrorContains(t, err, "a cost cannot be written as svg: write text, csv, json or pdf")
	written, err := c.Write(dir, []Format{CSV, JSON, PDF}, Paper{})
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join(dir, "cost.csv"), filepath.Join(dir, "cost.json"), filepath.Join(dir, "cost.pdf")}, written)
}

func TestFineMoney(t *testing.T) {
	for n, want := range map[int64]string{0: "$0.00", 210: "$0.021", 200: "$0.02", 1: "$0.0001", 1234567: "$123.4567", 123450000: "$12,345.00"} {
		assert.Equal(t, want, fineMoney("$", n))
	}
}

// Every amount of the text is on the pages, nothing leaves the paper, and the
// same costing gives the same file.
func TestCostPages(t *testing.T) {
	for _, paper := range []Paper{Letter, A4} {
		c := sale(t)
		c.Title = strings.Repeat("a long title ", 12) + "水"
		c.Bill[0].Name = strings.Repeat("endless ", 30)
		for range 80 {
			c.Bill = append(c.Bill, c.Bill[1])
		}
		c.Bought[0].What = strings.Repeat("so many fabrics, ", 40)
		var words lexicon
		c.set(paper, &words)
		pages := c.set(paper, &words)
		require.Greater(t, len(pages), 1)
		printed := map[string]bool{}
		for i := range pages {
			inside(t, &pages[i].Drawing)
			for _, m := range pages[i].Marks {
				printed[m.Text] = true
			}
		}
		assert.True(t, printed[c.Total])
		for _, rows := range [][]CostRow{c.Bought, c.Used} {
			for _, r := range rows {
				for _, s := range []string{r.Fabric, r.Supplies, r.Together, r.Each} {
					assert.True(t, s == "" || printed[s], s)
				}
			}
		}
	}
	var once, again bytes.Buffer
	require.NoError(t, sale(t).WritePDF(&once, Paper{}))
	require.NoError(t, sale(t).WritePDF(&again, Paper{}))
	assert.Equal(t, once.Bytes(), again.Bytes())
}
