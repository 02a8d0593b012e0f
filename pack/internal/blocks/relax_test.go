package blocks

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// recursion is the unlimited recursion over every whole cut position.
func recursion(pr *model.Problem, value []int64, w, h int) [][]int64 {
	f := make([][]int64, w+1)
	for x := range f {
		f[x] = make([]int64, h+1)
		for y := range f[x] {
			for i, it := range pr.Items {
				if it.W <= x && it.H <= y || it.Turn && it.H <= x && it.W <= y {
					f[x][y] = max(f[x][y], value[i])
				}
			}
			for c := 1; 2*c <= x; c++ {
				f[x][y] = max(f[x][y], f[c][y]+f[x-c][y])
			}
			for c := 1; 2*c <= y; c++ {
				f[x][y] = max(f[x][y], f[x][c]+f[x][y-c])
			}
		}
	}
	return f
}

// The relaxation equals the plain recursion for every rectangle, its filling is
// worth that, and what it says of the outside of a block is what growing the
// block strip by strip gives.
func TestRelaxAgainstPlainRecursion(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	for round := range 200 {
		pr := tiny(r, 36, 6, 3, 0)
		st := pr.Stocks[0]
		value := make([]int64, len(pr.Items))
		for i, it := range pr.Items {
			value[i] = it.Value - int64(r.IntN(3)*r.IntN(20)) // prices may leave nothing
		}
		s := newSheet(pr, 0, mostCells)
		if len(s.shapes) == 0 {
			continue
		}
		rel := newRelax(s)
		rel.start(make([]int64, len(value))) // a second start must not remember the first
		rel.run(1 << 60)
		rel.start(value)
		for !rel.run(10) {
		}
		f := recursion(pr, value, st.W, st.H)
		for w := 1; w <= st.W; w++ {
			for h := 1; h <= st.H; h++ {
				require.Equal(t, f[w][h], rel.at(w, h), "round %d: %d x %d of %+v", round, w, h, pr)
			}
		}
		var sum int64
		for _, q := range rel.pattern() {
			sum += value[q.Item]
		}
		require.Equal(t, rel.total(), sum)

		out := newOutside(rel)
		out.start(nothing)
		out.run(1 << 60)
		u := make([][]int64, st.W+2)
		for x := range u {
			u[x] = make([]int64, st.H+2)
		}
		for x := st.W; x > 0; x-- {
			for y := st.H; y > 0; y-- {
				for d := 1; x+d <= st.W; d++ {
					u[x][y] = max(u[x][y], u[x+d][y]+f[d][y])
				}
				for d := 1; y+d <= st.H; d++ {
					u[x][y] = max(u[x][y], u[x][y+d]+f[x][d])
				}
			}
		}
		for _, q := range s.shapes {
			require.Equal(t, u[q.w][q.h], out.most[s.cell(int(q.w), int(q.h))], "round %d: outside %d x %d of %+v", round, q.w, q.h, pr)
		}
	}
}
