package reports

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// bench is a group of sheets that are cut together: the steps of their whole
// cloths, and the chains of steps that cut one kind of part each.
type bench struct {
	sheets []int   // numbers
	whole  []int   // steps that cut whole cloths
	chains [][]int // steps of a part, the first of them named by its letter
}

// cutGroups parts the steps of the plan.
func (r *Report) cutGroups() []bench {
	var out []bench
	at := map[int]int{}    // of a bench's number
	chain := map[int]int{} // of a step: the index of its chain, -1 for whole cloths
	for _, st := range r.Steps {
		i, ok := at[st.Bench]
		if !ok {
			i = len(out)
			at[st.Bench] = i
			out = append(out, bench{})
		}
		b := &out[i]
		for _, f := range st.From {
			if !slices.Contains(b.sheets, f.Sheet) {
				b.sheets = append(b.sheets, f.Sheet)
			}
		}
		switch {
		case st.Letter != "":
			chain[st.Number] = len(b.chains)
			b.chains = append(b.chains, []int{st.Number})
		case st.After != 0 && chain[st.After] >= 0:
			c := chain[st.After]
			chain[st.Number] = c
			b.chains[c] = append(b.chains[c], st.Number)
		default:
			chain[st.Number] = -1
			b.whole = append(b.whole, st.Number)
		}
	}
	for i := range out {
		slices.Sort(out[i].sheets)
	}
	return out
}

// numbersOf lists sheets in words: "sheet 3", "sheets 1 to 4 and 6".
func numbersOf(sheets []int) string {
	words := ranges(sheets)
	if len(sheets) == 1 {
		return "sheet " + words[0]
	}
	return "sheets " + list(words)
}

// ranges words ascending numbers, three and more neighbours as one: "1 to 4", "6".
func ranges(numbers []int) []string {
	var words []string
	for from := 0; from < len(numbers); {
		to := from + 1
		for to < len(numbers) && numbers[to] == numbers[to-1]+1 {
			to++
		}
		if to-from < 3 {
			to = from + 1
			words = append(words, fmt.Sprint(numbers[from]))
		} else {
			words = append(words, fmt.Sprintf("%d to %d", numbers[from], numbers[to-1]))
		}
		from = to
	}
	return words
}

// cutPages sets the sheets of every bench and then what is cut off them, in the
// order of the steps; sheets that need no step come last.
func (b *book) cutPages() {
	set := map[int]bool{}
	var c sharedPage
	sheet := func(n int, g bench) {
		set[n] = true
		s := &b.r.Sheets[n-1]
		if card, ok := b.card(s, g); ok {
			c.place(b, card, s, g)
			return
		}
		c.end(b)
		b.cutSheet(s, g)
	}
	for _, g := range b.r.cutGroups() {
		for _, n := range g.sheets {
			sheet(n, g)
		}
		if len(g.chains) > 0 {
			c.end(b)
			b.strips(g)
		}
	}
	for i := range b.r.Sheets {
		if !set[i+1] {
			sheet(i+1, bench{})
		}
	}
	c.end(b)
}

// strips sets the parts of a bench: each with its picture and its steps.
func (b *book) strips(g bench) {
	if len(g.chains) == 0 {
		return
	}
	title := "Strips of " + numbersOf(g.sheets)
	note := "A picture shows the part as it lies for its cuts, the edge to measure from at the left, heavy."
	if len(g.sheets) > 1 {
		note = "Equal strips of these sheets lie in one stack: keep strips of one letter together until all of them are cut off. " + note
	}
	first := &b.r.Steps[g.chains[0][0]-1]
	top := b.block(first, b.r.stripDiagram(g.chains[0])).height
	if len(g.sheets) == 1 && b.room() > top+60*point {
		b.running = title
		b.heading("Strips", top+20*point)
	} else {
		b.open(title, title)
		b.line("STRIPS", Font{Size: 8 * point, Bold: true, Colour: harbor})
		b.y += 3 * point
		large := Font{Size: 18 * point, Bold: true, Colour: ink}
		for _, l := range wrap("Of "+numbersOf(g.sheets), large, b.width(), 0) {
			b.line(l, large)
		}
		b.y += 2 * point
		b.page().line(b.left(), b.y, b.right(), b.y, pen(harbor, point))
		b.y += 4 * point
	}
	b.paragraph(note, Font{Size: 8 * point, Colour: soft})
	b.y += 3 * point
	var blocks []stepBlock
	for _, c := range g.chains {
		for i, n := range c {
			var picture *Drawing
			if i == 0 {
				picture = b.r.stripDiagram(c)
			}
			blocks = append(blocks, b.block(&b.r.Steps[n-1], picture))
		}
	}
	b.steps(blocks)
}

// stripsHeight is how much room the parts of a bench take on one page.
func (b *book) stripsHeight(g bench) units.Length {
	sum := units.Length(0)
	for _, c := range g.chains {
		sum += b.block(&b.r.Steps[c[0]-1], b.r.stripDiagram(c)).height + b.stepsHeight(c[1:])
	}
	return sum
}

// footWords tells at the foot of a page, in one line, which sheets are cut together;
// where they are too many for that, the head of their strips has them all.
func (g bench) footWords(f Font, w units.Length) string {
	s := "All of " + numbersOf(g.sheets) + " are cut together: equal strips lie in one stack."
	if f.width(s) > w {
		s = "These sheets are cut together with others: equal strips lie in one stack, whose page names all."
	}
	return s
}

// togetherWords tells which other sheets a sheet's strips are stacked with.
func (g bench) togetherWords(sheet int) string {
	var others []int
	for _, n := range g.sheets {
		if n != sheet {
			others = append(others, n)
		}
	}
	if len(others) == 0 {
		return ""
	}
	return "Cut together with " + numbersOf(others) + ": equal strips lie in one stack."
}

// labelOf is what a picture writes on outputs of one place: the name, or if they
// become different things, all names with their counts.
func labelOf(outs []Output) (label string, several bool) {
	var names []string
	count, kept := map[string]int{}, map[string]bool{}
	for _, o := range outs {
		name := o.Name
		kept[name] = o.Kind == OffcutOut
		switch {
		case o.Kind == WasteOut, o.Kind == PartOut && o.Letter == "":
			continue
		case o.Kind == PartOut:
			name = o.Letter
		}
		if count[name] == 0 {
			names = append(names, name)
		}
		count[name] += o.Count
	}
	if len(names) == 1 {
		return names[0], false
	}
	for i, n := range names {
		if !kept[n] || count[n] > 1 {
			names[i] = fmt.Sprintf("%d %s", count[n], n)
		}
	}
	return strings.Join(names, ", "), len(names) > 1
}
