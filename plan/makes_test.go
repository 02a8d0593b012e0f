package plan_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// quay is a plan of two ornaments and two fabrics; the stash fills the gap.
const quay = `title: Quay
ornaments:
  buoy:
    ball: 3
    pieces:
      - {name: side, size: 2 x 2, count: 4, role: ground}
      - {name: top, size: 2 x 1, count: 2, role: accent}
  float:
    ball: 3
    pieces: [{name: side, size: 2 x 4, count: 1, role: ground}]
make:
  - {ornament: buoy, count: 3, colourway: {ground: tar, accent: sand}}
  - {ornament: float, count: 6, colourway: {ground: tar}}
  - {ornament: buoy, count: 2, colourway: {accent: sand, ground: tar}}
fabrics:
  tar: {direction: one-way, buy: [{fat quarter: 3}]}
  sand: {buy: [{fat quarter: 3}]}
cutting: {spare: SPARE%}
stash: [STASH]
`

func makesOf(t *testing.T, text string, inProportion bool) *plan.Makes {
	t.Helper()
	p, err := plan.Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	m, err := plan.SolveMakes(context.Background(), p, plan.MakesOptions{Options: plan.Options{Effort: pack.Quick}, InProportion: inProportion})
	require.NoError(t, err)
	return m
}

func quayWith(spare int, stash ...string) string {
	text := strings.ReplaceAll(quay, "STASH", strings.Join(stash, ", "))
	return strings.ReplaceAll(text, "SPARE", fmt.Sprint(spare))
}

// laidOut asserts that the result cuts exactly the mix, from the stash alone, and
// that its layouts pass the check.
func laidOut(t *testing.T, m *plan.Makes) {
	t.Helper()
	if m.Mix.Found == 0 {
		assert.Nil(t, m.Result)
		return
	}
	require.NotNil(t, m.Result)
	sum := 0
	for _, l := range m.Lines {
		assert.LessOrEqual(t, l.Mixed, l.Count)
		sum += l.Mixed
	}
	assert.Equal(t, m.Mix.Found, sum)
	assert.Equal(t, m.Mix.Found, m.Result.Gathered.Ornaments)
	assert.Empty(t, m.Result.Shopping)
	assert.True(t, plan.Recount(m.Result.Plan, m.Result.Gathered).Equal())
	for _, f := range m.Result.Fabrics {
		require.NoError(t, pack.Check(f.Problem, f.Solution))
		assert.NotEqual(t, pack.Short, f.Solution.Status)
		for i, n := range f.Need.Sizes {
			assert.Equal(t, n.Count+n.Spare, f.Problem.Pieces[i].Demand)
		}
		for _, s := range f.Stocks {
			assert.NotNil(t, s.Stash)
		}
	}
}

func TestMakesOfASmallStash(t *testing.T) {
	// Tar holds 5 x 4 = 20 squares, sand 14 pieces of 2 x 1. A buoy takes 4 squares
	// and 2 pieces, a float 2 squares.
	m := makesOf(t, quayWith(0, "{fabric: tar, size: 8 x 10, squared: yes}", "{fabric: sand, size: 7 x 4, squared: yes}"), false)
	laidOut(t, m)
	require.Len(t, m.Lines, 2, "equal orders are one line")
	assert.Equal(t, 5, m.Lines[0].Count)
	assert.Equal(t, plan.Most{Found: 5, AtMost: 5}, m.Lines[0].Alone)
	assert.Equal(t, plan.Most{Found: 8, AtMost: 8}, m.Lines[1].Alone, "4 rows hold 2 each")
	require.NotEmpty(t, m.Lines[1].Out)
	assert.Equal(t, "tar", m.Lines[1].Out[0].Fabric)
	assert.NotEmpty(t, m.Lines[1].Out[0].ProvedBy)
	assert.Equal(t, []plan.MissingPiece{{ID: m.Lines[1].Out[0].Missing[0].ID, Size: units.Size{Along: 2 * units.Inch, Across: 4 * units.Inch}, Count: 1, Of: 9}}, m.Lines[1].Out[0].Missing)
	// All 6 floats leave 8 squares: 2 buoys.
	assert.Equal(t, plan.Most{Found: 8, AtMost: 8}, m.Mix)
	assert.Equal(t, 2, m.Lines[0].Mixed)
	assert.Equal(t, 6, m.Lines[1].Mixed)
	assert.NotEmpty(t, m.Lines[0].Next)
	assert.Empty(t, m.Lines[1].Next, "all are made")

	// In the proportion of 5 to 6 the turns are float, buoy, float, buoy, float,
	// buoy: 3 of each take 18 squares, and the next float has 2 that may lie apart.
	m = makesOf(t, quayWith(0, "{fabric: tar, size: 8 x 10, squared: yes}", "{fabric: sand, size: 7 x 4, squared: yes}"), true)
	laidOut(t, m)
	assert.True(t, m.InProportion)
	assert.Equal(t, plan.Most{Found: 7, AtMost: 7}, m.Mix)
	assert.Equal(t, 4, m.Lines[1].Mixed)
	require.NotEmpty(t, m.Out)
	assert.Equal(t, "tar", m.Out[0].Fabric)
}

// Spares take cloth as well: of 21 squares with 5% spare, 20 are of use.
func TestMakesCutsSpares(t *testing.T) {
	tar, sand := "{fabric: tar, size: 8 x 10, squared: yes}", "{fabric: sand, size: 20 x 20, squared: yes}"
	assert.Equal(t, 5, makesOf(t, quayWith(0, tar, sand), false).Lines[0].Alone.Found)
	m := makesOf(t, quayWith(5, tar, sand), false)
	assert.Equal(t, plan.Most{Found: 4, AtMost: 4}, m.Lines[0].Alone)
	laidOut(t, m)
}

func TestMakesOfAnEmptyStash(t *testing.T) {
	for _, prop := range []bool{false, true} {
		m := makesOf(t, quayWith(5), prop)
		laidOut(t, m)
		assert.Equal(t, plan.Most{}, m.Mix)
		for _, l := range m.Lines {
			assert.Equal(t, plan.Most{}, l.Alone)
			require.NotEmpty(t, l.Out)
			assert.True(t, l.Out[0].None)
		}
	}
}

func TestMakesWithoutOneOfTheFabrics(t *testing.T) {
	m := makesOf(t, quayWith(0, "{fabric: tar, size: 8 x 10, squared: yes}", "{fabric: slate, size: 20 x 20}"), false)
	laidOut(t, m)
	assert.Equal(t, plan.Most{}, m.Lines[0].Alone)
	require.Len(t, m.Lines[0].Out, 1)
	assert.Equal(t, "sand", m.Lines[0].Out[0].Fabric)
	assert.True(t, m.Lines[0].Out[0].None)
	assert.Equal(t, plan.Most{Found: 8, AtMost: 8}, m.Lines[1].Alone, "floats need no sand")
	assert.Equal(t, plan.Most{Found: 6, AtMost: 6}, m.Mix)

	// In proportion the second ornament would be a buoy.
	m = makesOf(t, quayWith(0, "{fabric: tar, size: 8 x 10, squared: yes}"), true)
	laidOut(t, m)
	assert.Equal(t, plan.Most{Found: 1, AtMost: 1}, m.Mix)
	require.Len(t, m.Out, 1)
	assert.True(t, m.Out[0].None)
}

// Where a role may be of either fabric, both are used up; more than both hold is
// proved impossible, and nothing that a lucky division might pass.
func TestMakesDividesBetweenFabrics(t *testing.T) {
	text := strings.ReplaceAll(quayWith(0, "{fabric: tar, size: 8 x 10, squared: yes}", "{fabric: sand, size: 8 x 4, squared: yes}"),
		"{ornament: float, count: 6, colourway: {ground: tar}}", "{ornament: float, count: 30, colourway: {ground: [tar, sand]}}")
	m := makesOf(t, text, false)
	laidOut(t, m)
	assert.Equal(t, 12, m.Lines[1].Alone.Found, "8 of tar, 4 of sand")
	assert.GreaterOrEqual(t, m.Lines[1].Alone.AtMost, 12)
	assert.LessOrEqual(t, m.Lines[1].Alone.AtMost, 14, "112 sq in by area")
	assert.GreaterOrEqual(t, m.Mix.Found, 12)
}

// The same plan gives the same answer on one core and on several.
func TestMakesIsTheSameOnAnyNumberOfCores(t *testing.T) {
	p, err := plan.Parse("plan.yaml", []byte(quayWith(5, "{fabric: tar, size: 17 x 21}", "{fabric: tar, size: 9 x 11, bad areas: 2 x 2 at top right}", "{fabric: sand, size: 7 x 9}")), nil)
	require.NoError(t, err)
	var first *plan.Makes
	for _, workers := range []int{1, 4} {
		m, err := plan.SolveMakes(context.Background(), p, plan.MakesOptions{Options: plan.Options{Effort: pack.Quick, Workers: workers}})
		require.NoError(t, err)
		laidOut(t, m)
		if first == nil {
			first = m
		}
		assert.Equal(t, first, m)
	}
}

// Stopped before it began, it still answers with what is true.
func TestMakesStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p, err := plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
	require.NoError(t, err)
	m, err := plan.SolveMakes(ctx, p, plan.MakesOptions{Options: plan.Options{Effort: pack.Quick}})
	require.NoError(t, err)
	assert.True(t, m.Stopped)
	laidOut(t, m)
	for i, l := range m.Lines {
		assert.LessOrEqual(t, l.Alone.Found, demoAlone[i])
		assert.GreaterOrEqual(t, l.Alone.AtMost, demoAlone[i])
	}
}

// demoAlone is the most that the demo's stash makes of each line alone. The numbers
// are proved, so no better engine can change them.
var demoAlone = []int{3, 3, 9, 4, 6, 1, 7}

func TestMakesOfTheDemo(t *testing.T) {
	if testing.Short() {
		t.Skip("a second, and many under the race detector")
	}
	p, err := plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
	require.NoError(t, err)
	m, err := plan.SolveMakes(context.Background(), p, plan.MakesOptions{Options: plan.Options{Effort: pack.Quick}})
	require.NoError(t, err)
	laidOut(t, m)
	for i, l := range m.Lines {
		assert.Equal(t, plan.Most{Found: demoAlone[i], AtMost: demoAlone[i]}, l.Alone, l.Ornament)
	}
	assert.GreaterOrEqual(t, m.Mix.Found, 13)
	assert.Equal(t, 14, m.Mix.AtMost, "14 can be cut with more effort, 15 cannot")
	m, err = plan.SolveMakes(context.Background(), p, plan.MakesOptions{Options: plan.Options{Effort: pack.Quick}, InProportion: true})
	require.NoError(t, err)
	laidOut(t, m)
	assert.GreaterOrEqual(t, m.Mix.Found, 7)
	assert.LessOrEqual(t, m.Mix.AtMost, 8)
}
