package model

// Engine is a search that can be run a little at a time. Work is counted in
// units of about a microsecond of one core, so that budgets of different
// engines compare; the count depends only on the problem, the seed and the
// calls made, never on the clock. An Engine is used by one goroutine at a time.
type Engine interface {
	// Run works for about budget units, returns how many were spent, and tells
	// whether running on could find anything more.
	Run(budget int64) (spent int64, more bool)
	// Best returns the cheapest complete solution found so far, or nil. The
	// caller does not change it.
	Best() *Solution
	// Aim tells the engine that only complete solutions cheaper than cost are of
	// interest from now on.
	Aim(cost int64)
}

// Sink receives every pattern an engine comes across that may serve in some
// solution, for later re-selection. Engines may share patterns with it only if
// they never change them afterwards.
type Sink interface {
	Offer(p Pattern)
}
