package plan

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Name returns a name as plans, stashes and commands hold it against others, so
// that names are the same where they look the same: without blanks around it, with
// plain blanks for those that do not break a line, and with letters like é as one
// character, however they were typed.
func Name(s string) string {
	s = strings.Map(func(c rune) rune {
		switch c {
		case '\u00a0', '\u2007', '\u202f':
			return ' '
		}
		return c
	}, s)
	return norm.NFC.String(strings.TrimSpace(s))
}

// Near returns the one of known that a mistyped word was most likely meant to
// be, if any is near enough.
func Near(word string, known []string) (string, bool) { return near(word, known) }

// near returns the one of known that word was most likely meant to be: equal
// but for case, spaces, hyphens and underscores, or a few slips of the finger
// away. The first of equally near ones wins. Words with different digits are
// told apart on purpose and never near.
func near(word string, known []string) (string, bool) {
	w := plain(word)
	best, at := "", 1<<30
	for _, k := range known {
		p := plain(k)
		allowed := max(1, min(len(w), len(p))/3)
		if len(w)-len(p) > allowed || len(p)-len(w) > allowed {
			continue
		}
		d := slips(w, p)
		if d < at && d <= allowed && d < max(len(w), len(p)) && numbers(w) == numbers(p) {
			best, at = k, d
		}
	}
	return best, at < 1<<30
}

// meant is the hint for a word that is not among the known ones: the near one or
// one that goes on after it, else all of them when they are few.
func meant(word, what string, known []string) string {
	if k, ok := near(word, known); ok {
		return fmt.Sprintf("did you mean %q?", k)
	}
	for _, k := range known {
		if w := plain(word); len(w) > 2 && strings.HasPrefix(string(plain(k)), string(w)) {
			return fmt.Sprintf("did you mean %q?", k)
		}
	}
	switch {
	case len(known) == 0 || len(known) > 16:
		return ""
	case len(known) == 1 && strings.HasSuffix(what, " one of"):
		what = strings.TrimSuffix(what, " one of")
	}
	shown := make([]string, len(known))
	for i, k := range known {
		shown[i] = bare(k)
	}
	return what + " " + strings.Join(shown, ", ")
}

// bare returns a word as it is when it can stand in a list, else quoted.
func bare(s string) string {
	for _, c := range s {
		if !unicode.IsLetter(c) && !unicode.IsDigit(c) && !strings.ContainsRune(" -_/%", c) {
			return fmt.Sprintf("%q", s)
		}
	}
	if strings.TrimSpace(s) != s || s == "" {
		return fmt.Sprintf("%q", s)
	}
	return s
}

func plain(s string) []rune {
	var out []rune
	for _, c := range norm.NFKD.String(strings.ToLower(s)) {
		if !unicode.IsSpace(c) && !unicode.Is(unicode.Mn, c) && c != '-' && c != '_' {
			out = append(out, c)
		}
	}
	return out
}

// numbers returns the digits of a word, parted where they are apart.
func numbers(word []rune) string {
	return strings.Join(strings.FieldsFunc(string(word), func(c rune) bool { return !unicode.IsDigit(c) }), " ")
}

// longest word that is compared, so that no input costs time.
const maxCompared = 64

// slips counts the letters inserted, left out, replaced or swapped with their
// neighbour between a and b (optimal string alignment).
func slips(a, b []rune) int {
	a, b = a[:min(len(a), maxCompared)], b[:min(len(b), maxCompared)]
	var rows [3][maxCompared + 1]int
	before, last, row := &rows[0], &rows[1], &rows[2]
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row[0] = i + 1
		for j := range b {
			same := 1
			if a[i] == b[j] {
				same = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+same)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
