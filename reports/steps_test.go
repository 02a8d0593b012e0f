package reports

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// Every cut is told: the cuts of each sheet's tree and its edges are the lines of
// its steps, once each, and the passes of all steps are those of the session.
func TestStepsTellEveryCut(t *testing.T) {
	for name, r := range map[string]*plan.Result{"fair": fair(t), "demo": demo(t)} {
		rep := New(r)
		passes := 0
		for i, st := range rep.Steps {
			assert.Equal(t, i+1, st.Number, name)
			passes += st.Passes
			own := st.Cuts * st.Lays * len(st.Heights)
			for _, trim := range st.Trims {
				own += trim.Passes
			}
			assert.Equal(t, st.Passes, own, "%s, step %d", name, st.Number)
			sum := 0
			for _, h := range st.Heights {
				sum += h
			}
			assert.Equal(t, st.Count, sum, "%s, step %d", name, st.Number)
		}
		assert.Equal(t, r.Passes, passes, name)
		for _, s := range rep.Sheets {
			assert.Len(t, s.Lines, s.Knife, s.Name())
			assert.True(t, slices.IsSorted(s.Steps))
			seen := map[Line]bool{}
			for _, l := range s.Lines {
				selvage := l.X1 == l.X2 && (l.X1 == 0 || l.X1 == s.W)
				assert.True(t, selvage || !seen[l.Line], "%s: %v twice", s.Name(), l)
				seen[l.Line] = true
				assert.Contains(t, s.Steps, l.Step)
			}
		}
	}
}

// A step uses only what earlier steps made, under the name they gave it.
func TestStepsAreInOrder(t *testing.T) {
	rep := New(demo(t))
	for _, st := range rep.Steps {
		for _, f := range st.From {
			assert.Less(t, f.Step, st.Number)
		}
		for _, o := range slices.Concat(st.Off, st.Rest) {
			if o.Kind != PartOut {
				continue
			}
			next := rep.Steps[o.Next-1]
			assert.Greater(t, o.Next, st.Number)
			assert.Equal(t, next.Name, o.Name)
			assert.Equal(t, next.Size, o.Size)
			assert.Equal(t, next.Bench, st.Bench)
		}
		if st.After > 0 {
			assert.Empty(t, st.Letter, "a rest keeps the name it had")
			assert.Equal(t, rep.Steps[st.After-1].Left > 0, st.Count > 0)
		}
	}
}

// A bench's whole cloths are cut up before any of their strips.
func TestWholeClothsComeFirst(t *testing.T) {
	rep := New(demo(t))
	for _, g := range rep.cutGroups() {
		for _, c := range g.chains {
			if len(g.whole) > 0 {
				assert.Greater(t, c[0], slices.Max(g.whole))
			}
		}
	}
}

func TestLettersOfParts(t *testing.T) {
	assert.Equal(t, []string{"a", "h", "j", "z", "aa", "az", "ba"},
		[]string{letters(0), letters(7), letters(8), letters(22), letters(23), letters(45), letters(46)})
	seen := map[string]bool{}
	for i := range 2000 {
		assert.False(t, seen[letters(i)])
		seen[letters(i)] = true
	}
}

func TestStacksAreEven(t *testing.T) {
	assert.Equal(t, []int{4, 3}, heights(7, 2))
	assert.Equal(t, []int{3, 3, 3}, heights(9, 3))
	assert.Equal(t, []int{1}, heights(1, 1))
}

func TestLayInWords(t *testing.T) {
	for want, l := range map[string]lay{
		"":                             {[]int{1}, 1, 1, 5 * in, Left},
		"One stack of 3.":              {[]int{3}, 1, 1, 5 * in, Left},
		"2 stacks: 4 + 3.":             {[]int{4, 3}, 1, 1, 5 * in, Left},
		"4 stacks: 3 of 4 and 1 of 3.": {[]int{4, 4, 4, 3}, 1, 1, 5 * in, Left},
		"One after the other.":         {[]int{1, 1}, 1, 1, 5 * in, Left},
		"Fold once, left edge onto right: 42 in is longer than the ruler.":                                       {[]int{1}, 2, 1, 42 * in, Bottom},
		"Fold each once, bottom edge onto top: 30 in is longer than the ruler. One stack of 2.":                  {[]int{2}, 2, 1, 30 * in, Left},
		"Fold twice, left edge onto right and fold onto edges: 90 in is longer than the ruler.":                  {[]int{1}, 4, 1, 90 * in, Bottom},
		"Lay the ruler twice along each cut: 40½ in is longer than the ruler. 2 stacks of 4.":                    {[]int{4, 4}, 1, 2, 81 * in / 2, Bottom},
		"Fold once, bottom edge onto top. Lay the ruler 3 times along each cut: 99 in is longer than the ruler.": {[]int{1}, 2, 3, 99 * in, Left},
	} {
		assert.Equal(t, want, l.say(units.Inches))
	}
}

func TestNumbersInWords(t *testing.T) {
	assert.Equal(t, "sheet 3", numbersOf([]int{3}))
	assert.Equal(t, "sheets 1, 2 and 6", numbersOf([]int{1, 2, 6}))
	assert.Equal(t, "sheets 1 to 4, 7 and 9 to 11", numbersOf([]int{1, 2, 3, 4, 7, 9, 10, 11}))
	assert.Equal(t, "steps 2, 3 and 12", stepNumbers([]int{12, 3, 2}))
}

// The measure of a piece is told exactly in the unit it was written in.
func TestMeasuresAreExact(t *testing.T) {
	number, unit := measureWords(6*units.Centimetre, units.Inches)
	assert.Equal(t, []string{"6 cm", ""}, []string{number, unit})
	number, unit = measureWords(5*in/2, units.Inches)
	assert.Equal(t, []string{"2½", "in"}, []string{number, unit})
	number, _ = measureWords(5*in/2+1, units.Inches)
	assert.Equal(t, "≈ 2½", number)
	assert.Equal(t, "a sliver", said(1, units.Inches))
}

// A print with a top is never folded or turned within a stack, and the steps say
// so.
func TestOneWayPrintsInSteps(t *testing.T) {
	r := fair(t)
	for i := range r.Fabrics {
		rules := &r.Fabrics[i].Problem.Rules
		rules.Ruler, rules.Flat = 12*in, i == 0
	}
	r.Arrange()
	rep := New(r)
	told := 0
	for _, st := range rep.Steps {
		if !st.OneWay {
			continue
		}
		assert.Equal(t, 1, st.Fold)
		for _, trim := range st.Trims {
			assert.Equal(t, 1, trim.Fold)
		}
		if st.Lays > 1 {
			assert.Contains(t, st.Words.Mind, "A print with a top is not folded.")
			told++
		}
		if st.Count > 1 {
			assert.Contains(t, st.Words.Mind, "All tops the same way.")
		}
	}
	assert.Positive(t, told)
}

// A scrap that is no rectangle is drawn with its edge, and its steps say how it
// lies.
func TestCrookedScrapInSteps(t *testing.T) {
	r := fair(t)
	f := &r.Fabrics[1]
	at := slices.IndexFunc(f.Solution.Layouts, func(l pack.Layout) bool { return l.Stock.Sheet == 0 })
	scrap := &f.Problem.Sheets[0]
	scrap.Squared, scrap.Bad = pack.Margins{}, nil
	scrap.W, scrap.H = f.Solution.Layouts[at].W, f.Solution.Layouts[at].H
	scrap.Outline = pack.Outline{{X: 0, Y: 0}, {X: scrap.W, Y: 0}, {X: scrap.W, Y: 13 * in / 2}, {X: 12 * in, Y: scrap.H}, {X: 0, Y: scrap.H}}
	r.Arrange()
	require.NoError(t, pack.Check(f.Problem, f.Solution))
	rep := New(r)
	s := rep.Sheets[2]
	first := rep.Steps[s.Steps[0]-1]
	assert.True(t, first.Crooked)
	assert.Contains(t, first.Words.Mind, "Lay the crooked edge as the diagram shows it, and measure where the diagram does.")
	d := newDiagram(&s, 5, s.raw())
	slanted := 0
	for _, m := range d.Marks {
		if m.Shape == LineShape && m.Style.Width == 9*point/4 && m.X != m.X2 && m.Y != m.Y2 {
			slanted++
		}
	}
	assert.Equal(t, 1, slanted, "one edge of five is slanted")
	onPaper(t, rep, Letter)
}

// Texts on the pages of cuts lie beside each other, never on each other.
func TestTextsDoNotOverlap(t *testing.T) {
	for name, r := range map[string]*plan.Result{"fair": fair(t), "demo": demo(t)} {
		rep := New(r)
		for _, p := range []Paper{Letter, A4} {
			b := &book{r: rep, title: rep.Title, paper: p, words: &lexicon{}}
			b.cutPages()
			require.NotEmpty(t, b.pages)
			for i := range b.pages {
				assert.Empty(t, overlap(&b.pages[i].Drawing), "%s on %s, page %d", name, p.Name, i+1)
			}
		}
	}
}

func TestOverlapsAreFound(t *testing.T) {
	var d Drawing
	d.text(in, in, "step 12", body(Start))
	d.text(2*in, in, "step 13", body(Start))
	assert.Empty(t, overlap(&d))
	d.text(in+in/8, in+in/32, "8", strong(Middle))
	assert.Equal(t, `"8" lies on "step 12"`, overlap(&d))
}

// overlap names the first two texts of a drawing that lie on each other.
func overlap(d *Drawing) string {
	type box struct {
		pack.Rect
		text string
	}
	var boxes []box
	for _, m := range d.Marks {
		if m.Shape != TextShape || m.Text == "" {
			continue
		}
		// Letters without ascenders and descenders stand closer than their boxes.
		w, h := m.Font.width(m.Text), m.Font.Size*7/10
		from := -w * units.Length(m.Font.Align) / 2
		r := pack.Rect{X: m.X + from, Y: m.Y - h, W: w, H: h}
		if m.Font.Up {
			r = pack.Rect{X: m.X - h, Y: m.Y - from - w, W: h, H: w}
		}
		for _, o := range boxes {
			if r.Meets(o.Rect) {
				return fmt.Sprintf("%q lies on %q", m.Text, o.text)
			}
		}
		boxes = append(boxes, box{r, m.Text})
	}
	return ""
}
