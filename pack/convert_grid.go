package pack

import (
	"pinfold/pack/internal/model"
	"pinfold/units"
)

// finest is how many steps a sheet's side is divided into at most for the sake of
// bad areas: a 20 in side into 1/64 in.
const finest = 1280

// divisors finds the common divisor of what must be whole along each axis.
func (s *scaled) divisors() {
	k := s.problem.Rules.Kerf
	turns := false
	for _, q := range s.problem.Pieces {
		if q.Demand == 0 {
			continue
		}
		s.gx, s.gy = model.GCD(s.gx, q.W+k), model.GCD(s.gy, q.H+k)
		turns = turns || q.Turn && q.W != q.H
	}
	s.edges(k)
	if turns {
		s.gx = model.GCD(s.gx, s.gy)
		s.gy = s.gx
	}
	s.gx, s.gy = max(s.gx, 1), max(s.gy, 1)
	for s.coarse() && s.gx%2 == 0 && s.gy%2 == 0 {
		s.gx, s.gy = s.gx/2, s.gy/2
	}
}

// edges brings the upper and right edges of what is bad onto the grid: from there a
// piece may begin. On a grid too fine the bad areas grow to the pieces' grid
// instead.
func (s *scaled) edges(k units.Length) {
	gx, gy := s.gx, s.gy
	var w, h units.Length
	for _, sh := range s.problem.Sheets {
		w, h = max(w, sh.W), max(h, sh.H)
		usableW, usableH := sh.Usable()
		for _, b := range sh.Bad {
			if b.X+b.W < usableW {
				gx = model.GCD(gx, b.X+b.W+k)
			}
			if b.Y+b.H < usableH {
				gy = model.GCD(gy, b.Y+b.H+k)
			}
		}
		for i := range sh.Outline {
			a, b := sh.Outline.edge(i)
			if a.X == b.X && a.X < usableW {
				gx = model.GCD(gx, a.X)
			}
			if a.Y == b.Y && a.Y < usableH {
				gy = model.GCD(gy, a.Y)
			}
		}
	}
	if gx > 0 && w/gx <= finest {
		s.gx = gx
	}
	if gy > 0 && h/gy <= finest {
		s.gy = gy
	}
}

// coarse tells whether the grid is too coarse for a slanted edge: narrower than
// many cells is the narrowest sheet with one, and halving the cells keeps every
// side within finest.
func (s *scaled) coarse() bool {
	const many = 48
	coarse := false
	for _, sh := range s.problem.Sheets {
		if sh.W/s.gx > finest/2 || sh.H/s.gy > finest/2 {
			return false
		}
		coarse = coarse || sh.Outline.slanted() && min(sh.W/s.gx, sh.H/s.gy) < many
	}
	return coarse
}
