package plan

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

const scrapForm = "write one like 6 x 9, 6 x 9 less 2 x 2 corner, or 4 1/2 x 11 x3"

var (
	lessWord   = regexp.MustCompile(`\s+less\s+`)
	andWord    = regexp.MustCompile(`\s+and\s+`)
	scrapCount = regexp.MustCompile(`(?s)^(.*[^x\s].*?)\s*x\s*(\d+)$`)
	lessPart   = regexp.MustCompile(`(?s)^(?:(missing corner|missing|corner|hole|stain)\s+)?(.*?)(?:\s+(corner|hole|stain))?(?:\s+at\s+(.*))?$`)
)

// ParseScrap reads a scrap as it is said in a line: a size, what is not there of it,
// and how many there are. "6 x 9 less 2 x 2 corner" lacks its top right corner; which
// one makes no difference to what can be cut, so long as the cloth may be laid with
// that corner there. Else the place is written: "6 x 9 less 2 x 2 at bottom left and
// 1 x 1 hole at 3 up 4 right". Sizes are along the selvage x across and rounded down,
// what is missing up. Only Size, Count and Bad are set.
func ParseScrap(s string, u units.Unit) (StashPiece, error) {
	p := StashPiece{Count: 1}
	text := strings.NewReplacer("X", "x", "×", "x").Replace(strings.TrimSpace(s))
	text = strings.ToLower(text)
	sizes := lessWord.Split(text, -1)
	if len(sizes) > 2 {
		return p, fmt.Errorf("%.60q says less twice: part what is missing with and", s)
	}
	last := &sizes[len(sizes)-1]
	if m := scrapCount.FindStringSubmatch(*last); m != nil && countedBefore(m[1]) {
		n, err := whole(m[2], 1, maxCopies)
		if err != nil {
			return p, fmt.Errorf("how many in %.60q: %w", s, err)
		}
		*last, p.Count = m[1], n
	}
	var err error
	if p.Size, err = units.ParseSizeRounded(sizes[0], u, units.Down); err != nil {
		return p, fmt.Errorf("%w; %s", err, scrapForm)
	}
	if len(sizes) == 1 {
		return p, nil
	}
	p.Bad, err = lessAreas(sizes[1], p.Size, u)
	return p, err
}

// countedBefore tells whether the text before an x and a number is whole by itself,
// so that they are a count: it ends in a word, or its last area has its x.
func countedBefore(s string) bool {
	all := andWord.Split(s, -1)
	s = all[len(all)-1]
	m := lessPart.FindStringSubmatch(s)
	return strings.Contains(m[2], "x")
}

// lessAreas reads what a scrap lacks.
func lessAreas(s string, of units.Size, u units.Unit) ([]Bad, error) {
	var out []Bad
	unplaced := 0
	for _, part := range andWord.Split(s, -1) {
		m := lessPart.FindStringSubmatch(strings.TrimSpace(part))
		word := m[1] + m[3]
		what := "missing"
		if i := slices.IndexFunc(badKinds, func(k struct{ word, means string }) bool { return k.word == word }); i >= 0 {
			what = badKinds[i].means
		}
		place := m[4]
		if place == "" {
			if what != "missing" {
				return nil, fmt.Errorf("%q does not say where: write one like 1 x 1 %s at 3 up 4 right", part, what)
			}
			unplaced++
			place = "top right"
		}
		if unplaced > 1 {
			return nil, fmt.Errorf("%q does not say which corner: write one like 2 x 2 at top left", part)
		}
		b, err := badArea(what+" "+m[2]+" at "+place, of, pack.Point{}, u)
		if err != nil {
			return nil, err
		}
		if b.outside(of) {
			return nil, fmt.Errorf("%q lies outside a piece of %s", part, of.Format(u))
		}
		out = append(out, b)
	}
	if len(out) > maxBad {
		return nil, fmt.Errorf("%d bad areas are too many, the most is %d", len(out), maxBad)
	}
	return out, nil
}
