package beam

import (
	"math"

	"pinfold/pack/internal/model"
)

// Goal is what a search is after.
type Goal uint8

// The goals.
const (
	// Pack cuts every item from sheets of the least total cost.
	Pack Goal = iota
	// Strip cuts every item from one sheet of Stocks[0], as low as possible: W
	// is the width, H the most height allowed.
	Strip
	// Fill cuts items of the most total value from one sheet of Stocks[0], at
	// most Demand of each.
	Fill
)

// Options choose among searches. The zero value packs sheets.
type Options struct {
	Goal Goal
	Seed uint64     // decides ties only
	Sink model.Sink // gets the patterns of good solutions; nil for none
	// Guides are the guides to rotate through (see the package comment), nil for
	// the default.
	Guides []int
	// First are the directions of the first cut to rotate through, nil for the
	// default.
	First []First
	// Width is the beam width of the first passes, 0 for 1. Every later pass of
	// a configuration is half as wide again.
	Width int
}

// First says which direction the first cut of every sheet has.
type First uint8

// The first-cut directions. FirstEither decides sheet by sheet.
const (
	FirstX First = iota
	FirstY
	FirstEither
)

// config is one member of the rotation.
type config struct {
	guide  int
	first  First
	width  int
	done   bool // searched completely, or as wide as memory allows
	proved bool // searched completely
}

// Search is an anytime tree search; see the package comment. It implements
// [model.Engine].
type Search struct {
	pr     *model.Problem
	goal   Goal
	sink   model.Sink
	staged int // 2 or 3

	m        int // items
	kinds    []kind
	shapes   [2][]shape // by the axis of the first cut
	zob      []uint64   // one an item, then one a kind
	seed     uint64
	pieces   int       // copies of all items
	areas    []int64   // of one copy of each item, with what must be lost beside it
	area     int64     // of all pieces
	stride   int64     // area between levels
	levels   int       // the last level
	ahead    int       // levels a child may be beyond its parent
	measures []measure // that bound what is left, besides the area
	density  []int     // items by value per area, best first; Fill only

	configs []config
	turn    int // index of the configuration that runs

	best      *model.Solution
	bestCost  int64 // cost or height to beat; Fill: value to beat
	maxWaste  int64 // most area that may be lost by a solution that beats it
	closed    bool  // nothing more can be found
	spent     int64 // work done, thousandths of a unit
	granted   int64 // work allowed by all calls of Run, likewise
	told      int64 // units returned by all calls of Run
	exhausted bool  // a complete pass proved that nothing better exists

	pass pass
	// Where the remaining shapes fit, while a node is expanded.
	inRow, inStrip, inRest []int32
}

var _ model.Engine = (*Search)(nil)

// maxTrail bounds the records kept by one pass, and with them the beam width.
const maxTrail = 1 << 22

// New prepares a search. Sheets with bad regions are left out: staged patterns
// run straight through them.
func New(pr *model.Problem, o Options) *Search {
	s := &Search{pr: pr, goal: o.Goal, sink: o.Sink, staged: 3, seed: o.Seed, m: len(pr.Items)}
	if pr.Stages == 1 || pr.Stages == 2 {
		s.staged = 2
	}
	s.setKinds()
	s.setShapes()
	s.enlarge()
	s.setAreas()
	s.setLevels()
	s.setMeasures()
	s.setTies()
	s.configs = configs(o, s.firsts(o.First))
	s.bestCost = math.MaxInt64
	if s.goal == Fill {
		s.bestCost = 0
	}
	if s.goal == Strip && len(s.kinds) > 0 {
		s.limit(int64(pr.Stocks[0].H) + 1)
	}
	s.closed = s.pieces == 0 || len(s.kinds) == 0 || pr.Stages == 1 || s.goal != Fill && s.misfit()
	s.setWaste()
	return s
}

// misfit tells that some piece fits no sheet.
func (s *Search) misfit() bool {
	for i, it := range s.pr.Items {
		if it.Demand > 0 && s.areas[i] == 0 {
			return true
		}
	}
	return false
}

// configs lists the rotation: guides first, so that the first two passes differ
// in guide.
func configs(o Options, firsts []First) []config {
	guides := o.Guides
	if guides == nil {
		guides = []int{2, 1, 0}
	}
	var cs []config
	for _, f := range firsts {
		for _, g := range guides {
			cs = append(cs, config{guide: g, first: f, width: max(1, o.Width)})
		}
	}
	return cs
}

// Best implements [model.Engine].
func (s *Search) Best() *model.Solution { return s.best }

// Value is the cost of the best solution (Pack), its height (Strip) or its value
// (Fill); 0 if there is none.
func (s *Search) Value() int64 {
	if s.best == nil {
		return 0
	}
	return s.bestCost
}

// Exhausted tells that the search has proved that no pattern set within its
// stages is better than the best (or than the last Aim).
func (s *Search) Exhausted() bool { return s.exhausted }

// Aim implements [model.Engine]: of interest is a cost below the given one, for
// Strip a lower height, for Fill a larger value.
func (s *Search) Aim(cost int64) {
	if s.goal == Fill {
		s.bestCost = max(s.bestCost, cost)
		return
	}
	if cost < s.bestCost {
		s.beat(cost)
	}
}

// beat tightens everything that depends on the cost to beat.
func (s *Search) beat(cost int64) {
	s.bestCost = cost
	if s.goal == Strip && len(s.kinds) > 0 {
		s.limit(cost)
	}
	s.setWaste()
}

// Run implements [model.Engine]. The search stops between two nodes, and what it
// did beyond one call's budget is taken off the next, so that the state reached
// depends only on the sum of the budgets and the calls of Aim between them.
func (s *Search) Run(budget int64) (spent int64, more bool) {
	s.granted += budget * 1000
	for !s.closed && s.spent < s.granted {
		s.step()
	}
	if s.closed {
		s.granted = min(s.granted, s.spent)
	}
	spent = s.spent/1000 - s.told
	s.told += spent
	return spent, !s.closed
}

// step expands one node, or ends a level, or begins a pass.
func (s *Search) step() {
	p := &s.pass
	switch {
	case !p.running:
		s.beginPass()
	case p.at == len(p.ring[p.level%len(p.ring)].nodes):
		s.endLevel()
	default:
		s.expand(p.at)
		p.at++
	}
}

// next moves on to the next configuration that has something left to try.
func (s *Search) next() {
	for range s.configs {
		s.turn = (s.turn + 1) % len(s.configs)
		if !s.configs[s.turn].done {
			return
		}
	}
	s.closed = true
}
