package reports

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
)

// Of two scraps, one holds 16 squares and the other 12, and the stars go whole.
func TestReportSaysWhichFabricFillsWhat(t *testing.T) {
	p, err := plan.Parse("bin.yaml", []byte(`ornaments:
  star:
    ball: 3 in
    pieces: [{name: centre, size: 2 x 2, count: 3, role: ground}, {name: rim, size: 2 x 2, count: 4, role: edge}]
    same fabric: [edge]
make: [{ornament: star, count: 4, colourway: {ground: [navy dot, dusk], edge: [dusk, navy dot, sand]}}]
fabrics: {navy dot: {}, dusk: {}, sand: {}}
stash:
  - {fabric: navy dot, size: 8 x 8, squared: yes}
  - {fabric: dusk, size: 6 x 8, squared: yes}
  - {fabric: sand, size: 2 x 2, squared: yes}
`), nil)
	require.NoError(t, err)
	r, err := plan.Solve(t.Context(), p, plan.Options{Effort: pack.Quick})
	require.NoError(t, err)
	rep := New(r)
	require.Empty(t, rep.Missing)
	require.Len(t, rep.Splits, 2)
	assert.Regexp(t, `^4 star, centre \(ground\): \d+ pieces? of (navy dot|dusk)( and \d+ pieces? of dusk)?$`, rep.Splits[0])
	assert.Regexp(t, `^4 star, edge: \d of (navy dot|dusk)( and \d of navy dot)?$`, rep.Splits[1])
	var b bytes.Buffer
	require.NoError(t, rep.WriteText(&b))
	assert.Contains(t, b.String(), "Which fabric for what\n  "+strings.Join(rep.Splits, "\n  ")+"\n")

	b.Reset()
	require.NoError(t, rep.WriteJSON(&b))
	var doc struct {
		Splits []struct {
			Ornament, Role, Piece string
			Count                 int
			Shares                []struct {
				Fabric string
				Count  int
			}
		}
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	require.Len(t, doc.Splits, 2)
	assert.Equal(t, []string{"star", "ground", "centre"}, []string{doc.Splits[0].Ornament, doc.Splits[0].Role, doc.Splits[0].Piece})
	assert.Equal(t, 12, doc.Splits[0].Shares[0].Count+doc.Splits[0].Shares[1].Count, "pieces")
	assert.Empty(t, doc.Splits[1].Piece)
	assert.Equal(t, 4, doc.Splits[1].Shares[0].Count+doc.Splits[1].Shares[1].Count, "ornaments; sand is too small for one")
	onPaper(t, rep, Letter)

	b.Reset()
	require.NoError(t, New(fair(t)).WriteJSON(&b))
	assert.NotContains(t, b.String(), `"splits"`)
}
