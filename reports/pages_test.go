package reports

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

func pdfOf(t *testing.T, r *Report, p Paper) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, r.WritePDF(&b, p))
	return b.Bytes()
}

// onPaper fails for every mark that leaves its page.
func onPaper(t *testing.T, r *Report, p Paper) int {
	t.Helper()
	var words lexicon
	r.set(p, &words)
	pages := r.set(p, &words)
	for i := range pages {
		inside(t, &pages[i].Drawing)
	}
	return len(pages)
}

func inside(t *testing.T, d *Drawing) {
	t.Helper()
	for _, m := range d.Marks {
		x1, y1, x2, y2 := min(m.X, m.X2), min(m.Y, m.Y2), max(m.X, m.X2), max(m.Y, m.Y2)
		switch m.Shape {
		case CircleShape:
			x1, y1, x2, y2 = m.X-m.R, m.Y-m.R, m.X+m.R, m.Y+m.R
		case TextShape:
			w := m.Font.width(m.Text)
			from := -w * units.Length(m.Font.Align) / 2
			x1, y1, x2, y2 = m.X+from, m.Y-m.Font.Size, m.X+from+w, m.Y
			if m.Font.Up {
				x1, y1, x2, y2 = m.X-m.Font.Size, m.Y-from-w, m.X, m.Y-from
			}
		}
		if x1 < 0 || y1 < 0 || x2 > d.W || y2 > d.H {
			t.Errorf("%+v leaves the paper of %v x %v points", m, pt(d.W), pt(d.H))
			return
		}
	}
}

func TestPDFIsTheSameTwiceAndAtOnce(t *testing.T) {
	rep := New(fair(t))
	first := pdfOf(t, rep, Letter)
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			var b bytes.Buffer
			assert.NoError(t, rep.WritePDF(&b, Letter))
			assert.True(t, bytes.Equal(first, b.Bytes()), "the bytes differ")
		})
	}
	wg.Wait()
	assert.NotEqual(t, first, pdfOf(t, rep, A4))
}

// tool finds a program that checks a file, or skips; CI must have it.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		require.NoError(t, err, "CI needs %s", name)
	}
	if err != nil {
		t.Skipf("%s is not installed", name)
	}
	return path
}

func TestPDFCanBeSearched(t *testing.T) {
	read, check := tool(t, "pdftotext"), tool(t, "qpdf")
	file := filepath.Join(t.TempDir(), "plan.pdf")
	r := fair(t)
	r.Plan.Cutting.KeepSizes = []units.Length{5 * in, 7 * in / 2, 5 * in / 2}
	require.NoError(t, os.WriteFile(file, pdfOf(t, New(r), Letter), 0o600))
	out, err := exec.Command(check, "--check", file).CombinedOutput()
	require.NoError(t, err, "%s", out)
	text, err := exec.Command(read, "-layout", file, "-").Output()
	require.NoError(t, err)
	for _, want := range []string{
		"Lantern fair", "3 fat quarters", "⅜ yd", "in all $14.06", "2½ × 2½ in", "10½", "cut 3 like this",
		"Scale 1 : ", "print: top up", "page 1 of", "Rotary cutter", "left over: 2",
	} {
		assert.Contains(t, string(text), want)
	}
	assert.Contains(t, strings.Join(strings.Fields(string(text)), " "), "Cut it into strips of 5 in, 3½ in and 2½ in, the widest first and as long as it is")
}

// renamed gives the fair names that are meant to break files.
func renamed(t *testing.T, name string) *plan.Result {
	r := fair(t)
	p := r.Plan
	for _, s := range []*string{&p.Title, &p.Money, &p.Ornaments[0].Name, &p.Make[0].Ornament, &p.Ornaments[0].Pieces[0].Name,
		&p.Stash[0].ID, &p.Stash[0].Where, &p.Stash[0].Note, &r.Gathered.Supplies[0].Name, &r.Warnings[0],
		&p.Fabrics[0].Name, &p.Make[0].Colourway[0].Fabric, &r.Fabrics[0].Need.Fabric, &r.Gathered.Fabrics[0].Fabric, &r.Shopping[0].Fabric,
		&r.Shopping[0].Offer.Name, &p.Fabrics[0].Buy[0].Name, &r.Fabrics[0].Need.Sizes[0].Uses[0].Ornament} {
		*s = name
	}
	return r
}

func TestHostileNames(t *testing.T) {
	for _, name := range []string{
		"=HYPERLINK(\"http://x\")", "+1", "-1", "@a", "\tx", "<script>alert(1)</script>&amp;'\"]]>",
		"灯笼の祭り 🏮\u200d🔥\ufe0f", "مهرجان الفوانيس", "a\r\nb\x00\x1b[31mred\u202edlo", "\xff\xfe bad \xc3", "\uffff\U0010ffff", "e\u0301 ⅓",
		strings.Repeat("long ", 80), strings.Repeat("W", 400), "(a) \\ %d {b} ) Tj", "",
	} {
		r := renamed(t, name)
		rep := New(r)
		onPaper(t, rep, Letter)
		pdf := pdfOf(t, rep, A4)
		if check, err := exec.LookPath("qpdf"); err == nil {
			cmd := exec.Command(check, "--check", "-")
			cmd.Args[2] = filepath.Join(t.TempDir(), "plan.pdf")
			require.NoError(t, os.WriteFile(cmd.Args[2], pdf, 0o600))
			out, err := cmd.CombinedOutput()
			assert.NoError(t, err, "%q: %s", name, out)
		}
		for i := range rep.Sheets {
			var b bytes.Buffer
			require.NoError(t, rep.WriteSVG(&b, i))
			wellFormed(t, b.Bytes())
			assert.NotContains(t, b.String(), "<script")
		}
		var b bytes.Buffer
		require.NoError(t, rep.WriteCSV(&b))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err, "%q", name)
		assert.Len(t, rows, 4)
		for _, row := range rows {
			for _, cell := range row {
				assert.False(t, cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])), "%q starts a formula", cell)
			}
		}
		b.Reset()
		require.NoError(t, rep.WriteJSON(&b))
		var doc struct{ Fabrics []struct{ Fabric string } }
		require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
		assert.Equal(t, strings.ToValidUTF8(name, "\ufffd"), strings.ReplaceAll(doc.Fabrics[0].Fabric, "\ufffd\ufffd", "\ufffd"))
		b.Reset()
		require.NoError(t, rep.WriteText(&b))
		assert.NotContains(t, b.String(), "\x1b", "no escape reaches the terminal")
	}
}

func wellFormed(t *testing.T, doc []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(doc))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
	}
}

func TestNothingLeavesThePaper(t *testing.T) {
	for name, r := range map[string]*plan.Result{"demo": demo(t), "fair": fair(t)} {
		rep := New(r)
		for _, p := range []Paper{Letter, A4} {
			assert.Positive(t, onPaper(t, rep, p), name)
		}
		for i := range rep.Sheets {
			inside(t, rep.Sheets[i].picture())
		}
	}
}

func TestEmptyPlan(t *testing.T) {
	rep := New(&plan.Result{Plan: &plan.Plan{}, Gathered: &plan.Gathered{}})
	assert.Equal(t, 1, onPaper(t, rep, Letter))
	pdfOf(t, rep, Paper{})
	var b bytes.Buffer
	require.NoError(t, rep.WriteText(&b))
	assert.Contains(t, b.String(), "Nothing to cut.")
	b.Reset()
	require.NoError(t, rep.WriteJSON(&b))
	var doc map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, []any{}, doc["fabrics"])
}

func TestMetricPlan(t *testing.T) {
	r := fair(t)
	r.Plan.Unit = units.Centimetres
	rep := New(r)
	var words lexicon
	pages := rep.set(Paper{}, &words)
	assert.Equal(t, A4.W, pages[0].W)
	assert.Equal(t, "6.35 × 6.35 cm", vulgarSize(rep.Fabrics[0].Tally[0].Size, rep.Unit)+unitAfter(rep.Fabrics[0].Tally[0].Size, rep.Unit))
	assert.Contains(t, rep.Sheets[0].Gives(), "40 A (6.35 × 6.35 cm)")
	assert.Equal(t, "≈ 52.7", rough(83*units.Inch/4, units.Centimetres))
	onPaper(t, rep, Paper{})
}

func TestShortPlanSaysWhatIsMissing(t *testing.T) {
	r := fair(t)
	f := &r.Fabrics[0]
	f.Solution.Layouts[0].Copies = 2
	f.Solution.Missing, f.Solution.Status = []int{40, 2}, pack.Short
	r.Arrange()
	rep := New(r)
	var b bytes.Buffer
	require.NoError(t, rep.WriteText(&b))
	assert.Contains(t, b.String(), "night water: 40 of 120 A (2 1/2 x 2 1/2 in) cannot be cut from the cloth there is")
	assert.Contains(t, b.String(), "on the layouts 180 + 42 missing: equal")
	b.Reset()
	require.NoError(t, rep.WriteJSON(&b))
	assert.Contains(t, b.String(), `"status":"short","price":{"value":650,"bound":null}`)
}

func TestManyLayoutsAndLongYardage(t *testing.T) {
	r := fair(t)
	f := &r.Fabrics[1]
	one := f.Solution.Layouts[1]
	for i := range 500 {
		l := one
		l.Cuts = cutAt(pack.Y, 0, []units.Length{2*in + units.Length(i)}, leaf(pack.WasteLeaf), leaf(pack.WasteLeaf))
		f.Solution.Layouts = append(f.Solution.Layouts, l)
	}
	r.Arrange()
	n := onPaper(t, New(r), Letter)
	assert.Less(t, n, 520, "one page a layout, and the cover")

	// Ten yards of 2 in strips: the pieces stay large enough for their letters,
	// and the picture goes on from page to page.
	strips := times(180, 2*in)
	parts := times(180, cutAt(pack.X, 0, times(13, 3*in), times(14, piece(0, false))...))
	f.Solution.Layouts = []pack.Layout{{Stock: pack.Stock{Sheet: pack.FromRoll, Length: 361 * in}, W: 42 * in, H: 360 * in, Copies: 1, Cuts: cutAt(pack.Y, 0, strips[1:], parts...)}}
	r.Arrange()
	rep := New(r)
	s := &rep.Sheets[1]
	tiles := s.tile(450*point, 600*point)
	assert.GreaterOrEqual(t, tiles.scale.paper(2*in), units.Length(legible))
	assert.Greater(t, len(tiles.views), 1)
	covered := units.Length(0)
	for _, v := range tiles.views {
		covered += v.H
	}
	assert.Equal(t, s.RawH, covered)
	onPaper(t, rep, Letter)
}

func TestKnifeCountsEveryCut(t *testing.T) {
	for _, r := range []*plan.Result{demo(t), fair(t)} {
		for _, s := range New(r).Sheets {
			want := s.layout.CutCount()
			for _, e := range s.Edges {
				if e.Trim > 0 {
					want++
				}
				if e.Selvage {
					want++
				}
			}
			assert.Equal(t, want, s.Knife, s.Name())
		}
	}
}

// Wide cloth that is a finger too wide for its page is not parted for it; one
// that is parted has no slivers, and breaks at a cut where one is near.
func TestPicturesArePartedEvenly(t *testing.T) {
	wide := func(across units.Length, at []units.Length, parts ...*pack.Node) *Sheet {
		return &Sheet{W: across, H: 10 * in, RawW: across, RawH: 10 * in,
			Pieces: []Placed{{Rect: pack.Rect{W: 7 * in / 4, H: 2 * in}}}, layout: pack.Layout{Cuts: cutAt(pack.X, 0, at, parts...)}}
	}
	const box = 246 * point // 41 in at 1 : 12, where a letter just goes into 1 3/4 in
	one := wide(41*in, []units.Length{2 * in}, piece(0, false), leaf(pack.WasteLeaf))
	assert.Len(t, one.tile(box, box).views, 1)

	two := wide(45*in, []units.Length{2 * in}, piece(0, false), leaf(pack.WasteLeaf)).tile(box, box)
	require.Len(t, two.views, 2)
	assert.InDelta(t, float64(two.views[0].W), float64(two.views[1].W), 1)

	cut := wide(45*in, []units.Length{26 * in}, piece(0, false), leaf(pack.WasteLeaf)).tile(box, box)
	require.Len(t, cut.views, 2)
	assert.Equal(t, 26*in, cut.views[0].W)
}

// The foot of a shared page is one line, whole, however many sheets are cut together.
func TestFootOfSharedPagesFits(t *testing.T) {
	f, wide := strong(Start), Letter.W-2*in
	few, many := bench{sheets: []int{1, 2, 3, 7}}, bench{}
	for n := range 200 {
		many.sheets = append(many.sheets, 2*n+1)
	}
	assert.Equal(t, "All of sheets 1 to 3 and 7 are cut together: equal strips lie in one stack.", few.footWords(f, wide))
	assert.LessOrEqual(t, f.width(many.footWords(f, wide)), wide)
	assert.Contains(t, many.footWords(f, wide), "equal strips lie in one stack")
}
