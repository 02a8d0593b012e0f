// Package ruin is a goal-driven ruin and recreate search for guillotine cutting:
// it takes some pieces off their sheets, puts what lies outside back one by one,
// and keeps the outcome if it is not much worse than some steps ago. Whenever
// everything is placed the cost allowed is set below what was reached, so most
// of the time the search is on states with a few pieces outside.
//
// The frame is that of Gardeyn & Wauters, "A goal-driven ruin and recreate
// heuristic for the 2D variable-sized bin packing problem with guillotine
// constraints", European Journal of Operational Research (2022), arXiv
// 2508.19306: late acceptance on the area outside and the value of what is left
// over, places chosen by the least value lost, each overlooked now and then.
// Trees into which pieces are inserted anywhere are those of Fleszar, Computers
// & Operations Research 40(1), 2013, 463-474. What differs here:
//
//   - Trees hold tight sizes and no leftovers. A piece may go wherever its group
//     can grow, or across some parts of a group, so no cut of a leftover has to
//     be decided early and undone later.
//   - A step ends as soon as what finds no place is worth too much to be
//     accepted.
//   - Pieces that stay outside while the search stands still weigh more for a
//     while, and are put back first.
//   - Sheets with more left over are ruined more often.
//
// Start with [New] and [Engine.Run]; read climb.go for one step, tree.go for the
// trees it changes, then ruin.go and recreate.go.
package ruin
