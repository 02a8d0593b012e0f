package plan

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack"
	"pinfold/units"
)

// bin is a plan that uses up a bin of mixed prints.
const bin = `ornaments:
  star:
    ball: 3 in
    pieces: [{name: centre, size: 2 x 2, count: 7, role: ground}]
    SAME
make: [{ornament: star, count: 4, colourway: {ground: [navy dot, storm grey, dusk]}}]
fabrics:
  navy dot: {bolt: {usable: 40}, buy: [{fat quarter: 3.25}]}
  storm grey: {bolt: {usable: 40}, buy: [{fat quarter: 2.75}]}
  dusk: {}
stash:
  - {fabric: navy dot, size: 8 x 8, squared: yes}
  - {fabric: storm grey, size: 6 x 8, squared: yes}
  - {fabric: dusk, size: 1 x 40, squared: yes}
`

func binned(t *testing.T, same string) *Plan {
	t.Helper()
	p, err := Parse("plan.yaml", []byte(strings.Replace(bin, "SAME", same, 1)), nil)
	require.NoError(t, err)
	return p
}

// 16 and 12 squares are just what the scraps hold: nothing has to be bought.
func TestAScrapBinIsUsedUp(t *testing.T) {
	r, err := Solve(context.Background(), binned(t, ""), Options{Effort: pack.Quick, Workers: 1})
	require.NoError(t, err)
	assert.Empty(t, r.Shopping)
	assert.Equal(t, []Split{{Role: "ground", Piece: "centre", Shares: []Share{{"navy dot", 16}, {"storm grey", 12}, {"dusk", 0}}}}, r.Gathered.Splits)
	assert.Equal(t, "28 pieces counted twice, by fabric and by ornament: equal", Recount(r.Plan, r.Gathered).String())
}

// Of 7 squares each, the scraps hold two stars and one: the fourth is bought, of
// the cheaper fabric.
func TestWholeOrnamentsOfOneFabric(t *testing.T) {
	r, err := Solve(context.Background(), binned(t, "same fabric: [ground]"), Options{Effort: pack.Quick, Workers: 1})
	require.NoError(t, err)
	assert.Equal(t, []Split{{Role: "ground", Shares: []Share{{"navy dot", 2}, {"storm grey", 2}, {"dusk", 0}}}}, r.Gathered.Splits)
	require.Len(t, r.Shopping, 1)
	assert.Equal(t, []any{"storm grey", int64(275)}, []any{r.Shopping[0].Fabric, *r.Shopping[0].Price})
	assert.True(t, Recount(r.Plan, r.Gathered).Equal())

	c, err := CostOf(r)
	require.NoError(t, err)
	assert.Equal(t, int64(275), c.Orders[0].FabricBought)
}

func TestListsRefuse(t *testing.T) {
	for _, c := range []struct{ old, now, want string }{
		{"[navy dot, storm grey, dusk]", "[]", `plan.yaml:6:55: the list of role "ground" is empty: write the fabrics that will do, like [navy dot, storm grey]`},
		{"storm grey, dusk]", "navy dot]", `plan.yaml:6:66: fabric "navy dot" stands twice in the list of role "ground": leave one of them out`},
		{"storm grey, dusk]", "storm gray]", `plan.yaml:6:66: fabric "storm gray" of role "ground" is not defined: did you mean "storm grey"?`},
		{"[navy dot, storm grey, dusk]", "{navy dot: 1}", `plan.yaml:6:55: the fabric of role "ground" cannot be keys with values: write one value`},
		{"SAME", "same fabric: [gruond]", `plan.yaml:5:19: ornament "star" has no role "gruond": did you mean "ground"?`},
		{"SAME", "same fabric: [ground, ground]", `plan.yaml:5:27: role "ground" stands twice in same fabric: leave one of them out`},
		{"SAME", "same fabric: ground", `plan.yaml:5:18: same fabric cannot be the text "ground": write a list, like [ground]`},
		{"2 x 2", "21 x 41", `plan.yaml:4:35: piece "centre" of 21 x 41 in fits no cloth of fabrics "navy dot", "storm grey", "dusk": add a larger cut or a length to one of them, add another one to the list, or make the piece smaller`},
		{"role: ground}]\n    SAME", "role: ground}, {name: rim, size: 1 x 40, count: 1, role: ground}]\n    same fabric: [ground]", `plan.yaml:6:56: no fabric of the list holds every piece of role "ground" of ornament "star", which are to be of one: add a fabric that holds them all, or take the role out of same fabric`},
		{"count: 7", "count: 300000", `plan.yaml:8:3: fabric "navy dot": more than 1000000 pieces of 2 x 2 in: split the plan, or make fewer`},
	} {
		text := strings.Replace(strings.Replace(bin, c.old, c.now, 1), "SAME", "supplies: []", 1)
		_, err := Parse("plan.yaml", []byte(text), nil)
		assert.EqualError(t, err, c.want)
	}
}

// drawLists lets some roles of a drawn plan be filled by several fabrics.
func drawLists(t *rapid.T) *Plan {
	p := drawPlan(t)
	for i := range p.Fabrics {
		p.Fabrics[i].Usable = 40 * units.Inch
		price := int64(rapid.IntRange(100, 300).Draw(t, "price"))
		if rapid.Bool().Draw(t, "sold?") {
			p.Fabrics[i].Buy = []Offer{{Kind: SoldByLength, Name: byYard, Price: &price, Per: units.Yard, Step: units.Yard}}
		}
		if rapid.Bool().Draw(t, "stash?") {
			p.Stash = append(p.Stash, StashPiece{ID: fmt.Sprint(i), Fabric: p.Fabrics[i].Name, Count: 1, Squared: true,
				Size: units.Size{Along: units.Length(rapid.IntRange(3, 30).Draw(t, "scrap")) * units.Inch, Across: 20 * units.Inch}})
		}
	}
	for i := range p.Make {
		for j := range p.Make[i].Colourway {
			f := &p.Make[i].Colourway[j]
			for _, other := range p.Fabrics {
				if other.Name != f.Fabric && rapid.Bool().Draw(t, "or?") {
					f.Or = append(f.Or, Named{Name: other.Name})
				}
			}
		}
	}
	for i := range p.Ornaments {
		if rapid.Bool().Draw(t, "same?") {
			p.Ornaments[i].Same = []Named{{Name: rapid.SampledFrom([]string{"ground", "accent"}).Draw(t, "same")}}
		}
	}
	return p
}

func TestEveryPieceOfAListHasAFabric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawLists(t)
		g, err := Gather(p)
		require.NoError(t, err)
		tally := Recount(p, g)
		assert.True(t, tally.Equal(), tally)
		assert.Equal(t, len(layOut(p)), g.Pieces, "lists change fabrics, not pieces")
		for _, s := range g.Splits {
			same := p.Ornament(p.Make[s.Order].Ornament).same(s.Role)
			assert.Equal(t, same, s.Piece == "", "whole ornaments where asked for")
		}
		again, err := Gather(p)
		require.NoError(t, err)
		assert.Equal(t, g, again)
	})
}

func TestRecountFindsWrongSplits(t *testing.T) {
	for want, spoil := range map[string]func(p *Plan, g *Gathered){
		"star, centre: -1 divided among fabrics":                          func(_ *Plan, g *Gathered) { g.Splits[0].Shares[0].Count-- },
		`star, centre: fabric "sand" is not in the list of role "ground"`: func(_ *Plan, g *Gathered) { g.Splits[0].Shares[0].Fabric = "sand" },
		`star, centre: role "ground" is divided 0 times`:                  func(_ *Plan, g *Gathered) { g.Splits = nil },
		`star, centre: role "ground" is divided 2 times`:                  func(_ *Plan, g *Gathered) { g.Splits = append(g.Splits, g.Splits[0]) },
		`star, centre: role "ground" is divided piece by piece`:           func(p *Plan, _ *Gathered) { p.Ornaments[0].Same = []Named{{Name: "ground"}} },
		"navy dot, 2 x 2 in: -1 by fabric":                                func(_ *Plan, g *Gathered) { g.Fabrics[0].Sizes[0].Count-- },
	} {
		p := binned(t, "")
		g, err := Gather(p)
		require.NoError(t, err)
		require.True(t, Recount(p, g).Equal())
		spoil(p, g)
		assert.False(t, Recount(p, g).Equal(), want)
		assert.Contains(t, Recount(p, g).String(), want)
	}
}

// randomBin is a small plan with few ways to divide it.
func randomBin(r *rand.Rand) *Plan {
	p := &Plan{Cutting: Cutting{Keep: units.Size{Along: units.Inch, Across: units.Inch}}}
	for i := range 2 {
		price := int64(100 + r.IntN(300))
		f := Fabric{Name: fmt.Sprint("f", i), Usable: 12 * units.Inch}
		f.Buy = []Offer{{Kind: SoldByLength, Name: byYard, Price: &price, Per: units.Yard, Step: 3 * units.Inch}}
		p.Fabrics = append(p.Fabrics, f)
		p.Stash = append(p.Stash, StashPiece{ID: f.Name, Fabric: f.Name, Count: 1, Squared: true,
			Size: units.Size{Along: units.Length(2+r.IntN(9)) * units.Inch, Across: units.Length(3+r.IntN(9)) * units.Inch}})
	}
	o := Ornament{Name: "o"}
	for i := range 2 {
		o.Pieces = append(o.Pieces, Round{Name: fmt.Sprint(i), Roles: []RoleCount{{fmt.Sprint("r", i), 1 + r.IntN(5)}},
			Size: units.Size{Along: units.Length(2+r.IntN(3)) * units.Inch, Across: units.Length(2+r.IntN(4)) * units.Inch}})
	}
	if r.IntN(2) == 0 {
		o.Same = []Named{{Name: "r0"}}
	}
	p.Ornaments = []Ornament{o}
	p.Make = []Order{{Ornament: "o", Count: 1 + r.IntN(3), Colourway: []Filling{
		{Role: "r0", Fabric: "f0", Or: []Named{{Name: "f1"}}}, {Role: "r1", Fabric: "f1", Or: []Named{{Name: "f0"}}},
	}}}
	return p
}

// Every division of small plans, judged as Decide judges them: none is better
// than the best of them, the simple ones are not better than it, and it is the
// best of all in most cases. That share is measured, not promised: a local
// search stops where no single move helps.
func TestDecideAgainstEveryDivision(t *testing.T) {
	ctx := context.Background()
	cases, best := 24, 0
	if testing.Short() {
		cases = 8
	}
	for seed := range cases {
		p := randomBin(rand.New(rand.NewPCG(uint64(seed), 3)))
		d, err := newDivision(p)
		require.NoError(t, err)
		require.Len(t, d.bundles, 2)
		judge := mover{division: d, known: map[string]verdict{}}
		sum := func(g *Gathered) (v verdict) {
			for _, need := range g.Fabrics {
				one, err := judge.judge(ctx, need)
				require.NoError(t, err)
				v = v.plus(one)
			}
			return v
		}
		g, err := Decide(ctx, p, Options{Workers: 1})
		require.NoError(t, err)
		assert.True(t, Recount(p, g).Equal())
		got := sum(g)
		least := got
		for a := range d.bundles[0].units + 1 {
			for b := range d.bundles[1].units + 1 {
				splits := d.allTo(0)
				splits[0].Shares[0].Count, splits[0].Shares[1].Count = a, d.bundles[0].units-a
				splits[1].Shares[0].Count, splits[1].Shares[1].Count = b, d.bundles[1].units-b
				g, err := gather(p, splits)
				require.NoError(t, err)
				v := sum(g)
				if v.compare(least) < 0 {
					least = v
				}
				if (a == 0 || a == d.bundles[0].units) && (b == 0) == (a == 0) && (b == 0 || b == d.bundles[1].units) {
					assert.LessOrEqual(t, got.compare(v), 0, "seed %d: all to one fabric is better", seed)
				}
			}
		}
		if got == least {
			best++
		}
	}
	t.Logf("best of all in %d of %d cases", best, cases)
	assert.GreaterOrEqual(t, best*100, cases*75)
}

func TestDecideGivesTheSameOnManyCores(t *testing.T) {
	p := randomBin(rand.New(rand.NewPCG(9, 3)))
	one, err := Decide(context.Background(), p, Options{Workers: 1})
	require.NoError(t, err)
	many, err := Decide(context.Background(), p, Options{Workers: 4})
	require.NoError(t, err)
	assert.Equal(t, one, many)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	stopped, err := Decide(ctx, p, Options{})
	require.NoError(t, err)
	assert.True(t, Recount(p, stopped).Equal(), "a stopped decision is whole")
	assert.True(t, slices.ContainsFunc(stopped.Splits, func(s Split) bool { return len(s.Shares) == 2 }))
}
