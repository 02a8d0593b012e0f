package reports

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares with testdata/name, or rewrites it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run go test ./reports -update to make it")
	assert.Equal(t, string(want), string(got), "%s", name)
}

func TestGoldens(t *testing.T) {
	rep := New(fair(t))
	for name, write := range map[string]func(io.Writer) error{
		"fair.txt":  rep.WriteText,
		"fair.json": rep.WriteJSON,
		"fair.csv":  rep.WriteCSV,
		"fair.svg":  func(w io.Writer) error { return rep.WriteSVG(w, 2) },
	} {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		golden(t, name, b.Bytes())
	}
}

// The steps are what people follow at the table, so every word of them is held.
func TestStepsGolden(t *testing.T) {
	var b bytes.Buffer
	rep := New(fair(t))
	for i := range rep.Sheets {
		s := &rep.Sheets[i]
		fmt.Fprintf(&b, "%s; %s; %s; steps %v\n%s\n", s.Name(), s.Cloth, s.Like(), s.Steps, s.Gives())
	}
	for _, st := range rep.Steps {
		w := st.Words
		fmt.Fprintf(&b, "%d on bench %d, %s\n", st.Number, st.Bench, passes(st.Passes))
		for _, l := range slices.Concat([]string{joined(", ", w.Take, w.Cloth, w.From), w.Turn, w.Lay, joined(", ", w.Edge, joined(" ", w.Measure, w.Unit), w.Times)}, w.Off, []string{w.Left}, w.Rest, w.Mind) {
			if l != "" {
				fmt.Fprintf(&b, "\t%s\n", l)
			}
		}
	}
	golden(t, "fair.steps", b.Bytes())
}

func TestJSONHashCoversEverythingAboveIt(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, New(fair(t)).WriteJSON(&b))
	at := bytes.Index(b.Bytes(), []byte("  \"hash\""))
	require.Positive(t, at)
	var doc struct{ Hash string }
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(b.Bytes()[:at])), doc.Hash)
}

func TestUnpricedPlanCountsArea(t *testing.T) {
	r := unpriced(t)
	rep := New(r)
	var b bytes.Buffer
	require.NoError(t, rep.WriteJSON(&b))
	var doc struct {
		Fabrics []struct {
			Price  *int
			Area   struct{ Bought, Bound int64 }
			Sheets []struct{ Cost *int }
		}
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	for _, f := range doc.Fabrics {
		assert.Nil(t, f.Price)
		assert.Equal(t, f.Area.Bought, f.Area.Bound)
		assert.Nil(t, f.Sheets[0].Cost)
	}
	assert.Empty(t, rep.Shopping.Total)
	assert.Equal(t, "proved best: nothing that holds all pieces needs less cloth bought (area)", rep.Fabrics[0].Standing)
}
