package pinfold_test

import (
	"context"
	"testing"

	"pinfold/fixtures"
	"pinfold/pack"
	"pinfold/plan"
)

// BenchmarkSession works out the passes of the demo's sheets, all fabrics
// together.
func BenchmarkSession(b *testing.B) {
	p, err := plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
	if err != nil {
		b.Fatal(err)
	}
	r, err := plan.Solve(context.Background(), p, plan.Options{Effort: pack.Quick})
	if err != nil {
		b.Fatal(err)
	}
	var cloths []pack.Cloth
	for _, f := range r.Fabrics {
		cloths = append(cloths, pack.Cloth{Problem: f.Problem, Layouts: f.Solution.Layouts})
	}
	var s pack.Session
	for b.Loop() {
		s = pack.NewSession(cloths)
	}
	b.ReportMetric(float64(s.Passes), "passes")
}
