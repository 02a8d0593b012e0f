package blocks

import (
	"math"
	"math/bits"
	"slices"

	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
)

// guess takes a layout found by keeping one filling for each rectangle, pieces
// counting what they are worth to the relaxation.
func (f *FillSearch) guess() {
	if f.s.pr.Stages > 0 {
		f.offer(f.staged())
		return
	}
	if f.bounded == nil {
		f.bounded = dp.NewBounded(f.s.pr.Items)
	}
	worth := make([]int64, len(f.value))
	for i, w := range f.prices.worth {
		worth[i] = max(w, 0)
	}
	f.offer(f.bounded.Fill(f.s.w, f.s.h, worth, f.s.demand))
	f.steps += f.bounded.Work() * stepsPerUnit
}

// openCells is how many rectangles the first bound on a large sheet tells apart.
const openCells = 60_000

// open finds a first layout and a first bound on a sheet whose relaxation takes
// long.
func (f *FillSearch) open() {
	copy(f.prices.worth, f.value)
	f.guess()
	r := newRelax(f.s.coarser(openCells))
	r.start(f.value)
	r.run(1 << 60)
	f.lower(r.total(), "unlimited copies")
	f.steps += 2 * r.steps()
}

// stagedCells bounds the table for a stage limit.
const stagedCells = 400_000

// staged returns a layout of no more than the stages allowed, and lowers the
// bound to the best there is for unlimited copies.
func (f *FillSearch) staged() []model.Placed {
	items := slices.Clone(f.s.pr.Items)
	for i := range items {
		items[i].Demand = f.s.demand[i]
	}
	t := dp.New(items, []dp.Size{{W: f.s.w, H: f.s.h}}, f.s.pr.Stages)
	if t.Cells() > stagedCells {
		return nil
	}
	t.Solve(f.value)
	f.lower(t.Value(f.s.w, f.s.h), "unlimited copies in stages")
	f.steps += t.Work() * stepsPerUnit
	return t.Capped(f.s.w, f.s.h, f.s.demand)
}

// Mending begins when the search has gone on for mendFrom steps. It has one step
// in mendRarely, or in mendOften while it is what brings the search forward.
const (
	mendFrom   = 10_000 * stepsPerUnit
	mendRarely = 6
	mendOften  = 2
)

// mends tells whether mending is due.
func (f *FillSearch) mends() bool {
	if f.s.pr.Stages > 0 || f.steps < mendFrom {
		return false
	}
	share := int64(mendRarely)
	if f.mended && f.goal == 0 {
		share = mendOften
	}
	return f.mender == nil || f.mender.steps < f.steps/share
}

// mend works on the best layout for about the given number of steps.
func (f *FillSearch) mend(steps int64) {
	if f.mender == nil {
		f.mender = newMender(f.s, f.value)
	}
	m := f.mender
	before := m.steps
	if m.best < f.worth {
		m.load(f.best.Placed)
	}
	if m.run(steps) {
		f.offer(m.placed())
		f.mended = true
	}
	f.steps += m.steps - before + 1
}

// densest bounds the value of a sheet by its area at the highest value for area.
func (s *sheet) densest(value []int64) int64 {
	st := s.pr.Stocks[s.stock]
	best := int64(0)
	for _, q := range s.shapes {
		hi, lo := bits.Mul64(uint64(st.Area()), uint64(value[q.item]))
		area := uint64(s.pr.Items[q.item].Area())
		if hi >= area {
			return math.MaxInt64
		}
		v, _ := bits.Div64(hi, lo, area)
		best = max(best, int64(min(v, math.MaxInt64)))
	}
	return best
}
