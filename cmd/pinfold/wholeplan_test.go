package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/reports"
)

// From the file to the file: a random plan is read, its pieces add up, every fabric
// is cut and passes its check, all formats are written, and the result that is read
// back says the same of every sheet.
func TestRandomPlansFromFileToFile(t *testing.T) {
	plans := 20
	if testing.Short() {
		plans = 4
	}
	sheets := 0
	for seed := range plans {
		dir := t.TempDir()
		yaml, stash := randomPlan(rand.New(rand.NewPCG(uint64(seed), 19)))
		path := write(t, dir, "plan.yaml", yaml)
		write(t, dir, "stash.csv", stash)
		said := fmt.Sprintf("seed %d\n%s%s", seed, yaml, stash)
		p, err := plan.Read(path)
		require.NoError(t, err, said)
		g, err := plan.Gather(p)
		require.NoError(t, err, said)
		require.True(t, plan.Recount(p, g).Equal(), said)

		r, err := plan.Solve(t.Context(), p, plan.Options{Effort: pack.Quick})
		require.NoError(t, err, said)
		require.Len(t, r.Fabrics, len(g.Fabrics), said)
		copies, missing := 0, 0
		for _, f := range r.Fabrics {
			require.NoError(t, pack.Check(f.Problem, f.Solution), said)
			for _, l := range f.Solution.Layouts {
				copies += l.Copies * len(l.Placements(f.Problem.Rules.Kerf))
			}
			for _, n := range f.Solution.Missing {
				missing += n
			}
		}
		require.Equal(t, g.Pieces+g.Spares, copies+missing, said)

		rep := reports.New(r)
		files, err := rep.Write(filepath.Join(dir, "out"), reports.Formats(), reports.A4)
		require.NoError(t, err, said)
		require.GreaterOrEqual(t, len(files), 4)
		text, err := os.ReadFile(filepath.Join(dir, "out", "result.json"))
		require.NoError(t, err)
		var again bytes.Buffer
		require.NoError(t, rep.WriteJSON(&again))
		require.Equal(t, string(text), again.String(), "written twice, seed %d", seed)
		rec, err := reports.ReadResult("result.json", text)
		require.NoError(t, err, said)
		assert.Equal(t, p.Title, rec.Title)
		assert.Equal(t, p.Unit, rec.Unit)
		require.Len(t, rec.Sheets, len(rep.Sheets), said)
		for i, s := range rec.Sheets {
			sheets++
			assert.Equal(t, rep.Sheets[i].Fabric, s.Fabric)
			assert.Equal(t, rep.Sheets[i].Copies, s.Copies)
			assert.Len(t, rep.Sheets[i].Pieces, s.Pieces)
			assert.Len(t, rep.Sheets[i].Offcuts, len(s.Offcuts))
			copies -= s.Copies * s.Pieces
		}
		assert.Zero(t, copies, "pieces read back, %s", said)

		table, err := os.Open(filepath.Join(dir, "out", "pieces.csv"))
		require.NoError(t, err)
		rows, err := csv.NewReader(table).ReadAll()
		require.NoError(t, err)
		require.NoError(t, table.Close())
		sizes := 0
		for _, f := range g.Fabrics {
			sizes += len(f.Sizes)
		}
		assert.Len(t, rows, 1+sizes, said)
	}
	assert.Greater(t, sheets, 2*plans)
}
