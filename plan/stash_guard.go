package plan

import "strings"

// Formulas are the signs by which a spreadsheet takes a text for a formula, the wide
// ones in some languages, and the one by which a stash file takes it for a comment.
const Formulas = "=+-@\t\r\n＝＋－＠#"

// Comments is what is guarded where cells say by themselves whether they are
// formulas, as in a workbook.
const Comments = "#"

// Guard puts an apostrophe before a text that starts with one of the signs, and
// where semicolons or tabs would part it for a spreadsheet, before every such part;
// and another one where there is one already, so that [Unguard] gives the text back.
func Guard(s, signs string) string {
	var b strings.Builder
	start := true
	for i, c := range s {
		if start && guarded(s[i:], signs) {
			b.WriteByte('\'')
		}
		start = partEnds(c, start)
		b.WriteRune(c)
	}
	return b.String()
}

// Unguard takes the apostrophes of [Guard] away.
func Unguard(s, signs string) string {
	var b strings.Builder
	start := true
	for i, c := range s {
		if start && c == '\'' && guarded(s[i+1:], signs) {
			start = false
			// What follows is the text's own, whatever it looks like.
			continue
		}
		start = partEnds(c, start)
		b.WriteRune(c)
	}
	return b.String()
}

func partEnds(c rune, start bool) bool { return c == ';' || c == '\t' || start && c == ' ' }

// guarded tells whether a part begins with a sign, behind apostrophes or not.
func guarded(s, signs string) bool {
	s = strings.TrimLeft(s, "'")
	for _, c := range s {
		return strings.ContainsRune(signs, c)
	}
	return false
}
