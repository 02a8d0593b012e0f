package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in a file the user wrote. Line and Col count from 1, Col in
// characters; Line is 0 for the file as a whole.
type Pos struct {
	File      string
	Line, Col int
}

// String returns "file:line:col", or the file alone when there is no line.
func (p Pos) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Fault is one thing wrong with a file: where, what, and what to write instead.
type Fault struct {
	Pos
	Msg  string
	Hint string
}

// String returns "file:line:col: what is wrong: what to write instead", always
// on one line.
func (f Fault) String() string {
	s := f.Pos.String() + ": " + f.Msg
	if f.Hint != "" {
		s += ": " + f.Hint
	}
	return s
}

// Errors is everything found wrong with a plan and its stash in one reading,
// the plan's faults before the stash's, each file's by position.
type Errors []Fault

// Error returns one line for each fault.
func (e Errors) Error() string {
	lines := make([]string, len(e))
	for i, f := range e {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

// sort puts the faults of the file named first before all others and each
// file's in the order of the file. Faults at one place keep their order.
func (e Errors) sort(first string) {
	slices.SortStableFunc(e, func(a, b Fault) int {
		if a.File != b.File {
			switch first {
			case a.File:
				return -1
			case b.File:
				return 1
			}
			return cmp.Compare(a.File, b.File)
		}
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
}
