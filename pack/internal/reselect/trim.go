package reselect

import "pinfold/pack/internal/model"

// trim returns the solution less the pieces beyond the demands, and less sheets
// that hold nothing then. Surplus is taken from the last layouts first; a layout
// that loses a piece from only some of its copies becomes two.
func trim(pr *model.Problem, s *model.Solution) *model.Solution {
	surplus := s.Missing(pr)
	out := &model.Solution{}
	for k := len(s.Patterns) - 1; k >= 0; k-- {
		trimmed(s.Patterns[k], s.Copies[k], surplus, out)
	}
	return out
}

// trimmed adds n copies of p to out; negative entries of surplus are pieces to
// leave out.
func trimmed(p model.Pattern, n int, surplus []int, out *model.Solution) {
	for n > 0 {
		// Drop what the next copies can all do without.
		drop := make([]int, len(surplus))
		times := n
		for _, q := range p.Placed {
			k := q.Item
			if left := -surplus[k] - drop[k]*times; left > 0 {
				// Fewer copies may each lose the piece.
				can := -surplus[k] / (drop[k] + 1)
				if can == 0 {
					continue
				}
				times = min(times, can)
				drop[k]++
			}
		}
		kept := model.Pattern{Stock: p.Stock}
		for k := range drop {
			surplus[k] += drop[k] * times
		}
		for _, q := range p.Placed {
			if drop[q.Item] > 0 {
				drop[q.Item]--
				continue
			}
			kept.Placed = append(kept.Placed, q)
		}
		if len(kept.Placed) > 0 {
			out.Add(kept, times)
		}
		n -= times
	}
}
