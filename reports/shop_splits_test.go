package reports

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
)

// lists is a stall whose roles are filled by lists of fabrics, one of them by
// whole ornaments, and one of the fabrics off two bolts.
const lists = `title: Lists
money: "$"
budget: 5
ornaments:
  star:
    ball: 3
    same fabric: [tip]
    pieces:
      - {name: centre, size: 2 x 3, count: 30, role: ground}
      - {name: outer, size: 2 x 4, count: 12, role: tip}
make: [{ornament: star, count: 5, colourway: {ground: [sail white, navy dot], tip: [navy dot, sail white]}}]
fabrics:
  navy dot: {bolt: {usable: 42}, buy: [{yard: 10, step: 1/2 yd}, {yard: 11, step: 1/8 yd}]}
  sail white: {bolt: {usable: 42}, buy: [{fat quarter: 9}]}
stash:
  - {fabric: sail white, size: 12 x 20}
`

// Whatever is told at the counter is told for the division that is shown, and
// that is said.
func TestShopKeepsTheDivision(t *testing.T) {
	rep := shopReport(t, lists, plan.WhatIf{})
	require.Len(t, rep.Splits, 3)
	assert.Contains(t, rep.Splits[0], "5 star, centre (ground): ")
	assert.Equal(t, dividedNote, rep.Splits[2])
	assert.Contains(t, rep.Budget.Says, "with the fabrics divided as they are")

	s := rep.shop
	pieces := 0
	for i, c := range s.Counters {
		f := s.Result.Fabrics[i]
		var all []plan.FabricResult
		for _, ch := range []*plan.Choice{&c.Answer, c.Cheaper, c.Safer} {
			if ch != nil {
				all = append(all, ch.Cut)
			}
		}
		for _, w := range s.Ways {
			if w.Answers[i].Sold {
				all = append(all, w.Answers[i].Cut)
			}
		}
		for _, other := range all {
			assert.Equal(t, f.Need, other.Need)
			assert.NoError(t, pack.Check(other.Problem, other.Solution))
		}
		for _, n := range f.Need.Sizes {
			pieces += n.Count
		}
	}
	assert.Equal(t, 5*(30+12), pieces)

	for name, write := range shopWriters(rep) {
		if name == "shop.csv" {
			continue
		}
		var b bytes.Buffer
		require.NoError(t, write(&b), name)
		if name != "shop.json" {
			assert.Contains(t, b.String(), "Which fabric for what", name)
			continue
		}
		var doc struct {
			Splits  []splitJSON
			Fabrics []struct {
				Answer struct{ Buy []purchaseJSON }
			}
		}
		require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
		require.Len(t, doc.Splits, 2)
		assert.Equal(t, "tip", doc.Splits[1].Role)
		assert.Equal(t, "at $11.00 a yard", doc.Fabrics[0].Answer.Buy[0].Bolt)
	}
	assert.Empty(t, shopReport(t, stall, plan.WhatIf{}).Splits)
}

// An assumption has the fabrics divided anew, and a fabric that is then not used
// any more is named.
func TestShopDividesAnew(t *testing.T) {
	// 8 in of usable width are too narrow for a piece of 9 in, so that only sail
	// white is left.
	text := strings.NewReplacer("2 x 3, count: 30", "9 x 9, count: 1", "2 x 4, count: 12", "9 x 9, count: 1", "{fat quarter: 9}", "{fat quarter: 99}").Replace(lists)
	rep := shopReport(t, text, plan.WhatIf{Usable: []string{"navy dot=8"}})
	told := strings.Join(rep.Changed, "\n")
	assert.Contains(t, told, "navy dot: nothing instead of ")
	assert.Contains(t, told, "divided anew: 5 star, tip: 5 of sail white")
	assert.NotContains(t, told, "the same is bought")
}

func TestBoltsInWords(t *testing.T) {
	for _, c := range []struct{ offers, want string }{
		{"{yard: 11, step: 1/8 yd}", ""},
		{"{yard: 11, step: 1/8 yd}, {fat quarter: 90}", ""},
		{"{yard: 11, step: 1/8 yd}, {yard: 30}", "at $11.00 a yard"},
		{"{metre: 11, step: 10 cm}, {yard: 30}", "at $11.00 a metre"},
		{"{yard: 11, step: 1/8 yd}, {yard: 11, step: 1/2 yd, least: 1 yd}", "at $11.00 a yard in steps of 1/8 yd"},
		{"{yard: , step: 1/8 yd, least: 1/2 yd}, {yard: , step: 1 yd}", "in steps of 1/8 yd from 1/2 yd"},
	} {
		text := strings.ReplaceAll(lists, "{yard: 10, step: 1/2 yd}, {yard: 11, step: 1/8 yd}", c.offers)
		p, err := plan.Parse("plan.yaml", []byte(text), nil)
		require.NoError(t, err)
		o := p.Fabrics[0].Buy[0]
		assert.Equal(t, c.want, boltOf(p, plan.Purchase{Fabric: "navy dot", Offer: o, Length: 4 * o.Step}))
	}
}
