package pack_test

import (
	"fmt"
	"math/rand/v2"

	"pinfold/pack"
	"pinfold/units"
)

// randomProblem makes a problem of every kind: kerf, stages, bad areas, limited
// and unlimited sheets, a roll, either goal. Measures are multiples of 1/8 in.
func randomProblem(r *rand.Rand) pack.Problem {
	eighth := units.Inch / 8
	length := func(from, to int) units.Length { return eighth * units.Length(from+r.IntN(to-from+1)) }
	p := pack.Problem{Goal: pack.Goal(r.IntN(2))}
	for i := range 1 + r.IntN(6) {
		p.Pieces = append(p.Pieces, pack.Piece{
			ID: fmt.Sprint("piece ", i), W: length(6, 60), H: length(6, 60), Demand: r.IntN(12), Turn: r.IntN(2) == 0,
		})
	}
	margin := func() pack.Margins {
		if r.IntN(2) == 0 {
			return pack.Margins{}
		}
		return pack.Margins{Left: length(0, 4), Right: length(0, 4), Bottom: length(0, 4), Top: length(0, 4)}
	}
	for i := range r.IntN(4) {
		s := pack.Sheet{
			ID: fmt.Sprint("sheet ", i), W: length(30, 180), H: length(30, 150), Squared: margin(),
			Copies: 1 + r.IntN(3), Price: int64(r.IntN(400)), Free: r.IntN(2) == 0,
		}
		if !s.Free && r.IntN(2) == 0 {
			s.Copies = pack.Unlimited
		}
		if r.IntN(3) == 0 {
			w, h := s.Usable()
			s.Bad = append(s.Bad, pack.Rect{X: units.Length(r.Int64N(int64(w))), Y: units.Length(r.Int64N(int64(h))), W: length(2, 20), H: length(2, 20)})
		}
		p.Sheets = append(p.Sheets, s)
	}
	if r.IntN(2) == 0 {
		p.Roll = &pack.Roll{
			ID: "roll", W: length(160, 350), Squared: margin(), Step: units.Yard / 8, Least: units.Yard / 4 * units.Length(r.IntN(2)),
			Price: 900, Per: units.Yard, Shrinks: r.IntN(2) * 300,
		}
		if r.IntN(3) == 0 {
			p.Roll.Most = units.Yard
		}
	}
	p.Rules = pack.Rules{Stages: []int{0, 0, 2, 3}[r.IntN(4)], Keep: units.Size{Along: 2 * units.Inch, Across: 3 * units.Inch}, Layers: r.IntN(5)}
	if r.IntN(3) == 0 {
		p.Rules.Kerf = length(1, 3)
	}
	return p
}
