package dp

import (
	"math/rand/v2"
	"testing"

	"pinfold/pack/internal/model"
)

// benchItems are n sizes like those of fabric pieces, in steps of grid.
func benchItems(n, grid, low, high int) ([]model.Item, []int64) {
	r := rand.New(rand.NewPCG(7, 7))
	items, values := make([]model.Item, n), make([]int64, n)
	for k := range items {
		it := model.Item{W: low + grid*r.IntN((high-low)/grid+1), H: low + grid*r.IntN((high-low)/grid+1), Demand: 1000}
		it.Turn = it.W != it.H
		items[k] = it
		// Prices near convergence are close to the areas.
		values[k] = it.Area() * int64(970+r.IntN(60))
	}
	return items, values
}

func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct {
		name               string
		n, grid, low, high int
		w, h, stages       int
	}{
		{"36x42", 20, 1, 3, 20, 36, 42, 0},
		{"144x168", 40, 1, 12, 80, 144, 168, 0},
		{"144x168,2", 40, 1, 12, 80, 144, 168, 2},
		{"144x168,3", 40, 1, 12, 80, 144, 168, 3},
		{"1000x1000", 50, 1, 250, 750, 1000, 1000, 0},
		{"2000x2000", 32, 1, 200, 900, 2000, 2000, 0},
	} {
		b.Run(c.name, func(b *testing.B) {
			items, values := benchItems(c.n, c.grid, c.low, c.high)
			t := New(items, []Size{{c.w, c.h}}, c.stages)
			for b.Loop() {
				t.Solve(values)
			}
			b.ReportMetric(float64(t.Cells()), "cells")
			b.ReportMetric(float64(t.Work()), "units")
		})
	}
}

func BenchmarkBounded(b *testing.B) {
	items, values := benchItems(40, 1, 12, 80)
	left := make([]int, len(items))
	for k := range left {
		left[k] = 3
	}
	f := NewBounded(items)
	for b.Loop() {
		f.Fill(144, 168, values, left)
	}
	b.ReportMetric(float64(f.Work()), "units")
}
