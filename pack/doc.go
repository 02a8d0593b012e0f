// Package pack cuts rectangles from sheets and rolls by straight edge-to-edge
// cuts, for the least price or the least area bought, and says how much less any
// plan could cost at best.
//
// State a [Problem]: pieces with demand and turning rule, sheets with copies and
// price, at most one [Roll], the [Rules]. [Solve] returns a [Solution]: layouts
// as cut trees with their repetitions, what is missing, cost and proved bound.
// [Fill] finds the most valuable content of one sheet. [Check] verifies a
// solution from its cut trees alone and shares no code with the engines; Solve
// returns nothing that does not pass it.
//
// # How a problem is solved
//
// A problem is first made small without losing anything: the kerf is added to
// every side and then forgotten, equal sizes are merged, lengths are divided by
// their common divisor. Bounds come next (package bounds), since an answer that
// meets its bound ends the search. First layouts are made by insertion (package
// insert). A roll is solved length by length, with the length's cost sunk.
package pack
