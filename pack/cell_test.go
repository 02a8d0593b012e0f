package pack

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// Passes counted by cells are those of the session once the parts are in order,
// with folds, lays and kerf.
func TestCellsCountAsTheSession(t *testing.T) {
	in := units.Inch
	for _, kerf := range []units.Length{0, in / 8} {
		for layers := range 6 {
			for _, flat := range []bool{false, true} {
				p := Problem{
					Pieces: []Piece{
						{ID: "A", W: 5 * in / 2, H: 5 * in / 2, Demand: 90},
						{ID: "B", W: 3 * in, H: 2 * in, Demand: 37, Turn: true},
						{ID: "C", W: 21 * in / 2, H: 7 * in / 4, Demand: 7},
					},
					Sheets: []Sheet{
						{ID: "s", W: 18 * in, H: 21 * in, Copies: 2, Free: true, Squared: Margins{Left: in / 4, Top: in / 4}},
						{ID: "o", W: 12 * in, H: 12 * in, Copies: 2, Free: true, Outline: Outline{{0, 0}, {12 * in, 0}, {12 * in, 6 * in}, {6 * in, 12 * in}, {0, 12 * in}}},
						{ID: "b", W: 14 * in, H: 12 * in, Copies: 1, Free: true, Bad: []Rect{{4 * in, 4 * in, in, in}}},
					},
					Roll:  &Roll{ID: "r", W: 42 * in, Step: units.Yard / 8, Price: 900, Per: units.Yard, Selvages: 2},
					Rules: Rules{Layers: layers, Ruler: 24 * in, Flat: flat, Kerf: kerf, Keep: units.Size{Along: 2 * in, Across: 3 * in}},
				}
				s, err := Solve(context.Background(), p, Options{Effort: Quick, Share: 10})
				require.NoError(t, err)
				c := []Cloth{{p, s.Layouts}}
				for range 3 {
					r := newRecutter(c, FewerPasses)
					Arrange(c)
					require.Equal(t, standingOf(c), r.at, "kerf %v, %d layers, flat %t", kerf, layers, flat)
					r.improve(20_000)
					c[0].Layouts = r.layouts()[0]
					Arrange(c)
					require.Equal(t, standingOf(c), r.at, "cut again: kerf %v, %d layers, flat %t", kerf, layers, flat)
				}
			}
		}
	}
}
