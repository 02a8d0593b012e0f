// Package peel looks for a layout of one sheet that holds every piece, when next
// to nothing may be wasted. It peels the sheet: rows from side to side or columns
// from top to bottom that are filled without any waste are cut off, the largest
// and most awkward pieces first, until few small pieces are left for a region
// that has all the waste there may be. Those are packed by ruin and recreate
// (package ruin). Where that fails it begins anew with other rows.
//
// Rows are found in a table that holds, for every size w x h up to the region's,
// a few blocks of pieces that fill exactly w x h: single pieces, and pairs of
// blocks of equal height side by side or of equal width one above the other
// (builds of Wang, Operations Research 31, 1983, restricted to those without
// waste). Two blocks are joined only if there are pieces enough for both. Of a
// size only the few blocks are kept that use up the least of what is good to have
// later: few pieces, and such as are hard to place.
//
// To pack a strip by layers of blocks is due to Wei, Tian, Zhu and Lim (A
// block-based layer building approach for the 2D guillotine strip packing
// problem, EJOR 239, 2014), who let every layer waste a little; that perfect
// layers are so many among some dozens of pieces that they can be
// had from a table, and cut off in both directions, is this package's own.
package peel
