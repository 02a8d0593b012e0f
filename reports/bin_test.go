package reports

import (
	"bytes"
	"context"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
)

const scrapPlan = `title: Buoys from the bin
ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 x 2, count: 9, role: ground}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot}}]
fabrics:
  navy dot: {buy: [{fat quarter: 3}]}
stash:
  - {id: yardage, fabric: navy dot, size: 30 x 40, squared: yes}
  - {id: sliver, fabric: navy dot, size: 1 3/4 x 14, squared: yes, count: 2}
  - {id: four, fabric: navy dot, size: 4 x 4, squared: yes}
  - {id: six, fabric: navy dot, size: 4 x 6, squared: yes}
cutting: {bin first: ANSWER}
`

func ofScraps(t *testing.T, answer string) *Report {
	p, err := plan.Parse("plan.yaml", bytes.Replace([]byte(scrapPlan), []byte("ANSWER"), []byte(answer), 1), nil)
	require.NoError(t, err)
	r, err := plan.Solve(context.Background(), p, plan.Options{Effort: pack.Quick})
	require.NoError(t, err)
	return New(r)
}

// Nine squares fill neither scrap alone: with the bin first both are cut, without
// it as few as do.
func TestBinIsTold(t *testing.T) {
	r := ofScraps(t, "yes")
	assert.Equal(t, []string{
		"2 of 4 scraps are cut; they give 36.0 sq in of the 36.0 sq in of pieces, and no plan takes more from them.",
		"To let go, since no piece of this plan fits in them: sliver (navy dot, 1 3/4 x 14 in, 2 of them).",
	}, r.Bin)
	assert.Equal(t, "scraps give 36.0 sq in of the pieces, proved the most they can; nothing has to be bought", r.Fabrics[0].Standing)
	var text, out bytes.Buffer
	require.NoError(t, r.WriteText(&text))
	assert.Contains(t, text.String(), "\nThe scrap bin\n  2 of 4 scraps")
	require.NoError(t, r.WriteJSON(&out))
	var got struct {
		Bin     *binJSON
		Fabrics []fabricJSON
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	require.NotNil(t, got.Bin)
	assert.Equal(t, []binRowJSON{{"sliver", "navy dot", 2}}, got.Bin.LetGo)
	assert.Empty(t, got.Bin.Left)
	assert.Equal(t, got.Bin.Need, got.Bin.Used)
	assert.Equal(t, "proved best", got.Fabrics[0].Status)
	assert.Equal(t, got.Bin.Used, got.Fabrics[0].Scraps.Used)

	r = ofScraps(t, "no")
	assert.Empty(t, r.Bin)
	out.Reset()
	require.NoError(t, r.WriteJSON(&out))
	got.Bin = nil
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	assert.Nil(t, got.Bin)
}

// What is proved of the scraps is not said of what is bought beside them.
func TestAProofOfTheScrapsIsNoneOfBuying(t *testing.T) {
	p, err := plan.Parse("plan.yaml", []byte(`ornaments:
  star: {ball: 3, pieces: [{name: centre, size: 2 x 2, count: 5, role: ground}]}
make: [{ornament: star, count: 1, colourway: {ground: navy dot}}]
fabrics:
  navy dot: {buy: [{fat quarter: 3}]}
stash: [{fabric: navy dot, size: 4 x 4, squared: yes}]
cutting: {bin first: yes}
`), nil)
	require.NoError(t, err)
	r, err := plan.Solve(context.Background(), p, plan.Options{Effort: pack.Quick})
	require.NoError(t, err)
	require.Equal(t, pack.Proved, r.Fabrics[0].Solution.Status)
	rep := New(r)
	assert.Equal(t, "scraps give 16.0 sq in of the pieces, proved the most they can; the rest is bought for the least it takes", rep.Fabrics[0].Standing)
	f := rep.fabricJSON(&r.Fabrics[0], rep.sheetsOf(0))
	assert.Equal(t, "best found", f.Status)
	assert.Nil(t, f.ProvedBy)
	assert.Nil(t, f.Price.Bound)
	assert.NotNil(t, f.Scraps.ProvedBy)
}
