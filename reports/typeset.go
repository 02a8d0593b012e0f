package reports

import (
	"regexp"
	"strings"

	"pinfold/units"
)

const ellipsis = "..."

// fit shortens a text to a width.
func fit(s string, f Font, w units.Length) string {
	if f.width(s) <= w {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 && f.width(string(runes)+ellipsis) > w {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimRight(string(runes), " ") + ellipsis
}

// wrap breaks a text into lines no wider than w, at spaces where it can; what
// exceeds the most lines is cut off with an ellipsis. 0 is no limit.
func wrap(s string, f Font, w units.Length, most int) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(s) {
		for f.width(word) > w {
			// A word wider than the line is broken where the line is full.
			if line != "" {
				lines, line = append(lines, line), ""
			}
			n := 0
			for i := range word {
				if i > 0 && f.width(word[:i]) > w {
					break
				}
				n = i
			}
			if n == 0 {
				break
			}
			lines, word = append(lines, word[:n]), word[n:]
		}
		switch {
		case line == "":
			line = word
		case f.width(line+" "+word) <= w:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	if most > 0 && len(lines) > most {
		lines[most-1] = fit(lines[most-1]+" "+lines[most], f, w)
		if !strings.HasSuffix(lines[most-1], ellipsis) {
			lines[most-1] = fit(lines[most-1]+" "+strings.Repeat("m", 200), f, w)
		}
		lines = lines[:most]
	}
	return lines
}

// typeset turns the fractions and the x of our own wording into their printed
// signs: "2 1/2 x 4 in" becomes "2½ × 4 in".
func typeset(s string) string {
	s = strings.ReplaceAll(s, " x ", " × ")
	return part.ReplaceAllStringFunc(s, func(m string) string {
		at := part.FindStringSubmatch(m)
		before := at[1]
		if before != "" && before[0] >= '0' && before[0] <= '9' {
			before = before[:1] // a whole number stands close to its fraction
		}
		return before + printed[at[2]] + " "
	})
}

var part = regexp.MustCompile(`(^|\S )(1/2|[13]/4|[1357]/8) `)

var printed = map[string]string{"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}
