package lp

import "math"

// pivot exchanges the basic column of a row for another.
func (p *Master) pivot(in, row int, step float64) {
	m := p.m
	p.basic[p.basis[row]], p.basic[in] = false, true
	p.basis[row] = in
	d := p.enter[row]
	lead := p.inverse[row*m : row*m+m]
	for k := range lead {
		lead[k] /= d
	}
	for r := range m {
		f := p.enter[r]
		if r == row || f == 0 {
			continue
		}
		p.x[r] -= f * step
		line := p.inverse[r*m : r*m+m]
		for k, v := range lead {
			line[k] -= f * v
		}
	}
	p.x[row] = step
	p.age++
	p.pivots++
}

// rebuild inverts the basis afresh by Gauss-Jordan elimination with row
// exchanges and recomputes the values. It returns false when the basis is
// singular or its values do not satisfy the rows.
func (p *Master) rebuild() bool {
	m := p.m
	b := make([]float64, m*m)
	for k, c := range p.basis {
		for _, e := range p.cols[c].entries {
			b[e.Row*m+k] += e.Value
		}
	}
	inv := p.inverse
	clear(inv)
	for r := range m {
		inv[r*m+r] = 1
	}
	for k := range m {
		best := k
		for r := k + 1; r < m; r++ {
			if math.Abs(b[r*m+k]) > math.Abs(b[best*m+k]) {
				best = r
			}
		}
		d := b[best*m+k]
		if math.Abs(d) < 1e-11 {
			p.singular = true
			return false
		}
		if best != k {
			for c := range m {
				b[k*m+c], b[best*m+c] = b[best*m+c], b[k*m+c]
				inv[k*m+c], inv[best*m+c] = inv[best*m+c], inv[k*m+c]
			}
		}
		for c := range m {
			b[k*m+c] /= d
			inv[k*m+c] /= d
		}
		for r := range m {
			f := b[r*m+k]
			if r == k || f == 0 {
				continue
			}
			for c := k; c < m; c++ {
				b[r*m+c] -= f * b[k*m+c]
			}
			for c := range m {
				inv[r*m+c] -= f * inv[k*m+c]
			}
		}
	}
	p.age, p.singular = 0, false
	ok := true
	for r := range m {
		var s float64
		for k, v := range inv[r*m : r*m+m] {
			s += v * (p.rhs[k] + p.shiftBy[k])
		}
		if s < -feasible {
			ok = false
		}
		p.x[r] = s
	}
	return ok
}
