package reports

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/fixtures"
	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// stall has one fabric of every kind: by length, in fat quarters, from the stash
// alone, and without prices.
const stall = `title: Lantern stall
money: "$"
budget: 6.00
ornaments:
  star:
    ball: 3
    pieces:
      - {name: centre, size: 2 1/2 x 4 1/2, count: 48, role: ground}
      - {name: rim, size: 4 1/2 x 4 1/2, count: 20, role: rim}
      - {name: tip, size: 2 x 2, count: 8, role: tip}
      - {name: tail, size: 2 1/2 x 2 1/2, count: 16, role: tail}
make: [{ornament: star, count: 1, colourway: {ground: night water, rim: sailcloth, tip: lamp glow, tail: signal flags}}]
fabrics:
  night water: {bolt: {width: 44, usable: 40}, buy: [{yard: 8, step: 1/8 yd}]}
  sailcloth: {bolt: {usable: 42}, buy: [{fat quarter: 3.25, size: 18 x 21, available: 2}, {yard: 12, step: 1/4 yd, least: 1 yd}]}
  lamp glow: {}
  signal flags: {bolt: {usable: 42}, buy: [yard]}
stash:
  - {id: L1, fabric: lamp glow, size: 10 x 12, squared: yes}
cutting: {squaring: 0, spare: 0%}
`

func shopReport(t *testing.T, text string, ifs plan.WhatIf) *ShopReport {
	t.Helper()
	p, err := plan.Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	q, changes, err := p.With(ifs)
	require.NoError(t, err)
	o := plan.Options{Effort: pack.Quick}
	var before *plan.Result
	if len(changes) > 0 {
		before, err = plan.AtCounter(context.Background(), p, o)
		require.NoError(t, err)
	}
	s, err := plan.SolveShop(context.Background(), q, o)
	require.NoError(t, err)
	return NewShop(s, before, changes)
}

func shopWriters(r *ShopReport) map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{
		"shop.txt": r.WriteText, "shop.csv": r.WriteCSV, "shop.html": r.WriteHTML, "shop.json": r.WriteJSON,
	}
}

func TestShopGoldens(t *testing.T) {
	for name, write := range shopWriters(shopReport(t, stall, plan.WhatIf{})) {
		if name == "shop.json" {
			continue // mostly cut trees, which have checks of their own
		}
		var b bytes.Buffer
		require.NoError(t, write(&b))
		golden(t, name, b.Bytes())
	}
}

func TestShopSentences(t *testing.T) {
	r := shopReport(t, stall, plan.WhatIf{})
	c := r.Cards[0]
	assert.Equal(t, "3/8 yd", c.Ask())
	assert.Equal(t, "The pieces alone need 13.5 in of 40 in width; 1/4 yd leaves 9 in to cut.", c.Why)
	assert.Equal(t, "1/4 yd, $2.00, $1.00 less", c.Cheaper.Head())
	assert.Equal(t, "proved too little; the best found lacks 16 of B (2 1/2 x 4 1/2 in)", c.Cheaper.Says)
	assert.Equal(t, "leaves an offcut of 4 1/2 x 40 in; room for 16 B more", c.Safer.Says)
	assert.Equal(t, []string{"holds down to a usable width of 40 in, not below"}, c.Holds)

	c = r.Cards[1]
	assert.Equal(t, "2 fat quarters", c.Ask())
	assert.Equal(t, "The pieces alone cover 405.0 sq in; 1 fat quarter has 378.0 sq in, and nothing for less money has more.", c.Why)
	assert.Equal(t, "1 yd, $12.00, $5.50 more", c.Safer.Head(), "there are only two fat quarters")

	assert.Equal(t, "nothing", r.Cards[2].Ask())
	assert.Equal(t, "The stash holds every piece.", r.Cards[2].Why)
	assert.Equal(t, "L1", r.Cards[2].Stash)

	c = r.Cards[3]
	assert.Empty(t, c.Price)
	assert.Equal(t, "Nothing less is sold.", c.Why)

	assert.Equal(t, "$9.50", r.Total)
	assert.Equal(t, "The budget of $6.00 does not buy everything: that takes at least $9.50, and $9.50 was found. In the plan's order it buys for $3.00:", r.Budget.Says)
	assert.Equal(t, []string{"night water: 3/8 yd, $3.00", "sailcloth: nothing", "lamp glow: nothing", "signal flags: 1/8 yd"}, r.Budget.Buys)
	assert.Equal(t, []string{"sailcloth: 20 of 20 A (4 1/2 x 4 1/2 in), for star, rim"}, r.Budget.Missing)
}

func TestShopSaysWhatAssumptionsChange(t *testing.T) {
	r := shopReport(t, stall, plan.WhatIf{Usable: []string{"night water=39"}})
	assert.Equal(t, []string{
		"night water: 39 in usable instead of 40 in",
		"night water: 1/2 yd instead of 3/8 yd",
		"in all $1.00 more",
	}, r.Changed)
	r = shopReport(t, stall, plan.WhatIf{FatQuarter: []string{"18 x 20"}})
	assert.Equal(t, []string{
		"sailcloth: fat quarters of 18 x 20 in instead of 18 x 21 in",
		"the same is bought as without the change",
	}, r.Changed)
}

func TestApart(t *testing.T) {
	for _, c := range []struct {
		more, less string
		a, b       int64
	}{
		{"13.5 in", "9 in", 27 * 8128 / 2, 9 * 8128},
		{"9.04 in", "9 in", 9*8128 + 400, 9 * 8128},
		{"9.01 in", "9 in", 9*8128 + 99, 9 * 8128},
		{"9.004 in", "9 in", 9*8128 + 40, 9 * 8128},
		{"12.6 in", "9.1 in", 12*8128 + 5000, 9*8128 + 1}, // down and up
	} {
		a, b := apart(units.Length(c.a), units.Length(c.b), units.Inches)
		assert.Equal(t, []string{c.more, c.less}, []string{a, b})
	}
}

// hostileStall has names that a page, a table or a line might trip over.
var hostileStall = strings.NewReplacer(
	"night water", `"=1+1 <script>alert('x')</script> & a name that goes on and on and on without any sense or end"`,
	"sailcloth", `"Überraschung 布 x🧵"`, "Lantern stall", `"<b>Stall</b> {{.}}"`, `money: "$"`, `money: "<i>"`,
).Replace(stall)

func TestShopHostileNames(t *testing.T) {
	r := shopReport(t, hostileStall, plan.WhatIf{})
	out := map[string]string{}
	for name, write := range shopWriters(r) {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		assert.True(t, utf8.Valid(b.Bytes()))
		out[name] = b.String()
	}
	assert.NotContains(t, out["shop.html"], "<script")
	assert.NotContains(t, out["shop.html"], "<b>Stall")
	assert.NotContains(t, out["shop.html"], "<i>")
	assert.Contains(t, out["shop.html"], "&lt;script&gt;")
	rows, err := csv.NewReader(strings.NewReader(out["shop.csv"])).ReadAll()
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(rows[1][0], "'=1+1"))
	for line := range strings.Lines(out["shop.txt"]) {
		assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), shopColumns, line)
	}
	var b bytes.Buffer
	require.NoError(t, r.WritePDF(&b, A4))
	assert.NotEmpty(t, b.Bytes())
}

func TestWideAmountsStandInLines(t *testing.T) {
	r := shopReport(t, strings.ReplaceAll(stall, "yard: 12", "yard: 123456"), plan.WhatIf{})
	var b bytes.Buffer
	require.NoError(t, r.WriteText(&b))
	assert.Contains(t, b.String(), "\n  yardage                  $123,456.00, proved\n")
	for line := range strings.Lines(b.String()) {
		assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), shopColumns, line)
	}
}

// A page that asks for nothing: no scripts, no addresses to fetch from.
func TestShopPageStandsAlone(t *testing.T) {
	for _, word := range []string{"<script", "src=", "href=", "@import", "url(", "http"} {
		assert.NotContains(t, shopPage, word)
	}
	assert.Contains(t, shopPage, `name="viewport"`)
}

func TestShopCardsStayOnPaper(t *testing.T) {
	for _, text := range []string{stall, hostileStall, manyFabrics(40)} {
		r := shopReport(t, text, plan.WhatIf{})
		for _, paper := range []Paper{Letter, A4} {
			var words lexicon
			for _, p := range r.setCards(paper, &words) {
				inside(t, &p.Drawing)
			}
			var a, b bytes.Buffer
			require.NoError(t, r.WritePDF(&a, paper))
			require.NoError(t, r.WritePDF(&b, paper))
			assert.Equal(t, a.Bytes(), b.Bytes())
		}
	}
}

// manyFabrics is a list longer than a column of cards.
func manyFabrics(n int) string {
	var pieces, fills, fabrics strings.Builder
	for i := range n {
		fmt.Fprintf(&pieces, "      - {name: round %d, size: 2 x 2, count: 8, role: r%d}\n", i, i)
		fmt.Fprintf(&fills, "r%d: cloth %d, ", i, i)
		fmt.Fprintf(&fabrics, "  cloth %d: {bolt: {usable: 40}, buy: [{yard: 8}]}\n", i)
	}
	return "ornaments:\n  star:\n    ball: 3\n    pieces:\n" + pieces.String() +
		"make: [{ornament: star, count: 1, colourway: {" + strings.TrimSuffix(fills.String(), ", ") + "}}]\nfabrics:\n" + fabrics.String()
}

func TestEveryCardIsPrintedWhole(t *testing.T) {
	r := shopReport(t, manyFabrics(40), plan.WhatIf{})
	var words lexicon
	printed := map[string]int{}
	for _, p := range r.setCards(A4, &words) {
		for _, m := range p.Marks {
			printed[m.Text]++
		}
	}
	for i := range 40 {
		// On the card to take along, on its own and among the ways to buy.
		assert.Equal(t, 3, printed[fmt.Sprintf("cloth %d", i)], i)
	}
}

func TestShopJSONHash(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, shopReport(t, stall, plan.WhatIf{}).WriteJSON(&b))
	at := bytes.Index(b.Bytes(), []byte("  \"hash\""))
	require.Positive(t, at)
	var doc struct{ Schema, Hash string }
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(b.Bytes()[:at])), doc.Hash)
	assert.Equal(t, ShopSchema, doc.Schema)
}

// cutsOf gathers the cutting of every purchase of a list, as a result for the
// independent checker.
func cutsOf(t *testing.T, r *ShopReport) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, r.WriteJSON(&b))
	type buy struct{ Cut json.RawMessage }
	var doc struct {
		Fabrics []struct {
			Answer         buy
			Cheaper, Safer *buy
			Ways           []buy
		}
		Budget *struct{ Bought []json.RawMessage }
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	var cuts []json.RawMessage
	for _, f := range doc.Fabrics {
		cuts = append(cuts, f.Answer.Cut)
		for _, o := range []*buy{f.Cheaper, f.Safer} {
			if o != nil {
				cuts = append(cuts, o.Cut)
			}
		}
		for _, w := range f.Ways {
			if string(w.Cut) != "null" {
				cuts = append(cuts, w.Cut)
			}
		}
	}
	if doc.Budget != nil {
		cuts = append(cuts, doc.Budget.Bought...)
	}
	require.GreaterOrEqual(t, len(cuts), 5*len(doc.Fabrics)-3)
	text, err := json.Marshal(map[string]any{"schema": Schema, "fabrics": cuts})
	require.NoError(t, err)
	return text
}

func TestEveryPurchasePassesTheIndependentCheck(t *testing.T) {
	tool := filepath.Join("..", "..", "shared", "tools", "check_result.py")
	if _, err := os.Stat(tool); err != nil {
		t.Skip("no folder with check_result.py beside the checkout")
	}
	python, err := exec.LookPath("python3")
	if os.Getenv("CI") == "true" {
		require.NoError(t, err, "CI needs python3")
	} else if err != nil {
		t.Skip("python3 is not installed")
	}
	reports := map[string]*ShopReport{"stall": shopReport(t, stall, plan.WhatIf{})}
	if !testing.Short() {
		p, err := plan.ReadFS(fixtures.Demo(), fixtures.PlanFile)
		require.NoError(t, err)
		budget := int64(6000)
		p.Budget = &budget
		s, err := plan.SolveShop(context.Background(), p, plan.Options{Effort: pack.Quick})
		require.NoError(t, err)
		reports["demo"] = NewShop(s, nil, nil)
	}
	for name, r := range reports {
		check := exec.Command(python, tool, "-")
		check.Stdin = bytes.NewReader(cutsOf(t, r))
		out, err := check.CombinedOutput()
		assert.NoError(t, err, "%s: %s", name, out)
	}
}
