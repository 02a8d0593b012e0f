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
// # Where to start
//
// [Solve] is the call, problem.go and layout.go are what goes in and comes out;
// then read check.go for what a layout must keep, and solve.go for the way
// through the engines. [Holds] answers whether cloth will do, without a price.
// [Tidy], [Arrange] and [NewSession] make the work at the table of the layouts of
// several cloths.
//
// # Before the search
//
// A problem is first made small without losing anything: the kerf is added to
// every side and then forgotten, equal sizes are merged, lengths are divided by
// their common divisor. The engines see whole numbers, pieces and patterns; a
// pattern is only where its pieces lie, and its cut tree is derived again at the
// end. Cheap bounds come next: areas, dual feasible functions, covers of several
// kinds of stock (internal/bounds). An answer that meets its bound ends the
// search at once. First layouts are made by insertion (internal/insert, after
// Fleszar 2013).
//
// # The engines
//
// Then the engines work in rounds, as many at a time as there are cores, and
// exchange the best solution, the bounds and all layouts at the end of each
// round (internal/search). Which engine wins depends on the problem:
//
//   - Many copies of few sizes: column generation (internal/colgen; Gilmore and
//     Gomory 1961-65, Cintra et al. 2008) prices patterns by dynamic programmes
//     over reduced cut positions (internal/dp; Herz 1972, Beasley 1985, Russo et
//     al. 2014), cuts the whole copies of the linear programme (internal/lp) and
//     leaves a small rest to the others. Its bound is computed in whole numbers
//     (Farley 1990). The work does not grow with the number of copies.
//   - Some hundred different pieces: a tree search over three-staged patterns
//     (internal/beam; Fontan and Libralesso 2020) gives good answers soon; ruin
//     and recreate with the goal of one sheet less (internal/ruin; Gardeyn and
//     Wauters 2022) knows no stages and wins late.
//   - In between: sequential value correction (internal/svc; Cui et al. 2015)
//     fills sheet after sheet and learns what pieces are worth; choosing again
//     among all layouts ever met (internal/reselect; Cui, Yao and Zhang 2018)
//     combines what different engines found.
//   - A few sheets: complete enumeration of blocks (internal/blocks; Wang 1983,
//     Wang, Baldacci, Liu and Wei 2025) fills one sheet best, with proof, and
//     decides whether everything fits one sheet or costs less than the best;
//     refined dual feasible functions (Caprara and Monaci 2009) close more gaps.
//
// # Rolls
//
// With a bought length fixed, a roll is one more sheet whose cost is sunk. When
// other cloth is bought as well, every length that its bound does not rule out
// is searched, the promising ones longer (roll_search.go). When only the roll is
// bought, a length that will do makes every longer one do, and the search goes
// down (descend.go); lengths that leave next to no waste are looked for by cutting
// off rows and columns filled without any (internal/peel). In both cases the roll is also taken as a pile of slabs,
// which turns it into a problem of many equal sheets (slabs.go).
//
// # What a status means
//
// "Proved best" is said only when a bound meets the cost: one of the bounds
// above, column generation's, or a complete search. A dynamic programme that
// keeps one filling for each size finds layouts but never proves anything where
// demand binds. Work is counted in units of about a microsecond, never by the
// clock, so the same problem, seed and effort give the same solution on any
// number of cores; only a context that ends stops a search early, at the end of
// a round, and the solution says so.
package pack
