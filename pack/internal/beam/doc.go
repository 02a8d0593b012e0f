// Package beam is an anytime tree search for staged guillotine patterns, after
// Fontan & Libralesso, "An anytime tree search algorithm for two-dimensional
// two- and three-staged guillotine packing problems" (arXiv 2004.02603, 2020).
//
// Sheets are filled one after another, each as strips of the first cut, rows in
// the strip, and pieces side by side in the row; a piece may be smaller than its
// row, the last trim being free (three stages, non-exact; two stages make the
// whole sheet one strip). A node of the tree is a number of packed copies of
// each item with the front of the last sheet; a child packs one more
// piece, into the open row, a new row, a new strip, or a new sheet. Strips and rows
// stay open as long as possible and grow with the pieces.
//
// What keeps the tree small:
//   - a piece that fits without widening anything rules out closing the row, the
//     strip or the sheet it fits into;
//   - of nodes with the same pieces packed, one whose front lies inside another's
//     makes that one needless, and equal nodes are kept once (counts are hashed
//     by sums of random numbers);
//   - the area lost so far must leave room for the rest within the cost to beat;
//   - sides of pieces grow by what must be lost beside them anyway, and fronts
//     are pushed over room that nothing can use.
//
// The search is a beam: a level holds the best nodes with about the same
// packed area, a fixed number of them, by one of these guides (lower is better):
//
//	0  area used / area packed
//	1  waste rate / mean area of the packed pieces, where rates below 2 % are
//	   pressed together to 1 % + rate / 2
//	2  (10 % + waste rate) / mean area of the packed pieces
//	4  area used / value packed                              (Fill)
//	5  area used / value packed / mean area of the pieces    (Fill)
//
// Passes alternate between guides and first-cut directions in a fixed order;
// each time round a configuration is half as wide again, until a pass
// turns nothing away, which proves that nothing better exists within the stages,
// or memory ends it. Comparing nodes by packed area and not by number of pieces
// matters: it makes their waste comparable.
//
// The same search packs a strip of open height ([Strip]): the height to beat
// limits the sheet and falls with every solution; and fills one sheet with most
// value ([Fill]), bounded by the densest remaining pieces.
//
// Start with [New] and [Search.Run]. Read search.go for the passes over a beam,
// then expand.go, which makes the children of a [node], and measure.go for the
// guides.
package beam
