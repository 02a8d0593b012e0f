package plan

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"pinfold/pack"
	"pinfold/units"
)

// randomShelf is a fabric sold as one or two cuts and by length.
func randomShelf(r *rand.Rand) *shelf {
	f := &FabricResult{Priced: r.IntN(4) > 0}
	f.Problem.Goal = map[bool]pack.Goal{true: pack.LeastPrice, false: pack.LeastArea}[f.Priced]
	f.Problem.Pieces = []pack.Piece{{ID: "A", W: 2 * inch, H: 2 * inch, Demand: 3 + r.IntN(5)}}
	for i := range 1 + r.IntN(2) {
		f.Problem.Sheets = append(f.Problem.Sheets, pack.Sheet{
			ID: string(rune('a' + i)), W: units.Length(4+r.IntN(8)) * inch, H: units.Length(4+r.IntN(8)) * inch,
			Copies: []int{pack.Unlimited, 1, 2}[r.IntN(3)], Price: int64(50 + r.IntN(300)),
		})
	}
	if r.IntN(3) > 0 {
		f.Problem.Roll = &pack.Roll{ID: "yard", W: 20 * inch, Step: units.Yard / 8, Per: units.Yard, Price: int64(200 + r.IntN(900))}
		if r.IntN(2) == 0 {
			f.Problem.Roll.Most = units.Yard / 2
		}
		for range r.IntN(3) {
			f.Problem.Roll.Also = append(f.Problem.Roll.Also, pack.Terms{
				Step: units.Length(1+r.IntN(4)) * units.Yard / 16, Least: units.Length(r.IntN(5)) * units.Yard / 16,
				Most: units.Length(r.IntN(2)) * units.Yard / 2, Per: units.Yard, Price: int64(200 + r.IntN(900)),
			})
		}
	}
	return newShelf(f)
}

// every lists all baskets up to a cost by plain counting.
func (s *shelf) every(limit int64) []basket {
	lengths := []units.Length{0}
	for _, r := range s.bolts {
		for l := r.Step; l <= r.longest; l += r.Step {
			if l >= r.Least {
				lengths = append(lengths, l)
			}
		}
	}
	counts := [][]int{{}}
	for _, sh := range s.p.Sheets {
		var next [][]int
		for _, c := range counts {
			for n := 0; n <= s.pieces && (sh.Copies < 0 || n <= sh.Copies); n++ {
				next = append(next, append(append([]int{}, c...), n))
			}
		}
		counts = next
	}
	var out []basket
	for _, c := range counts {
		for _, l := range lengths {
			if b := (basket{c, l}); s.cost(b) <= limit {
				out = append(out, b)
			}
		}
	}
	return out
}

func TestBasketsAgainstCounting(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 300 {
		s := randomShelf(r)
		tr := &trials{shelf: s}
		limit := s.cost(basket{cuts: make([]int, len(s.p.Sheets))}) + r.Int64N(1500)
		if !s.f.Priced {
			limit = int64(units.AreaOf(inch, inch)) * r.Int64N(500)
		}
		var most, dear basket
		for _, b := range s.every(limit) {
			if most.cuts == nil || s.cloth(b) > s.cloth(most) {
				most = b
			}
			if dear.cuts == nil || s.cost(b) > s.cost(dear) {
				dear = b
			}
		}
		got, all := s.most(limit)
		assert.True(t, all)
		assert.Equal(t, s.cloth(most), s.cloth(got))
		assert.LessOrEqual(t, s.cost(got), limit)
		if d := s.cost(tr.dearest(limit)); len(s.bolts) < 2 {
			assert.Equal(t, s.cost(dear), d)
		} else {
			assert.LessOrEqual(t, d, s.cost(dear)) // a shorter length may be the dearer
			assert.GreaterOrEqual(t, d, s.cost(got))
		}

		// The next dearer with more cloth: the cheapest of all by counting.
		list := tr.dearer(got, s.cost(got)+limit)
		var next basket
		for _, b := range s.every(s.cost(got) + limit) {
			if s.cost(b) > s.cost(got) && s.cloth(b) > s.cloth(got) && (next.cuts == nil || s.cost(b) < s.cost(next)) {
				next = b
			}
		}
		if next.cuts == nil {
			assert.Empty(t, list)
			continue
		}
		if assert.NotEmpty(t, list) {
			assert.Equal(t, s.cost(next), s.cost(list[0]))
		}
		for i := 1; i < len(list); i++ {
			assert.Greater(t, s.cloth(list[i]), s.cloth(list[i-1]))
			assert.GreaterOrEqual(t, s.cost(list[i]), s.cost(list[i-1]))
		}
	}
}

func TestInRows(t *testing.T) {
	for _, c := range []struct {
		W, H, w, h units.Length
		turn       bool
		want       int
	}{
		{20, 17, 5, 4, false, 16},
		{3, 17, 5, 4, false, 0},
		{42, 9, 5, 9, false, 8},
		{11, 5, 3, 5, false, 3},
		{11, 6, 3, 2, true, 11}, // three rows of three, and two turned beside them
		{7, 4, 4, 3, true, 2},   // one upright, one turned beside it
		{7, 4, 4, 3, false, 1},
	} {
		assert.Equal(t, c.want, inRows(c.W, c.H, c.w, c.h, c.turn, 0), "%+v", c)
	}
	// Three pieces and the two cuts between them.
	assert.Equal(t, 3, inRows(17, 5, 5, 5, false, 1))
	assert.Equal(t, 2, inRows(16, 5, 5, 5, false, 1))
}
