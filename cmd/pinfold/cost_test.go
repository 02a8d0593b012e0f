package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCostOfAPlan(t *testing.T) {
	path := smallPlan(t, nil)
	dir := filepath.Join(t.TempDir(), "cost")
	s := invoke(t, "cost", path, "--effort", "quick", "--formats", "text,csv,json,pdf", "--out", dir)
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "what it costs")
	assert.Contains(t, s.out, "The cost is in the folder "+dir)
	assert.Equal(t, []string{"cost.csv", "cost.json", "cost.pdf"}, names(t, dir))

	s = invoke(t, "cost", path, "--effort", "quick", "--json")
	var cost struct {
		Total struct {
			Bought int `json:"fabric_bought"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(s.out), &cost), s.out)
	s = invoke(t, "layout", path, "--effort", "quick", "--json", "--out", t.TempDir())
	var result struct{ Shopping []struct{ Price int } }
	require.NoError(t, json.Unmarshal([]byte(s.out), &result))
	paid := 0
	for _, p := range result.Shopping {
		paid += p.Price
	}
	assert.Positive(t, paid)
	assert.Equal(t, paid, cost.Total.Bought, "the costs of the cloth are the shopping list of layout")
}

func TestCostRefuses(t *testing.T) {
	t.Chdir(t.TempDir())
	path := smallPlan(t, nil)
	for want, args := range map[string][]string{
		"a cost cannot be written as svg": {path, "--formats", "svg"},
		"--paper":                         {path, "--formats", "pdf", "--paper", "foolscap"},
		"--out is empty":                  {path, "--out", ""},
		"cost takes one plan, not 2":      {path, path},
		"cannot write into the folder":    {path, "--formats", "csv", "--out", "/dev/null"},
		`unknown effort "idle"`:           {path, "--effort", "idle"},
	} {
		refused(t, invoke(t, append([]string{"cost"}, args...)...), want)
		assert.Empty(t, names(t, "."), want)
	}
	s := invoke(t, "cost", smallPlan(t, map[string]string{"BUY": "buy: [fat quarter]"}))
	refused(t, s, "nothing in the plan has a price", "hint: write prices under buy")
}

func TestCostOfWhatCannotBeCut(t *testing.T) {
	s := invoke(t, "cost", smallPlan(t, map[string]string{"BUY": "buy: [{fat quarter: 3.00, available: 1}]", "COUNT": "1000"}), "--effort", "quick")
	assert.Equal(t, exitShort, s.code, s.errors)
	assert.Contains(t, s.errors, "this is not its whole cost")
	assert.Contains(t, strings.Join(strings.Fields(s.out), " "), "what is paid for it is not all it will cost")
}
