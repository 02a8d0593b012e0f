package lp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

type programme struct {
	sense []Sense
	rhs   []float64
	cost  []float64
	cols  [][]Entry
}

// random makes a master like those of cutting: patterns of a few items, some
// rows of limited supply, right sides that may be 0.
func random(r *rand.Rand) programme {
	var q programme
	m, supply := 1+r.IntN(25), r.IntN(4)
	for range m {
		q.sense = append(q.sense, AtLeast)
		q.rhs = append(q.rhs, float64(r.IntN(60)))
	}
	for range supply {
		q.sense = append(q.sense, AtMost)
		q.rhs = append(q.rhs, float64(r.IntN(20)))
	}
	for k := range m + supply + r.IntN(100) {
		var col []Entry
		if k < m {
			col = append(col, Entry{k, float64(1 + r.IntN(6))})
		} else {
			for row := range m {
				if r.IntN(m) < 4 {
					col = append(col, Entry{row, float64(1 + r.IntN(4))})
				}
			}
			if supply > 0 && r.IntN(2) == 0 {
				col = append(col, Entry{m + r.IntN(supply), 1})
			}
		}
		if len(col) == 0 {
			col = append(col, Entry{r.IntN(m), 1})
		}
		q.cols = append(q.cols, col)
		q.cost = append(q.cost, []float64{1, 1, 1, 5, 0.25, float64(r.IntN(9))}[r.IntN(6)])
	}
	return q
}

func (q programme) gonum(t *testing.T) float64 {
	m, n := len(q.rhs), len(q.cols)
	a, c := mat.NewDense(m, n+m, nil), make([]float64, n+m)
	for k, col := range q.cols {
		c[k] = q.cost[k]
		for _, e := range col {
			a.Set(e.Row, k, a.At(e.Row, k)+e.Value)
		}
	}
	for r, s := range q.sense {
		a.Set(r, n+r, map[Sense]float64{AtLeast: -1, AtMost: 1}[s])
	}
	v, _, err := lp.Simplex(c, a, q.rhs, 1e-10, nil)
	require.NoError(t, err)
	return v
}

// check asserts that the last solution is feasible and that its prices prove
// it best.
func (q programme) check(t *testing.T, p *Master, want float64) {
	t.Helper()
	require.InDelta(t, want, p.Cost(), 1e-6*(1+math.Abs(want)))
	sums, total := make([]float64, len(q.rhs)), 0.0
	for k, v := range p.Values() {
		require.GreaterOrEqual(t, v, 0.0)
		total += v * q.cost[k]
		for _, e := range q.cols[k] {
			sums[e.Row] += v * e.Value
		}
	}
	assert.InDelta(t, want, total, 1e-6*(1+math.Abs(want)))
	dual := 0.0
	for r, y := range p.Prices() {
		if q.sense[r] == AtLeast {
			require.GreaterOrEqual(t, y, -1e-7)
			require.GreaterOrEqual(t, sums[r], q.rhs[r]-1e-6)
		} else {
			require.LessOrEqual(t, y, 1e-7)
			require.LessOrEqual(t, sums[r], q.rhs[r]+1e-6)
		}
		dual += y * q.rhs[r]
	}
	require.InDelta(t, want, dual, 1e-6*(1+math.Abs(want)))
	for k, col := range q.cols[:p.Columns()] {
		d := q.cost[k]
		for _, e := range col {
			d -= p.Prices()[e.Row] * e.Value
		}
		require.GreaterOrEqual(t, d, -1e-6)
	}
}

// The cost agrees with gonum's simplex, and the prices satisfy every column and
// add up to the same cost: by weak duality both are best.
func TestAgainstGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 200 {
		q := random(r)
		p := New(q.sense, q.rhs)
		for k, col := range q.cols {
			p.Add(q.cost[k], col)
		}
		require.NoError(t, p.Solve())
		q.check(t, p, q.gonum(t))
	}
}

// Adding columns between solves and changing right sides ends where solving
// everything at once does.
func TestWarmStart(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 40 {
		q := random(r)
		p := New(q.sense, q.rhs)
		for k, col := range q.cols {
			p.Add(q.cost[k], col)
			if r.IntN(4) == 0 {
				if err := p.Solve(); err != nil {
					require.ErrorIs(t, err, ErrInfeasible)
				}
			}
		}
		require.NoError(t, p.Solve())
		q.check(t, p, q.gonum(t))
	}
}

func TestInfeasibleAndUnbounded(t *testing.T) {
	p := New([]Sense{AtLeast, AtMost}, []float64{3, 1})
	p.Add(1, []Entry{{0, 2}, {1, 1}})
	require.ErrorIs(t, p.Solve(), ErrInfeasible)
	p.Add(1, []Entry{{0, 1}})
	require.NoError(t, p.Solve())
	assert.InDelta(t, 2, p.Cost(), 1e-9)
	p.Add(-1, []Entry{{0, 1}})
	require.ErrorIs(t, p.Solve(), ErrUnbounded)
}

// A large degenerate programme: every right side 0 but one.
func TestDegenerate(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 20 {
		m := 60
		q := programme{rhs: make([]float64, m), sense: make([]Sense, m)}
		q.rhs[0] = 1
		for range 500 {
			var col []Entry
			for row := range m {
				if r.IntN(10) == 0 {
					col = append(col, Entry{row, float64(r.IntN(3) - 1)})
				}
			}
			q.cols, q.cost = append(q.cols, col), append(q.cost, float64(r.IntN(2)))
		}
		q.cols[0] = []Entry{{0, 1}}
		q.cost[0] = 7
		p := New(q.sense, q.rhs)
		for k, col := range q.cols {
			p.Add(q.cost[k], col)
		}
		require.NoError(t, p.Solve())
		q.check(t, p, p.Cost())
	}
}

// Covers of single copies, every right side 1, as when all pieces differ.
func TestSingleCopies(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 3 {
		m := 100
		q := programme{}
		for range m {
			q.sense, q.rhs = append(q.sense, AtLeast), append(q.rhs, 1)
		}
		p := New(q.sense, q.rhs)
		for k := range 1200 {
			rows := r.Perm(m)[:1+r.IntN(9)]
			if k < m {
				rows = []int{k}
			}
			var col []Entry
			for _, row := range rows {
				col = append(col, Entry{row, 1})
			}
			q.cols, q.cost = append(q.cols, col), append(q.cost, float64(1+r.IntN(3)))
			p.Add(q.cost[k], col)
			if k > m && k%100 == 0 {
				require.NoError(t, p.Solve())
				q.check(t, p, p.Cost())
			}
		}
	}
}
