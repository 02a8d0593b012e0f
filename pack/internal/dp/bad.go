package dp

import "pinfold/pack/internal/model"

// Clear returns the placed pieces that stay off the bad regions; the rest of a
// guillotine layout is one as well.
func Clear(placed []model.Placed, items []model.Item, bad []model.Rect) []model.Placed {
	if len(bad) == 0 {
		return placed
	}
	kept := placed[:0]
next:
	for _, q := range placed {
		w, h := items[q.Item].Sides(q.Turned)
		x, y := int(q.X), int(q.Y)
		for _, b := range bad {
			if x < b.X+b.W && b.X < x+w && y < b.Y+b.H && b.Y < y+h {
				continue next
			}
		}
		kept = append(kept, q)
	}
	return kept
}
