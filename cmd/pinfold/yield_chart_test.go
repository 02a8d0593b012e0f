package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// chartOf makes a chart in all formats and returns the rows of its CSV by column.
func chartOf(t *testing.T, args ...string) []map[string]string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "chart")
	s := invoke(t, append([]string{"yield", "--formats", "csv,pdf,text", "--out", dir}, args...)...)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "The chart is in the folder "+dir)
	assert.Equal(t, []string{"chart.csv", "chart.pdf"}, names(t, dir))
	text, err := os.ReadFile(filepath.Join(dir, "chart.csv"))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range rows[1:] {
		named := map[string]string{}
		for i, name := range rows[0] {
			named[name] = row[i]
		}
		out = append(out, named)
	}
	return out
}

// squares turns the first column of a chart into arguments.
func squares(rows [][]string) (args []string) {
	for _, row := range rows {
		args = append(args, row[0]+" x "+row[0])
	}
	return args
}

// The printed charts (A1 to A3, and D from 2 in) again, each as one chart of
// ours. Sources stand in the charts.
func TestYieldChartsPrintedCharts(t *testing.T) {
	rows := chart(t, "fat-quarter.csv")
	got := chartOf(t, append(squares(rows[1:]), "--from", "fat quarter")...)
	require.Len(t, got, 2*len(rows[1:]))
	for i, row := range rows[1:] {
		for j, cell := range row[1:] {
			for _, f := range got[2*i : 2*i+2] {
				assert.Equal(t, "yes", f["proved"], f)
				if cell != "" {
					assert.Equal(t, cell, f["pieces"], "%s in, %s", row[0], rows[0][j+1])
				}
			}
		}
	}
	rows = chart(t, "yard.csv")
	rows = append(rows[:1], rows[4:]...)
	got = chartOf(t, append(squares(rows[1:]), "--from", "1 yd x 39", "--from", "1 yd x 40", "--no-turn")...)
	require.Len(t, got, 2*len(rows[1:]))
	for i, row := range rows[1:] {
		for j, cell := range row[1:] {
			f := got[2*i+j]
			assert.Equal(t, []string{cell, "yes", rows[0][j+1]}, []string{f["pieces"], f["proved"], f["cloth across"]}, row[0])
		}
	}
}

// Rectangles with and without turning, as in rectangles.csv, where those that
// are not turned lie the better of the two ways.
func TestYieldChartsTurning(t *testing.T) {
	rows := chart(t, "rectangles.csv")[1:]
	if testing.Short() {
		rows = rows[:3]
	}
	for _, row := range rows {
		a, b, _ := strings.Cut(row[0], " x ")
		got := chartOf(t, row[0], b+" x "+a, "--from", row[1])
		require.Len(t, got, 4)
		for i, turned := range []string{"yes", "no", "yes", "no"} {
			assert.Equal(t, []string{turned, "yes"}, []string{got[i]["may be turned"], got[i]["proved"]}, row)
		}
		assert.Equal(t, []string{row[3], row[3]}, []string{got[0]["pieces"], got[2]["pieces"]}, row)
		assert.Equal(t, number(t, row[2]), max(number(t, got[1]["pieces"]), number(t, got[3]["pieces"])), row)
	}
}

func TestYieldChartsThemselves(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	s := invoke(t, "yield", "6 x 6", "7 x 7.5", "--from", "50 x 55 cm", "--from", "0.25 m x 110", "--unit", "cm")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "6 x 6 cm                 72           72           72           72\n")
	assert.Contains(t, s.out, "0.25 m off the bolt")
	assert.Empty(t, names(t, dir), "a chart on the screen writes nothing")
	assert.Equal(t, s, invoke(t, "yield", "6 x 6", "7 x 7.5", "--from", "50 x 55 cm", "--from", "0.25 m x 110", "--unit", "cm"))

	s = invoke(t, "yield", "2 x 2", "--from", "fat quarter, 18 x 21", "--chart")
	assert.Contains(t, s.out, "18 x 21 in\n", "a comma parts no sheets")
	assert.Contains(t, s.out, "2 x 2 in                 90           90\n")
	s = invoke(t, "yield", "20 x 23", "2 x 2", "--from", "fat quarter", "--no-turn", "--squaring", "1/4")
	assert.Contains(t, s.out, "20 x 23 in                                  0\n")
	assert.Contains(t, s.out, "squared to 17 1/2 x 21 3/4 in\n")

	s = invoke(t, "yield", "2 x 2", "3 x 3", "--from", "fat quarter", "--from", "10 x 10", "--json")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, 4, strings.Count(s.out, "\n"), "one answer a line")
}

func TestYieldChartsRefuse(t *testing.T) {
	for want, args := range map[string][]string{
		"a chart cannot be written as svg":      {"2 x 2", "--from", "fat quarter", "--formats", "svg"},
		`unknown format "xls"`:                  {"2 x 2", "--from", "fat quarter", "--formats", "text,xls"},
		`unknown paper "a5"`:                    {"2 x 2", "--from", "fat quarter", "--paper", "a5"},
		"--out is empty":                        {"2 x 2", "--from", "fat quarter", "--out", ""},
		"--json is no chart":                    {"2 x 2", "--from", "fat quarter", "--chart", "--json"},
		"leaves nothing of 1/2 x 9 in":          {"2 x 2", "--from", "fat quarter", "--from", "1/2 x 9", "--squaring", "1/4"},
		"cannot write into the folder":          {"2 x 2", "--from", "fat quarter", "--formats", "pdf", "--out", os.DevNull},
		"1001 sizes and 1 sheets has 1001 cell": append(squares(make1001()), "--from", "fat quarter"),
	} {
		dir := t.TempDir()
		t.Chdir(dir)
		refused(t, invoke(t, append([]string{"yield"}, args...)...), want)
		assert.Empty(t, names(t, dir), want)
	}
}

func make1001() (rows [][]string) {
	for range 1001 {
		rows = append(rows, []string{"2"})
	}
	return rows
}
