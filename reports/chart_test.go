package reports

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// someChart has figures made up to have every shape there is: proved, open,
// none at all.
func someChart(rows, cloths int) *Chart {
	c := &Chart{Unit: units.Inches, Squaring: in / 4, Turning: true}
	for i := range cloths {
		side := units.Length(10+i) * in
		c.Cloths = append(c.Cloths, ChartCloth{
			Name: []string{"fat quarter", "", "½ yd off the bolt"}[i%3],
			Size: units.Size{Along: side, Across: side + in/2}, Usable: units.Size{Along: side - in/2, Across: side},
		})
	}
	for i := range rows {
		row := ChartRow{Size: units.Size{Along: in + units.Length(i)*in/8, Across: 2 * in}}
		for j := range cloths {
			row.Cells = append(row.Cells, ChartCell{
				Turned: Figure{Count: 1200 - i, Most: int64(1200 - i + j%2)},
				Kept:   Figure{Count: i * j, Most: int64(i * j)},
			})
		}
		c.Rows = append(c.Rows, row)
	}
	return c
}

func TestChartText(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, someChart(2, 4).WriteText(&b))
	assert.True(t, strings.HasPrefix(b.String(), `Pieces from one cut of cloth

                               fat quarter
                            10 x 10 1/2 in                11 x 11 1/2 in
                  squared to 9 1/2 x 10 in     squared to 10 1/2 x 11 in
along x across       turning   not turning        turning    not turning
1 x 2 in                1200             0   1200 to 1201              0
1 1/8 x 2 in            1199             0   1199 to 1200              1

`), b.String())
}

func TestChartTextFitsAScreen(t *testing.T) {
	for _, turning := range []bool{true, false} {
		c := someChart(30, 9)
		c.Turning = turning
		var b bytes.Buffer
		require.NoError(t, c.WriteText(&b))
		for line := range strings.Lines(b.String()) {
			assert.LessOrEqual(t, len([]rune(strings.TrimRight(line, "\n"))), screen, line)
		}
		assert.Equal(t, 30*9*len(c.heads()), figuresIn(b.String()), "every figure stands there")
		words := strings.Join(strings.Fields(b.String()), " ")
		assert.Equal(t, turning, strings.Contains(words, "Of two, the first can be cut"), "open figures are explained, if there are any")
		assert.Equal(t, !turning, strings.Contains(words, "Every figure is proved"))
	}
}

// figuresIn counts the figures of a chart's rows of 2 in pieces.
func figuresIn(text string) int {
	n := 0
	for line := range strings.Lines(text) {
		if _, cells, ok := strings.Cut(line, "x 2 in "); ok {
			n += len(strings.Fields(strings.ReplaceAll(cells, " to ", "-")))
		}
	}
	return n
}

func TestChartCSV(t *testing.T) {
	c := someChart(3, 2)
	c.Cloths[0].Name = "=HYPERLINK(1)"
	var b bytes.Buffer
	require.NoError(t, c.WriteCSV(&b))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+3*2*2)
	assert.Equal(t, []string{"1 1/8 x 2 in", "1.125", "2", "in", "'=HYPERLINK(1)", "9.5", "10", "yes", "1199", "1199", "yes"}, rows[5])
	assert.Equal(t, []string{"1 1/8 x 2 in", "1.125", "2", "in", "11 x 11 1/2 in", "10.5", "11", "yes", "1199", "1200", "no"}, rows[7])
}

func TestChartPages(t *testing.T) {
	for _, paper := range []Paper{Letter, A4} {
		for _, turning := range []bool{true, false} {
			c := someChart(120, 9)
			c.Turning = turning
			c.Cloths[1].Name = strings.Repeat("endless ", 30) + "水"
			var words lexicon
			c.set(paper, &words)
			pages := c.set(paper, &words)
			require.Greater(t, len(pages), 2)
			count := 0
			for i := range pages {
				inside(t, &pages[i].Drawing)
				for _, m := range pages[i].Marks {
					if m.Shape == TextShape && m.Text == fmt.Sprint(1200-37) {
						count++
					}
				}
			}
			if turning {
				assert.Equal(t, 5, count, "one row has 1163 proved in the even columns")
			}
		}
	}
	var once, again bytes.Buffer
	require.NoError(t, someChart(5, 3).WritePDF(&once, Paper{}))
	require.NoError(t, someChart(5, 3).WritePDF(&again, Paper{}))
	assert.Equal(t, once.Bytes(), again.Bytes())
}

func TestChartWritesOnlyTables(t *testing.T) {
	dir := t.TempDir()
	_, err := someChart(1, 1).Write(dir, []Format{CSV, SVG}, Paper{})
	assert.ErrorContains(t, err, "a chart cannot be written as svg: write text, csv or pdf")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, entries)
	written, err := someChart(1, 1).Write(dir, []Format{CSV, PDF}, Paper{})
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join(dir, "chart.csv"), filepath.Join(dir, "chart.pdf")}, written)
}
