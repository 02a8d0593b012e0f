package pack

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// A fat quarter of 16 squares: 4 strips of 4, and nothing to trim. By hand: 3 cuts
// make the strips, which lie in one stack for 3 more.
func TestSessionOfOneSheet(t *testing.T) {
	in := units.Inch
	p := Problem{
		Pieces: []Piece{{ID: "A", W: 4 * in, H: 4 * in, Demand: 16, Turn: true}},
		Sheets: []Sheet{{ID: "s", W: 16 * in, H: 16 * in, Copies: 1, Price: 1}},
		Rules:  Rules{Layers: 4},
	}
	s, err := Solve(context.Background(), p, Options{Effort: Quick})
	require.NoError(t, err)
	c := []Cloth{{p, s.Layouts}}
	Arrange(c)
	require.NoError(t, Check(p, Solution{Layouts: c[0].Layouts, Missing: s.Missing, Status: s.Status, Cost: s.Cost, Bound: s.Bound,
		ProvedBy: s.ProvedBy, Price: s.Price, Area: s.Area, AreaBound: s.AreaBound}))
	got := NewSession(c)
	require.Equal(t, 6, got.Passes)
	require.LessOrEqual(t, got.AtLeast, 6)
}
