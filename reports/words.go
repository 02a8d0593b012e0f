package reports

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"pinfold/units"
)

// plain makes a name printable on one line: invalid bytes become U+FFFD, runs of
// spaces and control characters one space, and the marks that reorder text are
// dropped, since they could make one line read as another.
func plain(s string) string {
	var b strings.Builder
	space := false
	for _, r := range s {
		switch {
		case r == utf8.RuneError:
			r = '\ufffd'
		case unicode.IsSpace(r) || unicode.IsControl(r):
			space = true
			continue
		case unicode.Is(unicode.Bidi_Control, r):
			continue
		}
		if space && b.Len() > 0 {
			b.WriteByte(' ')
		}
		space = false
		b.WriteRune(r)
	}
	return b.String()
}

// counted is "1 ornament" or "3 ornaments".
func counted(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return thousands(int64(n)) + " " + one + "s"
}

// thousands writes 12345 as "12,345".
func thousands(n int64) string { return units.Grouped(n) }

// money writes an amount in the smallest coin with its sign, "$12.50"; a blank
// after the sign is kept.
func money(sign string, coins int64) string {
	blank := ""
	if strings.HasSuffix(sign, " ") {
		blank = " "
	}
	return fmt.Sprintf("%s%s%s.%02d", plain(sign), blank, thousands(coins/100), coins%100)
}

// percent is 100 part / whole with one decimal; 0 of nothing is 0.
func percent(part, whole units.Area) float64 {
	if whole == 0 {
		return 0
	}
	return 100 * float64(part) / float64(whole)
}

// list joins words as a sentence does: "a", "a and b", "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
