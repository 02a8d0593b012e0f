package dp

import "pinfold/pack/internal/model"

// Table holds the best fillings of all rectangles that fit some sheet. It is
// made once for a set of items and sheets and solved again for each set of
// values. One goroutine uses it at a time.
type Table struct {
	*grid
	stages int
	value  []int64 // of the items, as last solved
	work   int64

	// best[i*len(y)+j] is the value of the rectangle x[i] by y[j].
	best []int64
	cols []column // first parts worth trying in each column
	row  []block  // and in the present row
	flat []int64  // the present row (or column), by length instead of index
	rest []int32  // index of what a first part of each height leaves of the present row

	// towers[a][s] is the table after s stages whose innermost cuts run along
	// axis a; only with a stage limit.
	towers [2][][]int64
}

// block is a first part of a cut: its value and the index of its size.
type block struct {
	value int64
	at    int32
}

// column lists the first parts of one column; half of them are at most half as
// high as the present row.
type column struct {
	blocks []block
	half   int
}

// New prepares a table for all rectangles that fit into one of the sheets.
// stages is 0 for no limit; a last trim of a single piece is free. Cut
// positions are sums of at most Demand sides of each item: the values are upper
// bounds for layouts within the demands, and exact for unlimited copies where
// the demands are no limit to what a sheet holds.
func New(items []model.Item, sheets []Size, stages int) *Table {
	return &Table{grid: newGrid(items, sheets), stages: stages}
}

// NewThinned is New with at most about thinTo cut positions along each axis, so
// that sheets of very fine measures can be filled quickly. Its fillings are
// layouts, but its values may be too small: they bound nothing.
func NewThinned(items []model.Item, sheets []Size, stages int) *Table {
	g := newGrid(items, sheets)
	if g.cells() > Dense {
		g.thin(thinTo)
	}
	return &Table{grid: g, stages: stages}
}

// Cells is the number of rectangles the table tells apart. Memory is about 8
// bytes for each, times twice the number of stages under a limit.
func (t *Table) Cells() int { return t.cells() }

// Work is what the last Solve took, in units of about a microsecond.
func (t *Table) Work() int64 { return t.work }

// Solve fills the table for the given values of the items, which are not
// negative.
func (t *Table) Solve(values []int64) {
	t.value = append(t.value[:0], values...)
	if len(t.best) == 0 {
		n := len(t.x) * len(t.y)
		t.best = make([]int64, n)
		t.flat = make([]int64, max(len(t.px), len(t.py)))
		t.rest = make([]int32, len(t.y))
		t.cols = make([]column, len(t.x))
		if t.stages > 0 {
			for a := range t.towers {
				t.towers[a] = make([][]int64, t.stages+1)
				for s := range t.towers[a] {
					// Both towers stand on the table of single items, and the last
					// tables are not needed apart from their maximum.
					if s == 0 && a == 1 {
						t.towers[1][0] = t.towers[0][0]
						continue
					}
					t.towers[a][s] = make([]int64, n)
				}
			}
		}
	}
	if t.stages > 0 {
		t.solveStaged()
		return
	}
	t.solveFree()
}

// Value is the greatest value a w x h rectangle can hold. The rectangle fits
// one of the sheets given to New.
func (t *Table) Value(w, h int) int64 {
	return t.best[int(t.px[w])*len(t.y)+int(t.py[h])]
}

// solveFree is the recursion without a stage limit. The rectangle (i, j) takes
// the best of its neighbours below, of a single item, of a first part from its
// row and the rest beside it, and of a first part from its column and the rest
// above it. The smallest part may go first, so first parts are at most half.
func (t *Table) solveFree() {
	ny := len(t.y)
	for i := range t.cols {
		t.cols[i] = column{blocks: t.cols[i].blocks[:0]}
	}
	steps := 0
	midX, midY := t.x[len(t.x)-1]/2, t.y[ny-1]/2
	for j := 1; j < ny; j++ {
		for b := 1; b < j; b++ {
			t.rest[b] = t.py[t.y[j]-t.y[b]]
		}
		rest := t.rest[:j]
		row, half, left := t.row[:0], 0, int64(0)
		shapes := byColumn(t.shapes[t.of[j]:t.of[j+1]])
		for i := 1; i < int(t.wide[j]); i++ {
			x := t.x[i]
			flat := t.flat[:x+1]
			for w := t.x[i-1] + 1; w < x; w++ {
				flat[w] = left
			}
			wide := left
			for half < len(row) && 2*int(row[half].at) <= x {
				half++
			}
			for _, b := range row[:half] {
				wide = max(wide, b.value+flat[x-int(b.at)])
			}
			cells := t.best[i*ny : i*ny+j+1]
			col := &t.cols[i]
			for col.half < len(col.blocks) && 2*t.y[col.blocks[col.half].at] <= t.y[j] {
				col.half++
			}
			high := cells[j-1]
			for _, b := range col.blocks[:col.half] {
				high = max(high, b.value+cells[rest[b.at]])
			}
			v := max(high, wide)
			if len(shapes) > 0 {
				v = max(v, shapes.at(int32(i), t.value))
			}
			steps += half + col.half
			if v > wide && x <= midX {
				row = append(row, block{v, int32(x)})
			}
			if v > high && t.y[j] <= midY {
				col.blocks = append(col.blocks, block{v, int32(j)})
			}
			cells[j], flat[x], left = v, v, v
		}
		t.row = row
	}
	t.work = int64(steps+4*t.cells())/stepsPerUnit + 1
}

// stepsPerUnit is how many steps of an inner loop make a unit of work.
const stepsPerUnit = 600

// byColumn are the shapes of one row.
type byColumn []shape

// at is the best value among the shapes as wide as column i.
func (s byColumn) at(i int32, value []int64) (v int64) {
	for k := range s {
		if s[k].i == i {
			v = max(v, value[s[k].item])
		}
	}
	return v
}
