package reports

import (
	"slices"
	"strings"

	"pinfold/units"
)

// run is text in one font; a new line starts before it if it breaks.
type run struct {
	text   string
	font   Font
	breaks bool
}

// word is a word of a flow where it is set: below the flow's top, to the right of
// its left edge.
type word struct {
	x, y units.Length
	text string
	font Font
}

// flow sets runs as one text of a width, and returns its words and its height.
// Runs follow each other with a space between; lines lead by the larger font.
func flow(runs []run, w units.Length) (words []word, height units.Length) {
	var x, y, tallest units.Length
	first := 0 // of the line's words
	feed := func() {
		y += tallest * 5 / 4
		for i := first; i < len(words); i++ {
			words[i].y = y - tallest/4
		}
		first, x, tallest = len(words), 0, 0
	}
	for _, r := range runs {
		if r.breaks && x > 0 {
			feed()
		}
		space := r.font.width(" ")
		for _, text := range keptWhole(strings.Fields(r.text)) {
			parts := []string{text}
			if r.font.width(text) > w {
				parts = wrap(text, r.font, w, 0)
			}
			for _, part := range parts {
				long := r.font.width(part)
				if x > 0 && x+space+long > w {
					feed()
				}
				if x > 0 {
					x += space
				}
				words = append(words, word{x: x, text: part, font: r.font})
				x += long
				tallest = max(tallest, r.font.Size)
			}
		}
	}
	if x > 0 {
		feed()
	}
	return joinWords(words), y
}

// keptWhole joins words that must not part: a number stays with its noun, a unit with
// its number.
func keptWhole(words []string) []string {
	digit := func(s string) bool { return s[0] >= '0' && s[0] <= '9' }
	var out []string
	for i, w := range words {
		if i > 0 {
			before := words[i-1]
			noun := slices.Contains([]string{"step", "steps", "sheet", "sheets"}, before) && digit(w)
			about := before == "≈"
			unit := digit(before) && (strings.HasPrefix(w, "in") || strings.HasPrefix(w, "cm"))
			if noun || about || unit {
				out[len(out)-1] += " " + w
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

// joinWords makes one text of neighbours of one font and line, so that it can be
// searched and copied.
func joinWords(words []word) []word {
	var out []word
	for _, w := range words {
		if n := len(out); n > 0 && out[n-1].y == w.y && out[n-1].font == w.font {
			out[n-1].text += " " + w.text
		} else {
			out = append(out, w)
		}
	}
	return out
}
