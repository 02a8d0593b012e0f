package main

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
	"pinfold/units"
)

// market is a small plan that can be changed and written in several ways.
type market struct {
	ornaments []marketOrnament
	orders    []marketOrder
	fabrics   []marketFabric
	stash     []marketPiece
	squaring  units.Length
	spare     int
	stages    int

	// length and name write lengths and names.
	length func(units.Length) string
	name   func(string) string
}

type (
	marketOrnament struct {
		name   string
		rounds []marketRound
	}
	marketRound struct {
		name, role    string
		along, across units.Length
		count         int
	}
	marketOrder struct {
		ornament       string
		count          int
		ground, accent string // fabrics
	}
	marketFabric struct {
		name, direction string
		usable          units.Length
		buy             []marketOffer
	}
	marketOffer struct {
		name          string // "" for the yard
		price         int    // in the smallest coin
		along, across units.Length
	}
	marketPiece struct {
		id, fabric    string
		along, across units.Length
		count         int
		squared       bool
	}
)

func inInches(l units.Length) string {
	if s := l.Number(units.Inches); !strings.Contains(s, "about") {
		return s
	}
	return inCentimetres(l)
}

// inCentimetres writes every tick, as a decimal; inMillimetres as a fraction.
func inCentimetres(l units.Length) string {
	s := big.NewRat(int64(l), int64(units.Centimetre)).FloatString(7)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".") + " cm"
}

func inMillimetres(l units.Length) string {
	whole, rest := l/units.Millimetre, l%units.Millimetre
	switch {
	case rest == 0:
		return fmt.Sprintf("%d mm", whole)
	case whole == 0:
		return fmt.Sprintf("%v mm", big.NewRat(int64(rest), int64(units.Millimetre)))
	}
	return fmt.Sprintf("%d %v mm", whole, big.NewRat(int64(rest), int64(units.Millimetre)))
}

// newMarket draws a plan small enough that its fabrics are mostly proved.
func newMarket(r *rand.Rand) market {
	m := market{length: inInches, name: func(s string) string { return s }, squaring: units.Inch / 8 * units.Length(r.IntN(3)), spare: r.IntN(3) * 5, stages: r.IntN(4) / 3 * 3}
	side := func(from, to int) units.Length { return units.Inch / 8 * units.Length(from+r.IntN(to-from+1)) }
	for i := range 2 {
		f := marketFabric{name: fmt.Sprintf("cloth %c", 'a'+i), direction: []string{"any", "any", "two-way", "one-way"}[r.IntN(4)], usable: side(320, 340)}
		f.buy = append(f.buy, marketOffer{name: "charm", price: 90 + r.IntN(90), along: side(40, 80), across: side(40, 90)})
		if r.IntN(2) == 0 {
			f.buy = append(f.buy, marketOffer{name: "panel", price: 190 + r.IntN(190), along: side(90, 140), across: side(80, 150)})
		}
		if r.IntN(2) == 0 {
			f.buy = append(f.buy, marketOffer{price: 500 + r.IntN(600)})
		}
		m.fabrics = append(m.fabrics, f)
	}
	for i := range 1 + r.IntN(2) {
		o := marketOrnament{name: fmt.Sprintf("star %c", 'a'+i)}
		for j := range 1 + r.IntN(2) {
			o.rounds = append(o.rounds, marketRound{fmt.Sprintf("round %d", j), []string{"ground", "accent"}[r.IntN(2)], side(12, 30), side(12, 30), 2 + r.IntN(7)})
		}
		o.rounds = append(o.rounds, marketRound{"tip", "ground", side(12, 24), side(12, 24), 2}, marketRound{"heart", "accent", side(12, 24), side(12, 24), 2})
		m.ornaments = append(m.ornaments, o)
		m.orders = append(m.orders, marketOrder{o.name, 1 + r.IntN(3), "cloth a", "cloth b"})
	}
	for i := range r.IntN(4) {
		m.stash = append(m.stash, marketPiece{fmt.Sprintf("s%d", i), fmt.Sprintf("cloth %c", 'a'+r.IntN(2)), side(20, 60), side(20, 60), 1 + r.IntN(2), r.IntN(2) == 0})
	}
	return m
}

// with is a copy that can be changed without the other.
func (m market) with(change func(*market)) market {
	m.ornaments, m.orders, m.fabrics, m.stash = slices.Clone(m.ornaments), slices.Clone(m.orders), slices.Clone(m.fabrics), slices.Clone(m.stash)
	for i := range m.ornaments {
		m.ornaments[i].rounds = slices.Clone(m.ornaments[i].rounds)
	}
	for i := range m.fabrics {
		m.fabrics[i].buy = slices.Clone(m.fabrics[i].buy)
	}
	change(&m)
	return m
}

func (m market) String() string {
	var b strings.Builder
	q := func(s string) string { return fmt.Sprintf("%q", m.name(s)) }
	size := func(along, across units.Length) string { return m.length(along) + " x " + m.length(across) }
	b.WriteString("title: market\nornaments:\n")
	for _, o := range m.ornaments {
		fmt.Fprintf(&b, "  %s:\n    ball: %s\n    pieces:\n", q(o.name), m.length(3*units.Inch))
		for _, p := range o.rounds {
			fmt.Fprintf(&b, "      - {name: %s, size: %q, count: %d, role: %s}\n", q(p.name), size(p.along, p.across), p.count, q(p.role))
		}
	}
	b.WriteString("make:\n")
	for _, o := range m.orders {
		fmt.Fprintf(&b, "  - {ornament: %s, count: %d, colourway: {%s: %s, %s: %s}}\n", q(o.ornament), o.count, q("ground"), q(o.ground), q("accent"), q(o.accent))
	}
	b.WriteString("fabrics:\n")
	for _, f := range m.fabrics {
		fmt.Fprintf(&b, "  %s:\n    direction: %s\n    bolt: {width: %s, usable: %s}\n    buy:\n", q(f.name), f.direction, m.length(f.usable+units.Inch), m.length(f.usable))
		for _, o := range f.buy {
			price := fmt.Sprintf("%d.%02d", o.price/100, o.price%100)
			if o.name == "" {
				fmt.Fprintf(&b, "      - {yard: %s, step: %s}\n", price, m.length(units.Inch*9/2))
			} else {
				fmt.Fprintf(&b, "      - {cut: %s, name: %s, size: %q}\n", price, q(o.name), size(o.along, o.across))
			}
		}
	}
	b.WriteString("stash:\n")
	for _, s := range m.stash {
		fmt.Fprintf(&b, "  - {id: %s, fabric: %s, size: %q, count: %d, squared: %t}\n", q(s.id), q(s.fabric), size(s.along, s.across), s.count, s.squared)
	}
	if len(m.stash) == 0 {
		b.WriteString("  []\n")
	}
	fmt.Fprintf(&b, "cutting: {squaring: %s, keep: %q, ruler: %s, spare: %d%%, stages: %d}\n", m.length(m.squaring), size(2*units.Inch, 3*units.Inch), m.length(24*units.Inch), m.spare, m.stages)
	return b.String()
}

// solve reads, cuts and checks the plan.
func (m market) solve(t *testing.T, effort pack.Effort) *plan.Result {
	t.Helper()
	p, err := plan.Parse("market.yaml", []byte(m.String()), nil)
	require.NoError(t, err, m.String())
	r, err := plan.Solve(t.Context(), p, plan.Options{Effort: effort, Workers: 1})
	require.NoError(t, err, m.String())
	for _, f := range r.Fabrics {
		require.NoError(t, pack.Check(f.Problem, f.Solution), m.String())
	}
	return r
}
