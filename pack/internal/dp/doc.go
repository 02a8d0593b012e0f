// Package dp fills rectangles by dynamic programming over guillotine cuts.
//
// A [Table] holds, for every rectangle up to a given size at once, the greatest
// value that unlimited copies of the items can reach in it, for any number of
// stages or for a stage limit. The recursion is that of Gilmore and Gomory
// (Multistage cutting stock problems of two and more dimensions, Operations
// Research 13, 1965) over the sums of item sides of Herz (Recursive
// computational procedure for two-dimensional stock cutting, IBM Journal 16,
// 1972), in the staged form of Beasley (Algorithms for unconstrained
// two-dimensional guillotine cutting, JORS 36, 1985) and as used for pricing by
// Cintra, Miyazawa, Wakabayashi and Xavier (EJOR 191, 2008).
//
// Along one axis the recursion is an unbounded knapsack whose items are the
// blocks of the other axis. A block worth no more than some combination of
// smaller ones is never needed as a first part, so each row and each column
// keeps the short list of blocks that are; that is the idea behind the
// knapsack-function method of Russo, Sforza and Sterle (Computers & Operations
// Research 50, 2014), and it makes the work per rectangle the length of two
// short lists instead of the number of cut positions.
//
// A [Bounded] table is the demand-bounded relative that keeps a single filling
// for every rectangle. It finds layouts and proves nothing.
//
// Values are integers throughout: what a table says can be used in a proof.
//
// Start with [New], [Table.Solve] and [Table.Pattern], or with [NewBounded] where
// demands bind; read positions.go for where cuts may lie, then table.go and
// bounded.go.
package dp
