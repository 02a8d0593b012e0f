package plan_test

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
)

func TestStashThatIsKeptWholeIsNotCut(t *testing.T) {
	p, err := plan.ReadFS(fstest.MapFS{
		"plan.yaml": {Data: []byte(`title: quay
unit: in
ornaments:
  buoy:
    ball: 3
    pieces:
      - {name: centre, size: 2 x 2, count: 8, role: ground}
make:
  - {ornament: buoy, count: 1, colourway: {ground: tar}}
fabrics:
  tar:
    buy:
      - {fat quarter: 3.00}
stash: stash.csv
`)},
		"stash.csv": {Data: []byte("id,fabric,size,count,note\nT1,tar,9 x 20,1,Keep whole for the sails\nT2,tar,8 x 8,1,\n")},
	}, "plan.yaml")
	require.NoError(t, err)
	g, err := plan.Gather(p)
	require.NoError(t, err)
	pr, infos, _, err := plan.FabricProblem(p, g.Fabrics[0])
	require.NoError(t, err)
	require.Len(t, pr.Sheets, 2)
	assert.Equal(t, "T2", infos[0].Stash.ID)
	assert.Nil(t, infos[1].Stash)
	assert.Contains(t, p.Notes, `stash piece "T1" of tar is kept whole, as its note asks`)
}
