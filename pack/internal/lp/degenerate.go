package lp

import "math"

// shift makes every basic value a little larger, all differently, so that the
// next steps have some length.
func (p *Master) shift() {
	p.shifted = true
	for r := range p.x {
		if !p.isArtificial(p.basis[r]) {
			p.noise = p.noise*6364136223846793005 + 1442695040888963407
			by := max(p.x[r], 0) - p.x[r] + (1+float64(p.noise>>40)/(1<<24))*1e-6
			p.x[r] += by
			for _, e := range p.cols[p.basis[r]].entries {
				p.shiftBy[e.Row] += by * e.Value
			}
		}
	}
}

// lowest is the least basic value.
func (p *Master) lowest() float64 {
	low := 0.0
	for _, v := range p.x {
		low = min(low, v)
	}
	return low
}

// repair pivots until no basic value is negative, keeping the prices good: the
// dual simplex.
func (p *Master) repair(phaseOne bool) error {
	for range 20*p.m + 200 {
		row, low := -1, -feasible
		for r, v := range p.x {
			if v < low {
				row, low = r, v
			}
		}
		if row < 0 {
			return nil
		}
		p.price(phaseOne)
		line := p.inverse[row*p.m : row*p.m+p.m]
		in, best, size := -1, math.Inf(1), 0.0
		for c := range p.cols {
			if p.basic[c] || p.isArtificial(c) {
				continue
			}
			var a float64
			d := p.costOf(c, phaseOne)
			for _, e := range p.cols[c].entries {
				a += line[e.Row] * e.Value
				d -= p.y[e.Row] * e.Value
			}
			if a > -pivotal {
				continue
			}
			if q := max(0, d) / -a; q < best-1e-12 || q < best+1e-12 && -a > size {
				in, best, size = c, q, -a
			}
		}
		if in < 0 {
			return ErrStalled
		}
		p.transform(in)
		p.pivot(in, row, p.x[row]/p.enter[row])
		if p.age >= 60 && !p.rebuild() && p.singular {
			return ErrStalled
		}
	}
	return ErrStalled
}
