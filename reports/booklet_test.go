package reports

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// around sets the pages before and after the cut sheets, without those.
func around(t *testing.T, r *Report, p Paper) *book {
	t.Helper()
	var words lexicon
	var b *book
	for range 2 { // the legend of signs is known the second time
		b = &book{r: r, title: r.Title, paper: p.or(r.Unit), words: &words}
		b.front()
		b.back()
		b.feet()
	}
	return b
}

// textsApart fails where two texts of a page lie over each other.
func textsApart(t *testing.T, d *Drawing, page string) {
	t.Helper()
	type box struct {
		x1, y1, x2, y2 units.Length
		text           string
	}
	var boxes []box
	for _, m := range d.Marks {
		if m.Shape != TextShape || m.Text == "" {
			continue
		}
		w := m.Font.width(m.Text)
		x := m.X - w*units.Length(m.Font.Align)/2
		// Capitals and descenders of the embedded faces, nearly.
		if m.Font.Up {
			y := m.Y + w*units.Length(m.Font.Align)/2
			boxes = append(boxes, box{m.X - m.Font.Size*7/10, y - w, m.X + m.Font.Size/5, y, m.Text})
			continue
		}
		boxes = append(boxes, box{x, m.Y - m.Font.Size*7/10, x + w, m.Y + m.Font.Size/5, m.Text})
	}
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			if a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2 {
				t.Errorf("%s: %q lies over %q", page, a.text, b.text)
			}
		}
	}
}

func TestBookletNothingOverlapsOrLeavesThePage(t *testing.T) {
	results := map[string]*plan.Result{"fair": fair(t), "unpriced": unpriced(t)}
	if !testing.Short() {
		results["demo"] = demo(t)
	}
	for _, name := range []string{strings.Repeat("W", 300), strings.Repeat("long name ", 30), "灯 <b>\"&'", "½"} {
		results[name] = renamed(t, name)
	}
	metric := fair(t)
	metric.Plan.Unit = units.Centimetres
	results["metric"] = metric
	reports := map[string]*Report{}
	for name, r := range results {
		reports[name] = New(r)
		// With so many sheets that those of little room share pages.
		many := New(r)
		for k := len(many.Sheets); k <= 2*manySheets; k++ {
			more := many.Sheets[len(reports[name].Sheets)-1]
			more.Number = k + 1
			many.Sheets = append(many.Sheets, more)
		}
		reports["many of "+name] = many
	}
	for name, rep := range reports {
		for _, p := range []Paper{Letter, A4} {
			b := around(t, rep, p)
			if len(rep.Sheets) > manySheets {
				b.pages, b.chapters, b.coming = nil, nil, ""
				b.cutPages()
				b.index()
				b.feet()
				require.True(t, slices.ContainsFunc(b.pages, func(p sheetOfPaper) bool { return len(p.sheets) > 1 }), name)
			}
			for i := range b.pages {
				d := &b.pages[i].Drawing
				inside(t, d)
				textsApart(t, d, fmt.Sprintf("%.20s, page %d", name, i+1))
				for _, m := range d.Marks {
					assert.False(t, m.Shape == TextShape && m.Y > p.H-pageFoot && m.Y != p.H-26*point, "%q lies in the foot", m.Text)
				}
			}
		}
	}
}

func TestContentsAndBookmarks(t *testing.T) {
	rep := New(fair(t))
	var words lexicon
	pages := rep.set(Letter, &words)
	want := []string{"What to buy and to take out", "All pieces", "Before you cut", "Actual-size templates", "Cutting", "Sorting into bags", "Bag labels", "Planning sheets", "What will be left"}
	begins := map[string]int{}
	var got []string
	for i, p := range pages {
		for _, c := range p.chapters {
			got = append(got, c.title)
			begins[c.title] = i + 1
		}
		assert.Equal(t, i > 0 && p.bookmark != "", p.nested && p.bookmark != "", "but the cover's, bookmarks stand below a chapter")
	}
	assert.Equal(t, want, got)
	// The cover prints the page of each.
	for _, title := range want {
		at := slices.IndexFunc(pages[0].Marks, func(m Mark) bool { return m.Text == title })
		require.Positive(t, at, title)
		assert.Equal(t, fmt.Sprint(begins[title]), pages[0].Marks[at+2].Text)
		assert.Equal(t, pages[0].Marks[at].Y, pages[0].Marks[at+2].Y)
	}
	// And the file's own list of contents holds them.
	check := tool(t, "qpdf")
	file := filepath.Join(t.TempDir(), "plan.pdf")
	require.NoError(t, os.WriteFile(file, pdfOf(t, rep, Letter), 0o600))
	out, err := exec.Command(check, "--json", "--json-key=outlines", file).Output()
	require.NoError(t, err)
	for _, title := range append(want, "harbour star, outlines", "Lantern fair") {
		assert.Contains(t, string(out), fmt.Sprintf("%q", title))
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	fonts := tool(t, "pdffonts")
	file := filepath.Join(t.TempDir(), "plan.pdf")
	require.NoError(t, os.WriteFile(file, pdfOf(t, New(fair(t)), Letter), 0o600))
	out, err := exec.Command(fonts, file).CombinedOutput()
	require.NoError(t, err, "%s", out)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")[2:]
	require.Len(t, lines, 2, "the regular and the bold face")
	for _, l := range lines {
		columns := strings.Fields(l)
		tail := columns[len(columns)-5:] // embedded, subset, with Unicode, and the object
		assert.Equal(t, "yes", tail[0], l)
		assert.Equal(t, "yes", tail[2], l)
	}
}

// Templates and the square to check the printer are drawn at their own size, in
// the drawing to the tick and in the PDF to its hundredth of a point.
func TestTemplatesAreActualSize(t *testing.T) {
	r := fair(t)
	rep := New(r)
	b := &book{r: rep, title: rep.Title, paper: Letter, words: &lexicon{}}
	b.templates()
	drawn := map[units.Size]int{}
	for _, p := range b.pages {
		for _, m := range p.Marks {
			if m.Shape == RectShape && m.Style.Stroke == ink {
				drawn[units.Size{Along: m.Y2 - m.Y, Across: m.X2 - m.X}]++
			}
		}
	}
	half := in / 2
	assert.Equal(t, map[units.Size]int{
		{Along: 2 * in, Across: 2 * in}:     1, // the square
		{Along: 5 * half, Across: 5 * half}: 1, // A
		{Along: 2 * in, Across: 3 * in}:     1, // C
	}, drawn, "the band is longer than the page is wide or high")
	all := fmt.Sprint(texts(b))
	assert.Contains(t, all, "Too large for this paper")
	assert.Contains(t, all, "B (1¾ × 10½ in)")

	qdf := tool(t, "qpdf")
	var pdf bytes.Buffer
	require.NoError(t, printPDF(&pdf, "templates", b.pages))
	file := filepath.Join(t.TempDir(), "templates.pdf")
	require.NoError(t, os.WriteFile(file, pdf.Bytes(), 0o600))
	out, err := exec.Command(qdf, "--qdf", "--object-streams=disable", file, "-").Output()
	require.NoError(t, err)
	for _, want := range []string{" 144.00 -144.00 re", " 180.00 -180.00 re", " 216.00 -144.00 re"} {
		assert.Equal(t, 1, strings.Count(string(out), want), want)
	}

	metric := fair(t)
	metric.Plan.Unit = units.Centimetres
	rep = New(metric)
	b = &book{r: rep, title: rep.Title, paper: A4, words: &lexicon{}}
	b.templates()
	square := b.pages[0].Marks[slices.IndexFunc(b.pages[0].Marks, func(m Mark) bool { return m.Shape == RectShape })]
	assert.Equal(t, 5*units.Centimetre, square.X2-square.X)
	assert.Equal(t, 5*units.Centimetre, square.Y2-square.Y)
}

// texts lists all texts of a book.
func texts(b *book) []string {
	var out []string
	for _, p := range b.pages {
		for _, m := range p.Marks {
			if m.Shape == TextShape {
				out = append(out, m.Text)
			}
		}
	}
	return out
}

// Each bag has a label while that is a few pages; else each kind of bag.
func TestBagLabels(t *testing.T) {
	for stars, want := range map[int]int{1: 5, 6: 10, mostLabels - 4: mostLabels, mostLabels - 3: 2, 500_000: 2} {
		r := fair(t)
		r.Plan.Make[0].Count = stars
		rep := New(r)
		b := &book{r: rep, title: rep.Title, paper: Letter, words: &lexicon{}}
		b.bagLabels(groupBags(r.Plan, r.Plan.Bags(r.Gathered)))
		labels := 0
		for _, s := range texts(b) {
			if strings.HasPrefix(s, "bag ") {
				labels++
			}
		}
		assert.Equal(t, want, labels, stars)
		assert.LessOrEqual(t, len(b.pages), 8)
	}
}

func TestBagLabelSaysWhatLiesInIt(t *testing.T) {
	r := fair(t)
	rep := New(r)
	b := &book{r: rep, title: rep.Title, paper: Letter, words: &lexicon{}}
	groups := groupBags(r.Plan, r.Plan.Bags(r.Gathered))
	d := b.label(groups[0], 250*point, "bag 1 of 6")
	var got []string
	for _, m := range d.Marks {
		if m.Shape == TextShape {
			got = append(got, m.Text)
		}
	}
	assert.Equal(t, []string{"bag 1 of 6", "harbour star", "ground night water", "3 in ball",
		"18", "A", "2½ × 2½ in", "night water", "1", "B", "1¾ × 10½ in, band", "night water"}, got)
}

// Many orders and ornaments leave the booklet around the cut sheets bounded: a
// sorting list of a few lines for each kind, and at most 40 planning sheets of
// each sort.
func TestBookletPagesAreBounded(t *testing.T) {
	r := fair(t)
	p := r.Plan
	p.Ornaments, p.Make = p.Ornaments[:1], p.Make[:1]
	first := p.Ornaments[0]
	for i := range 499 {
		o := first
		o.Name = fmt.Sprintf("star %d", i)
		p.Ornaments = append(p.Ornaments, o)
		order := p.Make[0]
		order.Ornament, order.Count = o.Name, 1
		p.Make = append(p.Make, order)
	}
	rep := New(r)
	b := around(t, rep, Letter)
	page := map[string]int{}
	for _, c := range b.chapters {
		page[c.title] = c.page
	}
	assert.LessOrEqual(t, page["Bag labels"]-page["Sorting into bags"], 500/4, "four kinds a page and more")
	assert.LessOrEqual(t, page["Planning sheets"]-page["Bag labels"], 500/8)
	assert.Equal(t, 2*mostSheets, page["What will be left"]-page["Planning sheets"])
	all := fmt.Sprint(texts(b))
	assert.Contains(t, all, "pinfold face draws all")

	// And equal bags of several orders are one kind.
	for i := range p.Make {
		p.Make[i].Ornament = first.Name
	}
	groups := groupBags(p, p.Bags(r.Gathered))
	require.Len(t, groups, 1)
	assert.Equal(t, 505, groups[0].count)
}

func TestLeftovers(t *testing.T) {
	rect := func(w, h units.Length) pack.Rect { return pack.Rect{W: w, H: h} }
	got := leftOf([]Sheet{
		{Number: 3, Cloth: "fat quarter", Copies: 2, Offcuts: []Offcut{{"K1", rect(2*in, 3*in)}, {"K2", rect(4*in, 9*in)}, {"K3", rect(2*in, 3*in)}}},
		{Number: 4, Cloth: "stash piece S1", Copies: 1, Offcuts: []Offcut{{"K4", rect(4*in, 9*in)}, {"K5", rect(9*in, 4*in)}}},
	})
	assert.Equal(t, []left{
		{units.Size{Along: 9 * in, Across: 4 * in}, 3, []string{"K2 (× 2)", "K4"}, []string{"sheet 3, fat quarter", "sheet 4, stash piece S1"}},
		{units.Size{Along: 4 * in, Across: 9 * in}, 1, []string{"K5"}, []string{"sheet 4, stash piece S1"}},
		{units.Size{Along: 3 * in, Across: 2 * in}, 4, []string{"K1 (× 2)", "K3 (× 2)"}, []string{"sheet 3, fat quarter"}},
	}, got)
}

// A fabric's name never stands alone at the foot of a page: the head of its table
// follows on the same one.
func TestTallyKeepsNamesWithTheirTables(t *testing.T) {
	for extra := range 40 {
		r := fair(t)
		rep := New(r)
		one := rep.Fabrics[0]
		rep.Fabrics = nil
		for i := range 12 {
			f := one
			f.Name = fmt.Sprintf("fabric no. %d", i)
			rep.Fabrics = append(rep.Fabrics, f)
		}
		b := &book{r: rep, title: rep.Title, paper: Letter, words: &lexicon{}}
		b.open("", "")
		b.y += units.Length(extra) * 10 * point
		b.tally()
		for _, p := range b.pages {
			last := ""
			for _, m := range p.Marks {
				if m.Shape == TextShape {
					last = m.Text
				}
			}
			assert.NotContains(t, last, "turned", "a name and no table, %d points down", extra*10)
			assert.NotEqual(t, "from sheet (pieces)", last, "a head and no row")
		}
	}
}
