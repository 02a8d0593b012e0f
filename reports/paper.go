package reports

import (
	"fmt"
	"strings"

	"pinfold/units"
)

// Paper is a sheet of paper to print on. The zero value leaves the choice to the
// plan's unit: Letter for inches, A4 for centimetres.
type Paper struct {
	Name string
	W, H units.Length
}

// The papers.
var (
	Letter = Paper{"Letter", 17 * units.Inch / 2, 11 * units.Inch}
	A4     = Paper{"A4", 210 * units.Millimetre, 297 * units.Millimetre}
)

// ParsePaper reads the name of a paper; "" is the zero value.
func ParsePaper(s string) (Paper, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "":
		return Paper{}, nil
	case "letter":
		return Letter, nil
	case "a4":
		return A4, nil
	}
	return Paper{}, fmt.Errorf("unknown paper %q: write letter or a4", s)
}

// or chooses the paper the unit suggests when none is named.
func (p Paper) or(u units.Unit) Paper {
	switch {
	case p.W > 0:
		return p
	case u == units.Centimetres:
		return A4
	}
	return Letter
}
