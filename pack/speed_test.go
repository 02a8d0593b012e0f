package pack_test

import (
	"context"
	"testing"

	"pinfold/pack"
	"pinfold/units"
)

// fair is one fabric of a lantern fair: the pieces and bands of some forty
// ornaments, from fat quarters, a scrap with a stain and the bolt.
func fair() pack.Problem {
	const in = units.Inch
	p := lantern()
	p.Pieces = []pack.Piece{
		{ID: "A", W: 5 * in / 2, H: 5 * in / 2, Demand: 120},
		{ID: "B", W: 3 * in, H: 9 * in / 4, Demand: 96, Turn: true},
		{ID: "C", W: 13 * in / 4, H: 17 * in / 4, Demand: 60, Turn: true},
		{ID: "D", W: 15 * in / 8, H: 15 * in / 8, Demand: 64},
		{ID: "E", W: 11 * in / 2, H: 27 * in / 4, Demand: 11, Turn: true},
		{ID: "band", W: 7 * in / 4, H: 21 * in / 2, Demand: 40, Turn: true},
	}
	p.Sheets = append(p.Sheets, pack.Sheet{
		ID: "scrap", W: 15 * in, H: 11 * in, Copies: 1, Free: true, Bad: []pack.Rect{{X: 4 * in, Y: 3 * in, W: 2 * in, H: in}},
	})
	return p
}

func solved(b *testing.B, p pack.Problem, o pack.Options) pack.Solution {
	s, err := pack.Solve(context.Background(), p, o)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// One fabric; besides the time, what it costs and the work that was counted, which
// are the same on every machine.
func BenchmarkSolve(b *testing.B) {
	for _, e := range []pack.Effort{pack.Quick, pack.Normal} {
		b.Run(e.String(), func(b *testing.B) {
			p := fair()
			var s pack.Solution
			for b.Loop() {
				s = solved(b, p, pack.Options{Effort: e, Workers: 1})
			}
			b.ReportMetric(float64(s.Cost), "cents")
			b.ReportMetric(float64(s.Nodes), "work")
		})
	}
}

func BenchmarkCheck(b *testing.B) {
	p := fair()
	s := solved(b, p, pack.Options{Effort: pack.Quick})
	for b.Loop() {
		if err := pack.Check(p, s); err != nil {
			b.Fatal(err)
		}
	}
}
