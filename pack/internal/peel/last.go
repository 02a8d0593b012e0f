package peel

import (
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/ruin"
)

// last packs the pieces left at the end.
type last struct {
	engine *ruin.Engine
	item   []int32 // of the problem, by that of the engine's
	spent  int64
}

// end works on the last pieces.
func (s *Search) end(budget int64) (int64, Result) {
	if s.left == 0 {
		s.found = model.Pattern{Placed: slices.Clone(s.placed)}
		return 0, Found
	}
	if s.last == nil {
		s.last = s.newLast()
	}
	l := s.last
	spent, more := l.engine.Run(min(budget, lastWork-l.spent))
	l.spent += spent
	b := l.engine.Best()
	if b == nil && more && l.spent < lastWork {
		return spent, Working
	}
	s.last = nil
	if b == nil {
		return spent, Failed
	}
	s.found = model.Pattern{Placed: slices.Clone(s.placed)}
	for _, q := range b.Patterns[0].Placed {
		q.Item = l.item[q.Item]
		q.X += int32(s.x)
		q.Y += int32(s.y)
		s.found.Placed = append(s.found.Placed, q)
	}
	return spent, Found
}

// newLast states the problem of the region left.
func (s *Search) newLast() *last {
	l := &last{}
	pr := &model.Problem{Stocks: []model.Stock{{W: s.w, H: s.h, Copies: 1}}}
	for i, n := range s.rest {
		if n > 0 {
			it := s.pr.Items[i]
			it.Demand = n
			pr.Items = append(pr.Items, it)
			l.item = append(l.item, int32(i))
		}
	}
	l.engine = ruin.New(pr, ruin.Options{Seed: s.rnd.Next()})
	return l
}
