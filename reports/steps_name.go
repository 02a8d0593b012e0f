package reports

import (
	"fmt"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// ref is how the cloth of a job is called.
type ref struct {
	letter string
	after  int // the job whose rest it is, whole; -1 if none
}

// call gives the cloth of every job its name: a sheet goes by its number, what is
// left of a cloth by the name that cloth had, everything else by a letter.
func (s *stepper) call() {
	named := 0
	for i, j := range s.jobs {
		r := ref{after: s.continues(i)}
		if !j.Square && r.after < 0 && slices.ContainsFunc(j.Lots, func(l pack.Lot) bool { return !s.root(l) }) {
			r.letter = letters(named)
			named++
		}
		s.refs = append(s.refs, r)
	}
}

// continues returns the job that leaves exactly the cloth of job i, or -1.
func (s *stepper) continues(i int) int {
	j := s.jobs[i]
	if j.Square || j.Lots[0].From == 0 {
		return -1
	}
	before := s.madeBy[cuttingOf(j.Lots[0])].job
	if s.jobs[before].Count != j.Count {
		return -1
	}
	for _, l := range j.Lots {
		m, ok := s.madeBy[cuttingOf(l)]
		if !ok || !m.rest || m.job != before || l.From == 0 {
			return -1
		}
	}
	return before
}

// letterSigns leaves out i, l and o, which look like 1 and 0.
const letterSigns = "abcdefghjkmnpqrstuvwxyz"

// letters counts a, b, ... z, aa, ab, ...
func letters(n int) string {
	s := ""
	for ; n >= 0; n = n/len(letterSigns) - 1 {
		s = letterSigns[n%len(letterSigns):n%len(letterSigns)+1] + s
	}
	return s
}

// name is how the cloth of job i is called.
func (s *stepper) name(i int) string {
	j := s.jobs[i]
	switch r := s.refs[i]; {
	case r.letter != "":
		return partWord(j.W, j.H) + " " + r.letter
	case r.after >= 0:
		for s.refs[i].after >= 0 {
			i = s.refs[i].after
		}
		if s.refs[i].letter != "" {
			return "the rest of " + s.name(i)
		}
		return "the rest of " + s.sheetNames(i)
	case !j.Square && j.Lots[0].From > 0:
		return "the rest of " + s.sheetNames(i)
	}
	if j.Count == 1 {
		return "the whole cloth of " + s.sheetNames(i)
	}
	return fmt.Sprintf("the %s whole cloths of %s", thousands(int64(j.Count)), s.sheetNames(i))
}

// partWord is what a part of these measures is called.
func partWord(w, h units.Length) string {
	if max(w, h) >= 2*min(w, h) {
		return "strip"
	}
	return "part"
}

// sheetNames lists the sheets of a job: "sheet 3", "sheets 1, 2 and 5".
func (s *stepper) sheetNames(i int) string {
	var numbers []int
	for _, l := range s.jobs[i].Lots {
		if n := s.sheet(l).Number; !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbersOf(numbers)
}
