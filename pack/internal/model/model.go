// Package model is the problem as the engines see it: whole numbers in the
// largest common unit, the kerf already added to every side, pieces of equal
// size merged. Engines read a [Problem] and produce [Pattern]s; package pack
// converts to and from it and knows the trees and the cloth.
//
// Start with [Problem], then [Engine], which every search is; [Cut] derives the
// cut tree of a pattern.
package model

// Item is a size to cut, Demand times. W and H are what it occupies when not
// turned; Turn allows H x W as well (never set for squares).
type Item struct {
	W, H   int
	Demand int
	Turn   bool
	Value  int64 // worth of one copy when filling one sheet
}

// Area returns what one copy covers.
func (it Item) Area() int64 { return int64(it.W) * int64(it.H) }

// Sides returns the measures of the item as placed.
func (it Item) Sides(turned bool) (w, h int) {
	if turned {
		return it.H, it.W
	}
	return it.W, it.H
}

// Fits tells whether one copy fits a w x h rectangle, turned if it may be.
func (it Item) Fits(w, h int) bool {
	return it.W <= w && it.H <= h || it.Turn && it.H <= w && it.W <= h
}

// Rect is a region of a sheet.
type Rect struct{ X, Y, W, H int }

// Stock is a kind of sheet.
type Stock struct {
	W, H   int
	Copies int // Unlimited for no limit
	Cost   int64
	// Bad regions hold no piece.
	Bad []Rect
}

// Unlimited as Stock.Copies means as many as wanted.
const Unlimited = -1

// Area returns the area of one sheet.
func (s Stock) Area() int64 { return int64(s.W) * int64(s.H) }

// Problem is a set of items and the stocks they are cut from. Items and stocks
// are indexed by position everywhere.
type Problem struct {
	Items  []Item
	Stocks []Stock
	Stages int // 0 for no limit; a last trimming cut is free
}

// Copies is how many pieces there are to cut.
func (pr *Problem) Copies() int {
	n := 0
	for _, it := range pr.Items {
		n += it.Demand
	}
	return n
}

// Placed is one copy of an item on a sheet.
type Placed struct {
	Item   int32
	X, Y   int32
	Turned bool
}

// Pattern is a guillotine layout of one sheet: the pieces, from which the cut
// tree can always be derived again (see [Tree]).
type Pattern struct {
	Stock  int
	Placed []Placed
}

// Count adds the pattern's copies of each item to n, which has one entry an
// item.
func (p Pattern) Count(n []int) {
	for _, q := range p.Placed {
		n[q.Item]++
	}
}

// Area is the area the pattern's pieces cover.
func (p Pattern) Area(pr *Problem) int64 {
	var a int64
	for _, q := range p.Placed {
		a += pr.Items[q.Item].Area()
	}
	return a
}

// Solution is a multiset of patterns: Patterns[i] is cut Copies[i] times.
type Solution struct {
	Patterns []Pattern
	Copies   []int
}

// Add appends a pattern cut n times.
func (s *Solution) Add(p Pattern, n int) {
	s.Patterns = append(s.Patterns, p)
	s.Copies = append(s.Copies, n)
}

// Cost is the cost of all sheets.
func (s *Solution) Cost(pr *Problem) int64 {
	var c int64
	for i, p := range s.Patterns {
		c += pr.Stocks[p.Stock].Cost * int64(s.Copies[i])
	}
	return c
}

// Sheets is the number of sheets.
func (s *Solution) Sheets() int {
	n := 0
	for _, c := range s.Copies {
		n += c
	}
	return n
}

// Missing returns how many copies of each item the solution lacks; a negative
// entry is a surplus.
func (s *Solution) Missing(pr *Problem) []int {
	miss := make([]int, len(pr.Items))
	for i, it := range pr.Items {
		miss[i] = it.Demand
	}
	for i, p := range s.Patterns {
		for _, q := range p.Placed {
			miss[q.Item] -= s.Copies[i]
		}
	}
	return miss
}

// Lacks is the area of the copies that the solution lacks, 0 if it is complete.
func (s *Solution) Lacks(pr *Problem) int64 {
	var a int64
	for i, n := range s.Missing(pr) {
		a += int64(max(n, 0)) * pr.Items[i].Area()
	}
	return a
}
