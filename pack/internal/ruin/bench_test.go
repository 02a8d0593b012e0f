package ruin

import "testing"

// BenchmarkStep is one ruin, recreation and decision: one operation a step.
func BenchmarkStep(b *testing.B) {
	for _, c := range []struct {
		name string
		n    int
		turn bool
	}{{"40", 40, false}, {"100", 100, false}, {"100turn", 100, true}, {"500turn", 500, true}} {
		b.Run(c.name, func(b *testing.B) {
			e := New(mixed(c.n, c.turn), Options{})
			e.Run(20000)
			from := e.s.work
			b.ReportAllocs()
			b.ResetTimer()
			for range b.N {
				e.step()
			}
			b.ReportMetric(float64(e.s.work-from)/unit/float64(b.N), "units/op")
		})
	}
}

// BenchmarkRefresh is what every change of a sheet of some 30 pieces costs.
func BenchmarkRefresh(b *testing.B) {
	pr := mixed(300, true)
	for i := range pr.Items {
		pr.Items[i].W = 1 + pr.Items[i].W/4
		pr.Items[i].H = 1 + pr.Items[i].H/4
		pr.Items[i].Turn = pr.Items[i].W != pr.Items[i].H
	}
	e := New(pr, Options{})
	e.Run(0)
	s := &e.s
	b.ReportMetric(float64(len(s.sheets[s.slots[0]].nodes)), "nodes")
	b.ResetTimer()
	for range b.N {
		s.sheets[s.slots[0]].refresh(s.values, 0)
	}
}
