package blocks

import "pinfold/pack/internal/model"

// Verdict answers a question that has a yes and a no.
type Verdict uint8

// The verdicts.
const (
	Unknown Verdict = iota
	Yes
	No
)

// FitSearch asks whether all pieces can be cut from one sheet.
type FitSearch struct {
	f       FillSearch
	verdict Verdict
}

// NewFit prepares the question whether every piece demanded by pr can be cut
// from one sheet of the stock. Pieces count by area, and prices may have either
// sign, since every piece must be taken. Bad areas are not for this search.
func NewFit(pr *model.Problem, o FillOptions) *FitSearch {
	s := &FitSearch{}
	f := &s.f
	var area, total int64
	for _, it := range pr.Items {
		f.value = append(f.value, it.Area())
		area += it.Area() * int64(it.Demand)
	}
	if area > pr.Stocks[o.Stock].Area() {
		s.verdict = No
		return s
	}
	f.init(pr, o, true)
	for i, it := range pr.Items {
		if f.s.demand[i] < it.Demand {
			s.verdict = No
			return s
		}
		total += f.value[i] * int64(it.Demand)
	}
	if total == 0 {
		s.verdict = Yes
		return s
	}
	f.goal = total
	return s
}

// Verdict returns the answer so far.
func (s *FitSearch) Verdict() Verdict { return s.verdict }

// Layout returns the layout that holds every piece, after a yes.
func (s *FitSearch) Layout() model.Pattern { return s.f.best }

// Run works for about budget units of about a microsecond, returns how many were
// spent, and tells whether running on could find the answer.
func (s *FitSearch) Run(budget int64) (spent int64, more bool) {
	if s.verdict != Unknown {
		return 0, false
	}
	spent, more = s.f.Run(budget)
	switch {
	case s.f.worth >= s.f.goal:
		s.verdict, more = Yes, false
	case s.f.bound < s.f.goal:
		s.verdict, more = No, false
	}
	return spent, more
}
