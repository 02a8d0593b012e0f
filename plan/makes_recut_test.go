package plan

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
)

// Layouts that hold more than is wanted are cut with the surplus left whole, also
// when a size that is not wanted gave its letter to another.
func TestLayoutsForMoreServeForLess(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(`title: Quay
ornaments:
  buoy: {ball: 3, pieces: [{name: side, size: 2 x 2, count: 4, role: ground}]}
  float: {ball: 3, pieces: [{name: side, size: 2 x 4, count: 3, role: ground}]}
make:
  - {ornament: buoy, count: 3, colourway: {ground: tar}}
  - {ornament: float, count: 6, colourway: {ground: tar}}
fabrics:
  tar: {buy: [{fat quarter: 3}]}
cutting: {spare: 0%}
stash: [{fabric: tar, size: 10 x 12, squared: yes, count: 2}]
`), nil)
	require.NoError(t, err)
	m, err := newMaker(context.Background(), p, MakesOptions{Options: Options{Effort: pack.Quick}})
	require.NoError(t, err)
	v, err := m.holds([]int{5, 5}, firstLook)
	require.NoError(t, err)
	require.Equal(t, pack.Enough, v)
	for _, n := range [][]int{{3, 0}, {0, 4}, {2, 1}, {5, 5}} {
		r, err := m.shared(m.only(n), nil)
		require.NoError(t, err)
		require.Len(t, m.piles[0].known, 1, "nothing new is cut")
		g, err := Gather(m.only(n))
		require.NoError(t, err)
		f := FabricResult{Need: g.Fabrics[0]}
		f.Problem, f.Stocks, err = stashProblem(m.plan, f.Need)
		require.NoError(t, err)
		s, err := m.recut(&f, r)
		require.NoError(t, err)
		require.NoError(t, pack.Check(f.Problem, s))
		cut := make([]int, len(f.Problem.Pieces))
		for _, l := range s.Layouts {
			for _, q := range l.Placements(0) {
				cut[q.Piece] += l.Copies
			}
		}
		for i, need := range f.Need.Sizes {
			assert.Equal(t, need.Count, cut[i], "%v of %v", n, need.Size)
		}
	}
}
