package peel

import (
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/random"
)

// What steers the search. All were tried on strips of 50 to 500 pieces; none is
// sharp.
const (
	// few is how many pieces are left to the end, fewest if nothing may be wasted.
	few    = 24
	fewest = few * 2 / 3
	// many is from how many pieces on several rows are taken from one table, the
	// later ones as long as they score no more than near percent of the first.
	many = 8 * few
	near = 115
	// patience is how many tables without a row or column end the peeling.
	patience = 4
	// lastWork is how long the last pieces are tried.
	lastWork = 60_000
	// stepsPerUnit is how many steps of the table make a microsecond; measured.
	stepsPerUnit = 100
	// wholeTable is up to how many sizes a table is as high as the region.
	wholeTable = 16_000
	// mostSizes is how many sizes a table may have.
	mostSizes = 200_000
	// mostKinds is how many kinds blocks are made of.
	mostKinds = 32 * mostWords
)

// Result says how an attempt ended.
type Result uint8

// The results of [Search.Run].
const (
	Working    Result = iota // it has not ended
	Failed                   // another one may succeed
	Impossible               // the sheet is too small
	Found
	Useless // the problem is too small, or too fine, for attempts
)

type phase uint8

const (
	idle phase = iota
	choosing
	filling
	ending
)

// Search looks for layouts of sheets of a width and any heights that hold every
// piece of a problem.
type Search struct {
	pr    *model.Problem
	width int
	rnd   random.Stream
	table table
	phase phase
	found model.Pattern

	placed []model.Placed
	region
	steps    []region // that were left before
	height   int      // of the sheet
	failures int      // since the whole sheet was left
	rest     []int    // copies not placed, by item
	misses   int      // tables in a row that had nothing
	kindOf   []int    // by item, -1 for none
	last     *last
}

// region is what is left of the sheet.
type region struct {
	x, y, w, h int
	left       int // pieces not placed
	placed     int // pieces placed
	spare      int // area that may be wasted
}

// New prepares a search for sheets as wide as the first stock. Attempts with
// other seeds differ.
func New(pr *model.Problem, seed uint64) *Search {
	return &Search{pr: pr, width: pr.Stocks[0].W, rnd: random.Stream(seed), kindOf: make([]int, len(pr.Items))}
}

// Layout is the layout found last.
func (s *Search) Layout() model.Pattern { return s.found }

// Run begins an attempt on a sheet of a height, or goes on with it, for about
// budget units of a microsecond, and returns how many were spent.
func (s *Search) Run(height int, budget int64) (spent int64, r Result) {
	end := budget * stepsPerUnit
	steps := int64(0)
	for r == Working && steps < end {
		switch s.phase {
		case idle:
			if height != s.height || !s.back() {
				r = s.begin(height)
			}
		case choosing:
			r = s.setOut()
		case filling:
			from := s.table.work
			if s.table.fill(from + end - steps) {
				s.take()
			}
			steps += s.table.work - from
		case ending:
			var n int64
			n, r = s.end((end-steps)/stepsPerUnit + 1)
			steps += n * stepsPerUnit
		}
		steps += 50 + int64(len(s.rest))
	}
	if r != Working {
		s.phase = idle
	}
	return steps / stepsPerUnit, r
}

// begin has the whole sheet left for all pieces.
func (s *Search) begin(height int) Result {
	s.placed, s.rest, s.steps = s.placed[:0], s.rest[:0], s.steps[:0]
	s.region = region{w: s.width, h: height, spare: s.width * height}
	s.height, s.failures, s.misses = height, 0, 0
	for _, it := range s.pr.Items {
		s.rest = append(s.rest, it.Demand)
		s.left += it.Demand
		s.spare -= it.Demand * int(it.Area())
	}
	switch {
	case s.left <= few:
		return Useless
	case s.spare < 0 || !s.leaves(nil, s.w, s.h):
		return Impossible
	}
	s.phase = choosing
	return Working
}

// back returns to a region that was left before: mostly one of the last, the
// more seldom the further back. It reports false if that is the whole sheet.
func (s *Search) back() bool {
	s.failures++
	want := 2 * few * (s.failures & -s.failures)
	for n := len(s.steps); n > 1; n-- {
		d := s.steps[n-1]
		s.steps = s.steps[:n-1]
		if d.left < want {
			continue
		}
		for _, q := range s.placed[d.placed:] {
			s.rest[q.Item]++
		}
		s.placed = s.placed[:d.placed]
		s.region, s.misses = d, 0
		s.phase = choosing
		return true
	}
	return false
}
