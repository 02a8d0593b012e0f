package pack_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// The solver against GLPK's (https://www.gnu.org/software/glpk/, Debian's
// glpk-utils) on small random plans, written as an integer program that shares
// no reasoning with the engines: every plate size that cutting can reach is a
// row, every cut of a plate at every whole position a variable, in the line of
// Furini, Malaguti & Thomopulos, "Modeling two-dimensional guillotine cutting
// problems via integer programming", INFORMS Journal on Computing 28(4), 2016.
func TestSolveAgainstGLPK(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("glpsol is not installed; install glpk-utils")
		}
		t.Skip("the independent solver is not installed: ", err)
	}
	n := 250
	if testing.Short() {
		n = 40
	}
	decided, best := 0, 0
	for seed := range n {
		p := smallPlan(rand.New(rand.NewPCG(uint64(seed), 5)))
		least, ok := plateModel(p).solve(t, glpsol)
		if !ok {
			continue
		}
		decided++
		s, err := pack.Solve(context.Background(), p, pack.Options{Effort: pack.Quick})
		require.NoError(t, err)
		require.NotEqual(t, pack.Short, s.Status, "seed %d: %+v", seed, p)
		require.GreaterOrEqual(t, s.Cost, least, "seed %d: cheaper than the least: %+v", seed, p)
		require.LessOrEqual(t, s.Bound, least, "seed %d: bound by %q: %+v", seed, s.ProvedBy, p)
		if s.Status == pack.Proved {
			require.Equal(t, least, s.Cost, "seed %d: proved by %q: %+v", seed, s.ProvedBy, p)
		}
		if s.Cost == least {
			best++
		}
	}
	t.Logf("of %d plans GLPK decided %d; the least cost was found for %d", n, decided, best)
	assert.Greater(t, decided, n*9/10, "too few plans are decided to mean anything")
	assert.Greater(t, best, decided*4/5, "the least cost is found too seldom")
}

// half is the grid of the small plans.
const half = units.Inch / 2

// smallPlan has 2 to 4 sizes, 4 to 8 pieces, one or two priced sheets, of which
// one holds every size, and sometimes a scrap at hand.
func smallPlan(r *rand.Rand) pack.Problem {
	w, h := 5+r.IntN(9), 5+r.IntN(9)
	p := pack.Problem{Sheets: []pack.Sheet{
		{ID: "large", W: units.Length(w) * half, H: units.Length(h) * half, Copies: pack.Unlimited, Price: int64(200 + r.IntN(300))},
	}}
	if r.IntN(2) == 0 {
		p.Sheets = append(p.Sheets, pack.Sheet{
			ID: "small", W: units.Length(3+r.IntN(w-3)) * half, H: units.Length(3+r.IntN(h-3)) * half,
			Copies: []int{pack.Unlimited, 1, 2}[r.IntN(3)], Price: int64(50 + r.IntN(200)),
		})
	}
	if r.IntN(4) == 0 {
		p.Sheets = append(p.Sheets, pack.Sheet{
			ID: "scrap", W: units.Length(2+r.IntN(4)) * half, H: units.Length(2+r.IntN(4)) * half, Copies: 1, Free: true,
		})
	}
	turn := r.IntN(2) == 0
	sizes := 2 + r.IntN(3)
	left := 4 + r.IntN(5)
	for i := range sizes {
		n := 1 + r.IntN(left-(sizes-i-1))
		if i == sizes-1 {
			n = left
		}
		left -= n
		p.Pieces = append(p.Pieces, pack.Piece{
			ID: fmt.Sprint(i), W: units.Length(1+r.IntN(w-1)) * half, H: units.Length(1+r.IntN(h-1)) * half, Demand: n, Turn: turn,
		})
	}
	return p
}

// plates is the integer program. A variable's name tells what it counts: s sheets
// bought, x and y cuts, p plates that are pieces.
type plates struct {
	goal   []string            // cost terms
	rows   map[[2]int][]string // plates made less plates used, by size
	sizes  [][2]int
	demand [][]string
	wanted []int
	limits []string
	vars   []string
}

func plateModel(p pack.Problem) *plates {
	m := &plates{rows: map[[2]int][]string{}}
	grid := func(l units.Length) int { return int(l / half) }
	for i, s := range p.Sheets {
		v := fmt.Sprint("s", i)
		m.vars = append(m.vars, v)
		if !s.Free {
			m.goal = append(m.goal, fmt.Sprintf("+ %d %s", s.Price, v))
		}
		if s.Copies != pack.Unlimited {
			m.limits = append(m.limits, fmt.Sprintf("%s <= %d", v, s.Copies))
		}
		m.plate(grid(s.W), grid(s.H), "+ "+v)
	}
	for i, q := range p.Pieces {
		m.wanted = append(m.wanted, q.Demand)
		m.demand = append(m.demand, nil)
		ways := [][2]int{{grid(q.W), grid(q.H)}}
		if q.Turn && q.W != q.H {
			ways = append(ways, [2]int{grid(q.H), grid(q.W)})
		}
		for _, w := range ways {
			if _, ok := m.rows[w]; ok {
				v := fmt.Sprintf("p%d_%d_%d", i, w[0], w[1])
				m.vars = append(m.vars, v)
				m.rows[w] = append(m.rows[w], "- "+v)
				m.demand[i] = append(m.demand[i], "+ "+v)
			}
		}
	}
	return m
}

// plate adds what makes a plate of the size, and, the first time, the plate's own
// cuts.
func (m *plates) plate(w, h int, term string) {
	size := [2]int{w, h}
	_, known := m.rows[size]
	m.rows[size] = append(m.rows[size], term)
	if known {
		return
	}
	m.sizes = append(m.sizes, size)
	for q := 1; 2*q <= w; q++ {
		v := fmt.Sprintf("x%d_%d_%d", w, h, q)
		m.vars = append(m.vars, v)
		m.rows[size] = append(m.rows[size], "- "+v)
		m.parts([2]int{q, h}, [2]int{w - q, h}, v)
	}
	for q := 1; 2*q <= h; q++ {
		v := fmt.Sprintf("y%d_%d_%d", w, h, q)
		m.vars = append(m.vars, v)
		m.rows[size] = append(m.rows[size], "- "+v)
		m.parts([2]int{w, q}, [2]int{w, h - q}, v)
	}
}

// parts adds the two parts that the cut v makes.
func (m *plates) parts(a, b [2]int, v string) {
	if a == b {
		m.plate(a[0], a[1], "+ 2 "+v)
		return
	}
	m.plate(a[0], a[1], "+ "+v)
	m.plate(b[0], b[1], "+ "+v)
}

// text is the program in the CPLEX LP format.
func (m *plates) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Minimize\n cost: %s\nSubject To\n", strings.Join(m.goal, "\n "))
	for _, s := range m.sizes {
		fmt.Fprintf(&b, " plate%d_%d: %s >= 0\n", s[0], s[1], strings.Join(m.rows[s], "\n "))
	}
	for i, d := range m.demand {
		fmt.Fprintf(&b, " piece%d: %s >= %d\n", i, strings.Join(d, " "), m.wanted[i])
	}
	fmt.Fprintf(&b, "Bounds\n %s\nGeneral\n %s\nEnd\n", strings.Join(m.limits, "\n "), strings.Join(m.vars, "\n "))
	return b.String()
}

// solve returns the least cost, or false when GLPK runs out of time.
func (m *plates) solve(t *testing.T, glpsol string) (int64, bool) {
	t.Helper()
	lp, sol := filepath.Join(t.TempDir(), "plan.lp"), filepath.Join(t.TempDir(), "plan.sol")
	require.NoError(t, os.WriteFile(lp, []byte(m.text()), 0o666))
	out, err := exec.Command(glpsol, "--lp", lp, "--tmlim", "5", "-w", sol).CombinedOutput()
	require.NoError(t, err, string(out))
	f, err := os.Open(sol)
	require.NoError(t, err, string(out))
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		// "s mip ROWS COLUMNS STATUS OBJECTIVE"
		w := strings.Fields(lines.Text())
		if len(w) < 6 || w[0] != "s" {
			continue
		}
		if w[4] != "o" {
			return 0, false
		}
		var cost float64
		_, err := fmt.Sscan(w[5], &cost)
		require.NoError(t, err)
		return int64(cost + 0.5), true
	}
	t.Fatalf("glpsol wrote no result: %s", out)
	return 0, false
}
