package plan

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// randomStall is a small plan of one fabric with all that can be said about it.
func randomStall(r *rand.Rand) string {
	var pieces, fills []string
	for i := range 1 + r.IntN(3) {
		pieces = append(pieces, fmt.Sprintf("{name: round %d, size: %d 1/2 x %d, count: %d, role: ground}", i, 1+r.IntN(4), 2+r.IntN(5), 1+r.IntN(20)))
	}
	fills = append(fills, "ground: navy dot")
	buy := []string{
		fmt.Sprintf("{yard: %d.%02d, step: 1/8 yd, least: %d/8 yd}", 4+r.IntN(9), r.IntN(100), 1+r.IntN(2)),
		fmt.Sprintf("{metre: %d.%02d, step: %d cm, most: %d cm}", 4+r.IntN(9), r.IntN(100), 10+10*r.IntN(4), 40+r.IntN(100)),
		fmt.Sprintf("{fat quarter: %d.%02d, available: %d}", 1+r.IntN(3), r.IntN(100), r.IntN(4)),
		fmt.Sprintf("{cut: %d.%02d, name: charm, size: 5 x 10}", r.IntN(2), r.IntN(100)),
	}
	r.Shuffle(len(buy), func(i, j int) { buy[i], buy[j] = buy[j], buy[i] })
	buy = buy[:r.IntN(len(buy)+1)]
	var b strings.Builder
	fmt.Fprintf(&b, "ornaments:\n  star: {ball: 3, pieces: [%s]}\n", strings.Join(pieces, ", "))
	fmt.Fprintf(&b, "make: [{ornament: star, count: %d, colourway: {%s}}]\n", 1+r.IntN(3), strings.Join(fills, ", "))
	fmt.Fprintf(&b, "fabrics:\n  navy dot: {direction: %s, bolt: {usable: %d}, shrinks: {length: %d%%, width: %d%%}, buy: [%s]}\n",
		[]string{"any", "one-way"}[r.IntN(2)], 38+r.IntN(6), r.IntN(4), r.IntN(4), strings.Join(buy, ", "))
	b.WriteString("stash:\n  - {fabric: navy dot, size: 30 x 20, count: 1, bad areas: 2 x 2 at top right}\n")
	fmt.Fprintf(&b, "budget: %d\n", r.IntN(20))
	fmt.Fprintf(&b, "cutting: {squaring: %d/8, kerf: %d/16, stages: %d, spare: %d%%}\n", r.IntN(3), r.IntN(8)/7, []int{0, 0, 3}[r.IntN(3)], r.IntN(11))
	return b.String()
}

func TestRandomStallsAtTheCounter(t *testing.T) {
	rounds := 12
	if testing.Short() {
		rounds = 4
	}
	r := rand.New(rand.NewPCG(3, 9))
	for i := range rounds {
		text := randomStall(r)
		p, err := Parse("plan.yaml", []byte(text), nil)
		require.NoError(t, err, text)
		s, err := SolveShop(context.Background(), p, Options{Effort: pack.Quick})
		require.NoError(t, err, "%d: %s", i, text)
		checked(t, s)
		if t.Failed() {
			t.Fatalf("%d: %s", i, text)
		}
		narrower(t, p, s)
		if t.Failed() {
			t.Fatalf("%d: %s", i, text)
		}
	}
}

// narrower asks the whole plan again at the widths told: down to the one the
// purchase does, at the other it does not.
func narrower(t *testing.T, p *Plan, s *Shop) {
	c := s.Counters[0]
	if len(c.Answer.Purchases) != 1 || c.Answer.Purchases[0].Length == 0 {
		return
	}
	own := c.Answer.Cut.bought()
	at := func(l units.Length) pack.Verdict {
		q, _, err := p.With(WhatIf{Usable: []string{l.Format(units.Inches)}})
		require.NoError(t, err)
		g, err := Gather(q)
		require.NoError(t, err)
		var f FabricResult
		f.Need = g.Fabrics[0]
		f.Problem, f.Stocks, f.Bolts, err = FabricProblem(q, f.Need)
		require.NoError(t, err)
		tr := newTrials(q, &f, Options{Effort: pack.Quick})
		h, err := tr.enough(context.Background(), tr.sunk(own, nil), 20)
		require.NoError(t, err)
		return h.Verdict
	}
	h := c.Holds[0]
	if h.Down < h.Promised {
		assert.Equal(t, pack.Enough, at(h.Down), "down to %v", h.Down)
	}
	if h.Fails > 2*inch {
		assert.NotEqual(t, pack.Enough, at(h.Fails), "not at %v", h.Fails)
	}
}
