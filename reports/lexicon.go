package reports

import (
	"fmt"
	"strings"
	"unicode"
)

// lexicon keeps what the embedded fonts cannot draw. Such characters are printed
// as numbers in brackets, "[1]", and listed in a legend; neighbours share a
// number, and so does the same run wherever it stands again.
type lexicon struct {
	number map[string]int
	runs   []string
}

// say returns the text with only characters that both faces have.
func (l *lexicon) say(s string) string {
	var b, lost strings.Builder
	flush := func() {
		if lost.Len() > 0 {
			fmt.Fprintf(&b, "[%d]", l.of(lost.String()))
			lost.Reset()
		}
	}
	for _, r := range s {
		if regular().has(r) && bold().has(r) {
			flush()
			b.WriteRune(r)
		} else {
			lost.WriteRune(r)
		}
	}
	flush()
	return b.String()
}

func (l *lexicon) of(run string) int {
	n, ok := l.number[run]
	if !ok {
		if l.number == nil {
			l.number = map[string]int{}
		}
		l.runs = append(l.runs, run)
		n = len(l.runs)
		l.number[run] = n
	}
	return n
}

// mostPoints is how many code points of a run the legend spells out.
const mostPoints = 12

// legend explains each number by code points and the script they belong to.
func (l *lexicon) legend() []string {
	out := make([]string, len(l.runs))
	for i, run := range l.runs {
		var points []string
		script := ""
		for _, r := range run {
			if len(points) == mostPoints {
				points = append(points, "...")
				break
			}
			points = append(points, fmt.Sprintf("U+%04X", r))
			if script == "" {
				script = scriptOf(r)
			}
		}
		out[i] = fmt.Sprintf("[%d] stands for %s", i+1, strings.Join(points, " "))
		if script != "" {
			out[i] += " (" + script + ")"
		}
	}
	return out
}

// scriptOf names the script of a letter, or says that it is a symbol.
func scriptOf(r rune) string {
	if unicode.IsSymbol(r) {
		return "symbol"
	}
	for name, table := range unicode.Scripts {
		// Every character belongs to one script, so the order does not matter.
		if name != "Common" && name != "Inherited" && unicode.Is(table, r) {
			return strings.ReplaceAll(name, "_", " ")
		}
	}
	return ""
}
