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

// numbersOf lists sheets in words: "sheet 3", "sheets 1, 2 and 6".
func numbersOf(sheets []int) string {
	words := make([]string, len(sheets))
	for i, n := range sheets {
		words[i] = fmt.Sprint(n)
	}
	if len(words) == 1 {
		return "sheet " + words[0]
	}
	return "sheets " + list(words)
}

// cutPages sets the sheets of every bench and then what is cut off them, in the
// order of the steps; sheets that need no step come last.
func (b *book) cutPages() {
	set := map[int]bool{}
	for _, g := range b.r.cutGroups() {
		for _, n := range g.sheets {
			b.cutSheet(&b.r.Sheets[n-1], g)
			set[n] = true
		}
		b.strips(g)
	}
	for i := range b.r.Sheets {
		if !set[i+1] {
			b.cutSheet(&b.r.Sheets[i], bench{})
		}
	}
}

// strips sets the parts of a bench: each with its picture and its steps.
func (b *book) strips(g bench) {
	if len(g.chains) == 0 {
		return
	}
	title := "Strips of " + numbersOf(g.sheets)
	if first := b.stripHeight(g.chains[0]); len(g.sheets) == 1 && b.room() > first+40*point {
		b.running = title
		b.heading("Strips", first)
	} else {
		b.open(title, title)
		b.line("STRIPS", Font{Size: 8 * point, Bold: true, Colour: harbor})
		b.y += 3 * point
		for _, l := range wrap("Of "+numbersOf(g.sheets), Font{Size: 18 * point, Bold: true, Colour: ink}, b.width(), 0) {
			b.line(l, Font{Size: 18 * point, Bold: true, Colour: ink})
		}
		b.y += 2 * point
		b.page().line(b.left(), b.y, b.right(), b.y, pen(harbor, point))
		b.y += 4 * point
	}
	if len(g.sheets) > 1 {
		b.paragraph("Equal strips of these sheets lie in one stack. Keep strips of one letter together until all of them are cut off.", Font{Size: 9 * point, Colour: soft})
	}
	for _, c := range g.chains {
		b.strip(c)
	}
}

const stripHead = 10 * point // above a part

// stripHeight is the room a part takes with its first step.
func (b *book) stripHeight(chain []int) units.Length {
	st := &b.r.Steps[chain[0]-1]
	_, head := b.stripWords(st)
	d := b.r.stripDiagram(chain)
	return stripHead + max(head, d.H) + 6*point + b.block(st).height
}

// stripWords tells what a part is and how many there are.
func (b *book) stripWords(st *Step) ([]word, units.Length) {
	text := Font{Size: 19 * point / 2, Colour: ink}
	runs := []run{
		{capital(st.Name), Font{Size: 15 * point, Bold: true, Colour: ink}, false},
		{sizeSaid(st.Size, st.unit), Font{Size: 12 * point, Bold: true, Colour: ink}, true},
		{b.say(fmt.Sprintf("%s: %s", thousands(int64(st.Count)), st.Words.Cloth)), text, true},
	}
	return flow(runs, stripWide)
}

// stripWide is the width of the words beside a part's picture.
const stripWide = 150 * point

func (b *book) strip(chain []int) {
	b.need(b.stripHeight(chain))
	b.y += stripHead
	st := &b.r.Steps[chain[0]-1]
	words, head := b.stripWords(st)
	d := b.r.stripDiagram(chain)
	page := b.page()
	for _, w := range words {
		page.text(b.left()+w.x, b.y+w.y, w.text, w.font)
	}
	page.place(b.right()-d.W, b.y, d)
	b.y += max(head, d.H) + 6*point
	page.line(b.left(), b.y, b.right(), b.y, pen(soft, point/2))
	for _, n := range chain {
		b.step(&b.r.Steps[n-1])
	}
	b.y += 4 * point
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

// labelOf is what a picture writes on outputs of one place: their names, each
// once.
func labelOf(outs []Output) string {
	var names []string
	for _, o := range outs {
		name := o.Name
		switch {
		case o.Kind == WasteOut:
			continue
		case o.Kind == PartOut && o.Letter != "":
			name = o.Letter
		case o.Kind == PartOut:
			name = ""
		}
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}
