package plan

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// badAreas reads areas parted by semicolons, each a size and the place of its
// lower left corner, all along the selvage first: "2 x 3 at 0, 4" is 2 along
// and 3 across, beginning at the lower edge and 4 from the left one. In place
// of the two numbers may stand bottom left, bottom right, top left, top right or
// middle. It may begin with what it is: missing, hole or stain. Areas are widened
// to the grid they are printed on, never narrowed. Places are measured from origin.
func (r *reader) badAreas(c cell, of units.Size, origin pack.Point) []Bad {
	var out []Bad
	parts := strings.Split(c.text, ";")
	if len(parts) > maxBad {
		r.fault(c.at, fmt.Sprintf("the most is %d", maxBad), "%d bad areas are too many", len(parts))
		return nil
	}
	for _, part := range parts {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		b, err := badArea(part, of, origin, r.plan.Unit)
		if err != nil {
			r.wrong(c.at, "bad area "+quoted(part), err)
			continue
		}
		if b.outside(of) {
			r.fault(c.at, "measure from the lower left corner, along the selvage first", "bad area %s lies outside a piece of %s", quoted(part), of.Format(r.plan.Unit))
			continue
		}
		out = append(out, b)
	}
	return out
}

func (b Bad) outside(of units.Size) bool {
	return b.X >= of.Across || b.Y >= of.Along || b.X+b.W <= 0 || b.Y+b.H <= 0
}

// badKinds are the words a bad area may begin with, for what each stands.
var badKinds = []struct{ word, means string }{
	{"missing corner", "missing"}, {"missing", "missing"}, {"corner", "missing"}, {"hole", "hole"}, {"stain", "stain"},
}

func badArea(s string, of units.Size, origin pack.Point, u units.Unit) (Bad, error) {
	const form = "write one like 2 x 3 at 0, 4 or 2 x 3 at top left"
	s, what := strings.ToLower(strings.TrimSpace(s)), ""
	for _, k := range badKinds {
		if rest, ok := strings.CutPrefix(s, k.word+" "); ok {
			s, what = rest, k.means
			break
		}
	}
	measures, place, ok := strings.Cut(s, " at ")
	if !ok {
		return Bad{}, fmt.Errorf("it does not say where: %s", form)
	}
	size, err := units.ParseSizeRounded(measures, u, units.Up)
	if err != nil {
		return Bad{}, err
	}
	place = strings.Join(strings.Fields(strings.TrimSuffix(strings.TrimSpace(place), "corner")), " ")
	right, top := max(of.Across-size.Across, 0), max(of.Along-size.Along, 0)
	b := Bad{W: size.Across, H: size.Along, What: what}
	switch place {
	case "bottom left":
		return b, nil
	case "bottom right":
		b.X = right
		return b, nil
	case "top left":
		b.Y = top
		return b, nil
	case "top right":
		b.X, b.Y = right, top
		return b, nil
	case "middle":
		b.X, b.Y = right/2, top/2
		// Of an odd rest half a tick stands out on either side.
		b.W, b.H = b.W+right%2, b.H+top%2
		return b, nil
	}
	along, across, ok := strings.Cut(place, ", ")
	if up, rest, found := strings.Cut(place, " up "); found {
		if rest, isAcross := strings.CutSuffix(rest, " right"); isAcross {
			along, across, ok = up, rest, true
		}
	}
	if !ok {
		return Bad{}, fmt.Errorf("cannot read the place %q: %s", place, form)
	}
	if b.Y, b.H, err = stretch(along, size.Along, u); err != nil {
		return Bad{}, err
	}
	if b.X, b.W, err = stretch(across, size.Across, u); err != nil {
		return Bad{}, err
	}
	b.X, b.Y = b.X+origin.X, b.Y+origin.Y
	return b, nil
}

// stretch reads where an area begins and returns that, rounded down, and how far
// it goes on from there at most.
func stretch(at string, width units.Length, u units.Unit) (from, length units.Length, err error) {
	if from, err = units.ParseRounded(at, u, units.Down); err != nil {
		return 0, 0, err
	}
	up, err := units.ParseRounded(at, u, units.Up)
	return from, up + width - from, err
}

// BadAreas writes the bad areas as a stash file has them; what is written is read
// back as the same. It is "" if there are none.
func (s StashPiece) BadAreas(u units.Unit) string {
	var out []string
	for _, b := range s.Bad {
		size := units.Size{Along: b.H, Across: b.W}
		place := exactNumber(b.Y-s.Origin.Y, u) + ", " + exactNumber(b.X-s.Origin.X, u)
		right, top := s.Size.Across-b.W, s.Size.Along-b.H
		corners := []struct {
			x, y units.Length
			name string
		}{{right, top, "top right"}, {0, top, "top left"}, {right, 0, "bottom right"}, {0, 0, "bottom left"}}
		if i := slices.IndexFunc(corners, func(c struct {
			x, y units.Length
			name string
		}) bool {
			return c.x == b.X && c.y == b.Y
		}); i >= 0 {
			place = corners[i].name
		}
		out = append(out, strings.TrimSpace(b.What+" "+exactBare(size, u)+" at "+place))
	}
	return strings.Join(out, "; ")
}
