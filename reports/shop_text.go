package reports

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// shopColumns is how wide the list is on a screen: a phone's.
const shopColumns = 46

// WriteText writes the list for a narrow screen.
func (r *ShopReport) WriteText(w io.Writer) error {
	b := bufio.NewWriter(w)
	t := narrow{b}
	t.para("", r.Title)
	t.para("", r.Headline)
	for _, c := range r.Cards {
		r.cardText(t, c)
	}
	if r.Total != "" {
		fmt.Fprintln(b, strings.Repeat("-", shopColumns))
		t.sides("in all", r.Total)
		t.para("", r.Tax)
	}
	if r.Budget != nil {
		t.head("Budget")
		t.para("  ", r.Budget.Says)
		t.list(r.Budget.Buys)
		if len(r.Budget.Missing) > 0 {
			t.para("  ", "Then these are missing:")
			t.list(r.Budget.Missing)
		}
	}
	if len(r.Splits) > 0 {
		t.head("Which fabric for what")
		t.list(r.Splits)
	}
	if len(r.Changed) > 0 {
		t.head("What changes")
		t.list(r.Changed)
	}
	r.waysText(t)
	if len(r.Missing) > 0 {
		t.head("Missing")
		t.list(r.Missing)
	}
	if len(r.Warnings) > 0 {
		t.head("Mind")
		t.list(r.Warnings)
	}
	if notes := r.notes(); len(notes) > 0 {
		t.head("Good to know")
		t.list(notes)
	}
	if r.Stopped {
		fmt.Fprintln(b)
		t.para("", stoppedEarly)
	}
	return b.Flush()
}

const stoppedEarly = "The search was stopped early; this is the best found until then."

// spareNote explains the spares of the cards.
const spareNote = "spare: so many pieces of one size, and no other, may be cut wrong before one is missing: the plan's spares and what comes out of what is left; if planned, when that many spares are in the plan before the first cut"

func (r *ShopReport) notes() []string {
	var out []string
	if len(r.Sizes) > 0 {
		out = append(out, "sizes, along the selvage x across: "+strings.Join(r.Sizes, ", "))
	}
	for _, c := range r.Cards {
		if len(c.Spares) > 0 {
			out = append(out, spareNote)
			break
		}
	}
	return append(out, r.Notes...)
}

func (r *ShopReport) cardText(t narrow, c ShopCard) {
	t.head(c.Fabric)
	if len(c.Lines) == 0 {
		t.para("  ", "nothing to buy")
	}
	for _, l := range c.Lines {
		t.sides("[ ] "+l.Amount, l.Price)
		t.para("    ", l.Detail)
	}
	if len(c.Lines) > 1 && c.Price != "" {
		t.sides("    together", c.Price)
	}
	if c.Stash != "" {
		t.para("    ", "with "+c.Stash+" from the stash")
	}
	t.para("  ", c.Why)
	if c.Cheaper != nil {
		t.item("cheaper", c.Cheaper.Head()+": "+c.Cheaper.Says)
	}
	if c.Safer != nil {
		t.item("safer", c.Safer.Head()+": "+c.Safer.Says)
	}
	for _, h := range c.Holds {
		t.para("  ", h)
	}
	t.item("spare", c.spares())
}

// spares lists how many of each size may be cut wrong, and of how many that is
// more when it is planned for.
func (c ShopCard) spares() string {
	var now, planned []string
	for _, s := range c.Spares {
		now = append(now, thousands(int64(s.Count))+" "+s.Letter)
		if s.Room > 0 {
			planned = append(planned, thousands(int64(s.Room))+" "+s.Letter)
		}
	}
	text := strings.Join(now, ", ")
	if len(planned) > 0 {
		text += "; if planned: " + strings.Join(planned, ", ")
	}
	return text
}

// waysText sets the ways in columns, the bounds below the prices; in lines where
// the amounts are too wide for that.
func (r *ShopReport) waysText(t narrow) {
	if len(r.Ways.Rows) == 0 {
		return
	}
	t.head("Ways to buy")
	if r.Ways.fits() {
		t.columns(r.Ways.Heads)
	}
	for _, row := range r.Ways.Rows {
		t.para("", row.Fabric)
		costs, bounds := make([]string, len(row.Cells)), make([]string, len(row.Cells))
		for i, c := range row.Cells {
			costs[i], bounds[i] = c.Cost, c.Bound
		}
		r.Ways.lines(t, costs, bounds)
	}
	if strings.Join(r.Ways.Totals, "") != "" {
		totals := make([]string, len(r.Ways.Totals))
		for i, s := range r.Ways.Totals {
			if totals[i] = s; s == "" {
				totals[i] = "-"
			}
		}
		t.para("", "in all")
		r.Ways.lines(t, totals, nil)
	}
	t.list(r.Ways.Legends)
}

// fits tells whether every cell fits a column.
func (w WayTable) fits() bool {
	width := shopColumns/max(1, len(w.Heads)) - 1
	wide := func(s string) bool { return utf8.RuneCountInString(s) > width }
	for _, row := range w.Rows {
		for _, c := range row.Cells {
			if wide(c.Cost) || wide(c.Bound) {
				return false
			}
		}
	}
	return !slices.ContainsFunc(w.Totals, wide)
}

// lines sets the cells of one row.
func (w WayTable) lines(t narrow, costs, bounds []string) {
	if w.fits() {
		t.columns(costs)
		t.columns(bounds)
		return
	}
	for i, s := range costs {
		if bounds != nil {
			s = joined(", ", s, bounds[i])
		}
		t.sides("  "+w.Heads[i], s)
	}
}

// glued keeps a number together with its fraction and its unit or letter, and a
// size in one piece, when lines are broken.
func glued(s string) string {
	s = fraction.ReplaceAllString(s, "$1\x00$2")
	s = cross.ReplaceAllString(s, "$1\x00x\x00$2")
	return unit.ReplaceAllString(s, "$1\x00$2")
}

var (
	fraction = regexp.MustCompile(`(\d) (\d+/\d+)`)
	cross    = regexp.MustCompile(`(\d) x (\d)`)
	unit     = regexp.MustCompile(`(\d) (in|cm|yd|m|[A-Z]{1,2})\b`)
)

// narrow writes paragraphs of a phone's width.
type narrow struct{ w io.Writer }

func (t narrow) head(s string) {
	fmt.Fprintln(t.w)
	t.para("", s)
}

// para breaks a text into lines behind an indent.
func (t narrow) para(indent, s string) {
	line := ""
	for word := range strings.FieldsSeq(glued(s)) {
		word = strings.ReplaceAll(word, "\x00", " ")
		if line != "" && utf8.RuneCountInString(indent+line+" "+word) > shopColumns {
			fmt.Fprintln(t.w, indent+line)
			line = word
			continue
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		fmt.Fprintln(t.w, indent+line)
	}
}

func (t narrow) list(texts []string) {
	for _, s := range texts {
		t.item("", s)
	}
}

// item sets a paragraph that starts with a word and hangs below its start.
func (t narrow) item(word, s string) {
	if s == "" {
		return
	}
	if word != "" {
		s = word + ": " + s
	}
	var b strings.Builder
	narrow{&b}.para("    ", s)
	fmt.Fprint(t.w, "  "+strings.TrimPrefix(b.String(), "    "))
}

// sides sets two texts at the two margins, on two lines if they do not fit one.
func (t narrow) sides(left, right string) {
	gap := shopColumns - utf8.RuneCountInString(left) - utf8.RuneCountInString(right)
	if right != "" && gap < 2 {
		t.para("", left)
		left, gap = "", shopColumns-utf8.RuneCountInString(right)
	}
	if right == "" {
		t.para("", left)
		return
	}
	fmt.Fprintln(t.w, left+strings.Repeat(" ", max(gap, 1))+right)
}

// columns sets texts flush right in equal columns.
func (t narrow) columns(texts []string) {
	width := shopColumns / max(1, len(texts))
	var b strings.Builder
	for _, s := range texts {
		b.WriteString(strings.Repeat(" ", max(1, width-utf8.RuneCountInString(s))) + s)
	}
	if s := strings.TrimRight(b.String(), " "); s != "" {
		fmt.Fprintln(t.w, s)
	}
}
