package plan

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// shape is a crooked piece as it was measured.
type shape struct {
	outline pack.Outline // moved so that the rectangle around it begins at 0, 0
	// from is where places on the piece are measured from, seen from there.
	from pack.Point
}

const shapeForm = "write its corners as 0, 0; 0, 9; 12, 8, along the selvage first, or bottom 9, right 12, top 8, left 11, diagonal 14"

// parseShape reads the shape of a piece that is no rectangle, in one of three ways.
//
// Corners in order round the piece, parted by semicolons, each along the selvage
// first: "0, 0; 0, 9; 12, 8; 11, 0".
//
// Four sides and a diagonal: "bottom 9, right 12, top 8, left 11, diagonal 14". The
// bottom edge lies across the straight grain; the diagonal goes from its left end to
// the top right corner. No corner may dent inwards.
//
// Two edges and two heights: "bottom 9, top 8, left height 12, right height 11". The
// bottom edge lies across the grain and the left edge square on it; the heights are
// measured square to the bottom edge, up to the two ends of the top edge.
//
// Measures must be exact: rounding a side would bend the others. Corners that are
// worked out are rounded to ticks, inwards.
func parseShape(s string, u units.Unit) (shape, error) {
	text := strings.ToLower(strings.TrimSpace(s))
	var o pack.Outline
	var err error
	if rest, ok := strings.CutPrefix(text, "corners"); ok || text != "" && strings.ContainsRune("0123456789.½¼¾⅛⅜⅝⅞⅓⅔", []rune(text)[0]) {
		o, err = parseCorners(strings.TrimLeft(rest, ": "), u)
	} else {
		o, err = parseSides(text, u)
	}
	if err != nil {
		return shape{}, err
	}
	if err := o.Validate(); err != nil {
		return shape{}, err
	}
	box := o.Box()
	if max(box.W, box.H) > maxShape {
		return shape{}, fmt.Errorf("it is more than %s long", maxShape.Format(u))
	}
	if o.Area() < units.AreaOf(max(box.W, box.H), u.Grid()) {
		return shape{}, fmt.Errorf("it is too thin to cut anything from")
	}
	return shape{o.Moved(-box.X, -box.Y), pack.Point{X: -box.X, Y: -box.Y}}, nil
}

func parseCorners(s string, u units.Unit) (pack.Outline, error) {
	var o pack.Outline
	parts := strings.Split(strings.TrimRight(s, "; "), ";")
	if len(parts) > pack.MostCorners {
		return nil, fmt.Errorf("%d corners are too many, the most is %d", len(parts), pack.MostCorners)
	}
	for i, part := range parts {
		along, across, ok := strings.Cut(strings.TrimSpace(part), ", ")
		if !ok {
			return nil, fmt.Errorf("corner %d: cannot read %q: write along the selvage, then across, like 12, 8 1/2", i+1, strings.TrimSpace(part))
		}
		y, err := units.Parse(along, u)
		if err != nil {
			return nil, fmt.Errorf("corner %d: %w", i+1, err)
		}
		x, err := units.Parse(across, u)
		if err != nil {
			return nil, fmt.Errorf("corner %d: %w", i+1, err)
		}
		o = append(o, pack.Point{X: x, Y: y})
	}
	return o, nil
}

// sideNames are the measures of a four-sided piece.
var sideNames = []string{"bottom", "right", "top", "left", "diagonal", "left height", "right height"}

// parseSides reads named measures, in any order.
func parseSides(s string, u units.Unit) (pack.Outline, error) {
	got := map[string]units.Length{}
	for part := range strings.SplitSeq(strings.ReplaceAll(strings.TrimRight(s, ",; "), ", ", ";"), ";") {
		part = strings.TrimSpace(part)
		at := strings.IndexFunc(part, func(r rune) bool { return !('a' <= r && r <= 'z' || r == ' ') })
		if at < 0 {
			at = len(part)
		}
		name := strings.Join(strings.Fields(part[:at]), " ")
		if !slices.Contains(sideNames, name) {
			hint := shapeForm
			if k, ok := near(name, sideNames); ok {
				hint = fmt.Sprintf("did you mean %q?", k)
			}
			return nil, fmt.Errorf("cannot read %.60q: %s", part, hint)
		}
		if _, twice := got[name]; twice {
			return nil, fmt.Errorf("%s stands twice: leave one of them out", name)
		}
		l, err := units.Parse(strings.TrimLeft(part[at:], ": "), u)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if l == 0 || l > maxShape {
			return nil, fmt.Errorf("%s: a side of %s is none", name, l.Format(u))
		}
		got[name] = l
	}
	forms := [][]string{{"bottom", "right", "top", "left", "diagonal"}, {"bottom", "top", "left height", "right height"}}
	form := forms[0]
	if got["left height"] > 0 || got["right height"] > 0 {
		form = forms[1]
	}
	for name := range got {
		if !slices.Contains(form, name) {
			return nil, fmt.Errorf("sides and heights do not go together: write %s, or %s", list(forms[0]), list(forms[1]))
		}
	}
	for _, name := range form {
		if got[name] == 0 {
			return nil, fmt.Errorf("%s is missing: write %s, or %s", name, list(forms[0]), list(forms[1]))
		}
	}
	if len(form) == 4 {
		return fromHeights(got["bottom"], got["top"], got["left height"], got["right height"], u)
	}
	return fromSides(got["bottom"], got["right"], got["top"], got["left"], got["diagonal"], u)
}

// list is "a, b and c".
func list(words []string) string {
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " and " + words[n]
}
