package pack_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// spelled turns bytes into a problem: whatever they are, they are one.
type spelled struct{ bytes []byte }

// upTo takes the next byte as a number from 0 to most.
func (s *spelled) upTo(most int) int {
	if len(s.bytes) == 0 {
		return 0
	}
	b := s.bytes[0]
	s.bytes = s.bytes[1:]
	return int(b) % (most + 1)
}

func (s *spelled) length(most int, step units.Length) units.Length {
	return step * units.Length(s.upTo(most))
}

func (s *spelled) margins(step units.Length) pack.Margins {
	if s.upTo(2) > 0 {
		return pack.Margins{}
	}
	return pack.Margins{Left: s.length(3, step), Right: s.length(3, step), Bottom: s.length(3, step), Top: s.length(3, step)}
}

func (s *spelled) sheet(i int, step units.Length) pack.Sheet {
	sh := pack.Sheet{
		ID: fmt.Sprint("sheet ", i), W: s.length(40, step), H: s.length(40, step), Copies: s.upTo(5) - 1,
		Price: int64(s.upTo(9)), Free: s.upTo(1) > 0, Selvages: s.upTo(2),
	}
	if sh.Free {
		sh.Copies = max(sh.Copies, 0) // cloth at hand is never without end
	}
	sh.Scrap = sh.Free && s.upTo(1) > 0
	for range s.upTo(2) {
		sh.Bad = append(sh.Bad, pack.Rect{X: s.length(40, step), Y: s.length(40, step), W: s.length(9, step) + 1, H: s.length(9, step) + 1})
	}
	if s.upTo(3) == 0 {
		for range 3 + s.upTo(3) {
			sh.Outline = append(sh.Outline, pack.Point{X: s.length(30, step), Y: s.length(30, step)})
		}
		box := sh.Outline.Box()
		for k := range sh.Outline {
			sh.Outline[k].X, sh.Outline[k].Y = sh.Outline[k].X-box.X, sh.Outline[k].Y-box.Y
		}
		sh.W, sh.H, sh.Selvages = box.W, box.H, 0
		return sh
	}
	sh.Squared = s.margins(step)
	return sh
}

func (s *spelled) problem() pack.Problem {
	step := []units.Length{1, 127, units.Inch, units.Yard}[s.upTo(3)]
	p := pack.Problem{Goal: pack.Goal(s.upTo(1)), UseUp: s.upTo(3) == 0}
	for i := range s.upTo(4) {
		p.Pieces = append(p.Pieces, pack.Piece{
			ID: fmt.Sprint("piece ", i), W: s.length(20, step), H: s.length(20, step), Demand: s.upTo(7), Turn: s.upTo(1) > 0,
		})
	}
	for i := range s.upTo(3) {
		p.Sheets = append(p.Sheets, s.sheet(i, step))
	}
	if s.upTo(2) == 0 {
		p.Roll = &pack.Roll{
			ID: "roll", W: s.length(40, step), Squared: s.margins(step), Step: s.length(8, step), Least: s.length(20, step), Most: s.length(60, step),
			Price: int64(s.upTo(99)), Per: s.length(30, step), Shrinks: 100 * s.upTo(60),
		}
		for i := range s.upTo(2) {
			p.Roll.Also = append(p.Roll.Also, pack.Terms{
				ID: fmt.Sprint("bolt ", i), Step: s.length(8, step), Least: s.length(20, step), Most: s.length(60, step), Price: int64(s.upTo(99)), Per: s.length(30, step),
			})
		}
	}
	p.Rules = pack.Rules{
		Kerf: s.length(2, step), Stages: s.upTo(4), Keep: units.Size{Along: s.length(6, step), Across: s.length(6, step)},
		Layers: s.upTo(4), Ruler: s.length(24, step), Flat: s.upTo(1) > 0,
	}
	return p
}

// Whatever the bytes, a problem is refused or solved: what Solve returns has
// passed Check inside, passes it outside, and is the same a second time.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{2, 0, 0, 2, 3, 2, 4, 1, 5, 5, 2, 0, 1, 20, 20, 1, 5, 0, 0, 0, 1, 1, 1})
	f.Add([]byte{0, 1, 1, 3, 3, 4, 5, 0, 2, 2, 6, 1, 7, 1, 3, 0, 2, 30, 24, 3, 2, 1, 1, 1, 2, 4, 4, 2, 2, 9, 9, 3, 3, 1, 0, 30, 36, 2, 7, 0, 1, 0, 0, 0, 24, 20, 21, 3, 4})
	f.Add([]byte{1, 0, 3, 1, 7, 9, 6, 1, 0, 0, 40, 1, 4, 2, 9, 30, 12, 30, 5, 1, 4, 5, 30, 20, 90, 30, 2, 1, 0, 2, 2, 1})
	f.Add([]byte("a lantern on the mole, and the tide going out below it"))
	f.Fuzz(func(t *testing.T, bytes []byte) {
		s := spelled{bytes}
		p := s.problem()
		o := pack.Options{Effort: pack.Quick, Share: 1, Workers: 1}
		sol, err := pack.Solve(context.Background(), p, o)
		if p.Validate() != nil || p.Countable() != nil {
			require.Error(t, err)
			return
		}
		require.NoError(t, err, "%+v", p)
		require.NoError(t, pack.Check(p, sol))
		cloths := []pack.Cloth{{Problem: p, Layouts: sol.Layouts}}
		pack.Arrange(cloths)
		require.NoError(t, pack.Check(p, sol.Laid(p, cloths[0].Layouts)), "arranged")
		o.Workers = 2
		again, err := pack.Solve(context.Background(), p, o)
		require.NoError(t, err)
		require.Equal(t, sol, again)
	})
}
