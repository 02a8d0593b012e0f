package plan

import "pinfold/units"

// Bounds on what a plan may hold: far above any plan a maker could work through
// and low enough that reading one never takes long.
const (
	maxPlanBytes  = 1 << 20
	maxStashBytes = 4 << 20
	maxName       = 200 // characters
	maxOrnaments  = 1000
	maxRounds     = 200 // of one ornament
	maxAround     = 1000
	maxSupplies   = 200 // of one ornament
	maxOrders     = 10_000
	maxFabrics    = 1000
	maxOffers     = 50 // of one fabric
	maxStash      = 10_000
	maxCopies     = 10_000 // of one stash piece or one offer
	maxBad        = 100    // areas of one stash piece
	maxKeepSizes  = 20
	maxLayers     = 12 // a 60 mm blade's maker promises no more
	maxPace       = 3600
	maxStages     = 10

	// After this many faults of a file the rest is only counted: nobody mends
	// more before the next try.
	maxFaults = 1000

	maxBall  = 3 * units.Metre
	maxCloth = 1000 * units.Metre
	maxShape = 100 * units.Metre // a crooked piece of stash

	// One hundredth of a percent is 1.
	maxSpare  = 100_00
	maxShrink = 50_00
)
