package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/units"
)

func TestBagsHoldEveryPiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawLists(t)
		g, err := Gather(p)
		require.NoError(t, err)
		sorted := map[[2]string]int{}
		ornaments := 0
		for _, b := range p.Bags(g) {
			ornaments += b.Count
			assert.Positive(t, b.Count)
			o := p.Ornament(p.Make[b.Order].Ornament)
			each := 0
			for _, q := range b.Parts {
				assert.NotEmpty(t, q.ID)
				sorted[[2]string{q.Fabric, q.ID}] += q.Each * b.Count
				each += q.Each
			}
			whole := 0
			for _, r := range o.Pieces {
				whole += r.Count()
			}
			if o.Band != nil {
				whole++
			}
			assert.Equal(t, whole, each, "every ornament is whole")
			pinned := 0
			for _, side := range []Side{Front, Back} {
				for _, one := range p.Pinned(b, side) {
					assert.NotEmpty(t, one.Fabric)
					pinned++
				}
			}
			if o.Band != nil {
				pinned++
			}
			assert.Equal(t, whole, pinned, "every piece is pinned once")
		}
		assert.Equal(t, g.Ornaments, ornaments)
		for _, f := range g.Fabrics {
			for _, n := range f.Sizes {
				assert.Equal(t, n.Count, sorted[[2]string{f.Fabric, n.ID}], "%s %s", f.Fabric, n.ID)
				delete(sorted, [2]string{f.Fabric, n.ID})
			}
		}
		assert.Empty(t, sorted)
	})
}

// Four stars of 7 squares from 16 and 12: two of the first fabric, one of 2 and
// 5, one of the second.
func TestBagsOfADividedRound(t *testing.T) {
	p := binned(t, "")
	g, err := gather(p, []Split{{Role: "ground", Piece: "centre", Shares: []Share{{"navy dot", 16}, {"storm grey", 12}, {"dusk", 0}}}})
	require.NoError(t, err)
	var got [][]int
	for _, b := range p.Bags(g) {
		row := []int{b.First, b.Count}
		for _, q := range b.Parts {
			row = append(row, q.Each)
		}
		got = append(got, row)
	}
	assert.Equal(t, [][]int{{1, 2, 7}, {3, 1, 2, 5}, {4, 1, 7}}, got)

	// Front 4 and back 3 places of the mixed star: the first two around are navy,
	// pinned first and third.
	var fabrics []string
	for _, side := range []Side{Front, Back} {
		for _, one := range p.Pinned(p.Bags(g)[1], side) {
			fabrics = append(fabrics, one.Fabric)
		}
	}
	assert.Equal(t, []string{"navy dot", "storm grey", "navy dot", "storm grey", "storm grey", "storm grey", "storm grey"}, fabrics)
}

// The usual star: ten squares for the centre are one flat and four folded ones a
// side, as the list with 208 pins = 2 x (4 + 20 x 5) counts them (craft blog,
// 2014, list of 10 + 16 + 16 squares on a 3 in ball).
func TestPinnedStar(t *testing.T) {
	half := units.Inch / 2
	o := Ornament{Name: "star", Ball: 3 * units.Inch, Pieces: []Round{
		{Name: "centre", Roles: []RoleCount{{"a", 10}}},
		{Name: "second", Roles: []RoleCount{{"b", 16}}, From: &half},
		{Name: "third", Around: []string{"a", "b", "a", "b", "a", "b", "a", "b"}, Roles: []RoleCount{{"a", 4}, {"b", 4}}, Side: Front},
	}}
	p := &Plan{Ornaments: []Ornament{o}, Make: []Order{{Ornament: "star", Count: 1, Colourway: []Filling{{Role: "a", Fabric: "A"}, {Role: "b", Fabric: "B"}}}}}
	bags := p.Bags(&Gathered{})
	require.Len(t, bags, 1)
	front, back := p.Pinned(bags[0], Front), p.Pinned(bags[0], Back)
	require.Len(t, front, 21)
	require.Len(t, back, 13)
	assert.True(t, front[0].Flat)
	assert.False(t, front[1].Flat)
	for i, k := range []float64{0, 2, 1, 3} {
		assert.InDelta(t, math.Pi/2*k, front[1+i].Turn, 1e-12, "opposite ones first")
	}
	for i, k := range []float64{0, 2, 4, 6, 1, 3, 5, 7} {
		assert.InDelta(t, math.Pi/4*k, front[5+i].Turn, 1e-12, "every second first, from the top")
	}
	assert.InDelta(t, math.Pi/8, front[13].Turn, 1e-12, "as many again stand between")
	assert.Equal(t, []units.Length{0, half, 2 * half}, o.Starts(Front, units.Inches), "half an inch on where nothing is said")
	for i, one := range front[13:] {
		assert.Equal(t, []string{"A", "B"}[i/4], one.Fabric, "each place has the fabric listed for it")
	}
}
