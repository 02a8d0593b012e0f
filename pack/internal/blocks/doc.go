// Package blocks solves one sheet exactly: the most valuable guillotine layout
// within the demands ([NewFill]), whether a set of pieces fits ([NewFit]), and,
// for small sets, whether they can be cut at a given cost ([NewCover]).
//
// Blocks are rectangles of pieces built bottom-up, two at a time side by side
// or one above the other, as in Wang (Two algorithms for constrained
// two-dimensional cutting stock problems, Operations Research 31, 1983). A block
// is kept only if its pieces and the most that could still fit around it come to
// a target value; when no block is left to combine and none reaches the target,
// nothing does. The search puts the target just below the best known bound and
// lowers it step by step while the blocks stay few, and builds a few blocks of
// each size to find good layouts when they do not. That is the plan of Wang,
// Baldacci, Liu and Wei (EJOR 327, 2025), with three differences:
//
//   - The bound inside and around a block is taken under Lagrangian prices on
//     the demands, as Clautiaux, Sadykov, Vanderbeck and Viaud filter (Discrete
//     Optimization 29, 2018). With all prices zero it is the unlimited recursion
//     of Gilmore and Gomory (Operations Research 13, 1965).
//   - The unlimited recursion runs forwards over the rectangles where its value
//     rises (Russo, Sforza and Sterle, Computers & Operations Research 50, 2014).
//   - Blocks of one size are kept together, the worthiest first, so that two
//     sizes are combined only as deep as their best pairs reach the target.
//
// A block is dropped in favour of another only if the other holds the same
// copies of every item whose demand can bind, in no larger a rectangle: rules
// that compare different contents are not exact (Russo, Boccia, Sforza and
// Sterle, ITOR 27, 2020).
//
// Layouts to start from come from the tables of package dp; one that the
// enumeration is slow to improve is mended by ruin and recreate (Gardeyn and
// Wauters, EJOR 301, 2022). A sheet with bad areas is relaxed region by region,
// and searched completely if it is small.
//
// All numbers that decide or prove anything are whole, work
// is counted in steps, and no search depends on the clock or on the order of a
// map.
//
// Start with [NewFill], then Run it. Read phases.go for the order of its work, then
// enumerate.go, where blocks are joined; prices.go and relax.go are the bound,
// mend.go the layouts that are not proved.
package blocks
