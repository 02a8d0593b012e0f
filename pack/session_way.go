package pack

import "pinfold/units"

// way is how regions lie under the cutter.
type way struct {
	fold, lays, stacks int
}

// Lie tells how n regions lie for a cut of a length: in how many layers each is
// folded, how often the ruler is laid along one cut, and in how many stacks they
// lie. Flat ones are not folded.
func (t Rules) Lie(n int, cut units.Length, flat bool) (fold, lays, stacks int) {
	w := t.way(n, cut, flat)
	return w.fold, w.lays, w.stacks
}

// passes is how often the cutter runs for one cut in each region.
func (w way) passes() int { return w.lays * w.stacks }

// way chooses how n regions lie for a cut of a length: flat, with the ruler laid
// again along the cut as often as it takes, or folded in halves until the ruler
// reaches.
func (t Rules) way(n int, cut units.Length, flat bool) way {
	layers := max(t.Layers, 1)
	best := way{1, t.lays(cut), ceilDiv(n, layers)}
	for fold := 2; !flat && fold <= layers && best.lays > 1; fold *= 2 {
		folded := way{fold, t.lays((cut + units.Length(fold) - 1) / units.Length(fold)), ceilDiv(n, layers/fold)}
		if folded.passes() < best.passes() {
			best = folded
		}
	}
	return best
}

// least is a lower bound on the passes for n cuts of a length through one layer
// each: a pass cuts at most a ruler's length through all layers.
func (t Rules) least(n int, cut units.Length) int {
	return ceilDiv(n*t.lays(cut), max(t.Layers, 1))
}

func (t Rules) lays(cut units.Length) int {
	if t.Ruler <= 0 {
		return 1
	}
	return max(1, int((cut+t.Ruler-1)/t.Ruler))
}

// settings is how often the ruler is set for a cut that parts a region into two
// widths: once, but again for every length of the ruler beyond the first that the
// smaller width has, since it cannot be read off in one.
func (t Rules) settings(a, b units.Length) int { return t.lays(min(a, b)) }

func ceilDiv(a, b int) int { return (a + b - 1) / b }
