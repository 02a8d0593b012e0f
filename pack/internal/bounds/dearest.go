package bounds

import (
	"math"
	"slices"

	"pinfold/pack/internal/lp"
)

// dearest is the room for finding the copies of greatest worth along an extent
// together with which they are.
type dearest struct {
	worth  []float64 // by extent
	layers []*group  // one a copy, or one for any number of copies
	took   []uint8   // extents of each layer: 0 for none, else the length's place in its group, from 1
	counts []int
}

// copiesOf is how many copies may lie in a length.
func (r *row) copiesOf(at int) int {
	n := 0
	for i := range r.groups {
		g := &r.groups[i]
		if !slices.Contains(g.at[:g.n], at) {
			continue
		}
		if g.copies == 0 {
			return math.MaxInt
		}
		n += g.copies
	}
	return n
}

// dear finds the copies of greatest worth side by side, as a column with a row
// for each length.
func (r *row) dear(value []float64) (float64, []lp.Entry) {
	r.worth = slices.Grow(r.worth[:0], r.extent+1)[:r.extent+1]
	clear(r.worth)
	r.layers, r.took = r.layers[:0], r.took[:0]
	for i := range r.groups {
		g := &r.groups[i]
		var v [2]float64
		for k := range g.n {
			v[k] = value[g.at[k]]
		}
		if v[0] <= 0 && v[1] <= 0 {
			continue
		}
		for range max(g.copies, 1) {
			r.layer(g, v)
		}
	}
	return r.worth[r.extent], r.trace(len(value))
}

// layer adds one copy, or any number of them.
func (r *row) layer(g *group, v [2]float64) {
	r.layers = append(r.layers, g)
	n := len(r.took)
	r.took = slices.Grow(r.took, r.extent+1)[:n+r.extent+1]
	took := r.took[n:]
	// Upwards what was taken may be taken again, downwards not.
	c, end, step := r.extent, -1, -1
	if g.copies == 0 {
		c, end, step = 0, r.extent+1, 1
	}
	for ; c != end; c += step {
		best, how := r.worth[c], uint8(0)
		for k := range g.n {
			if l := g.lengths[k]; c >= l && r.worth[c-l]+v[k] > best+1e-12 {
				best, how = r.worth[c-l]+v[k], uint8(k+1)
			}
		}
		r.worth[c], took[c] = best, how
	}
}

// trace counts the copies behind the greatest worth.
func (r *row) trace(lengths int) []lp.Entry {
	r.counts = slices.Grow(r.counts[:0], lengths)[:lengths]
	clear(r.counts)
	c := r.extent
	for k := len(r.layers) - 1; k >= 0; {
		g := r.layers[k]
		how := r.took[k*(r.extent+1)+c]
		if how > 0 {
			r.counts[g.at[how-1]]++
			c -= g.lengths[how-1]
		}
		if how == 0 || g.copies > 0 {
			k--
		}
	}
	var column []lp.Entry
	for at, n := range r.counts {
		if n > 0 {
			column = append(column, lp.Entry{Row: at, Value: float64(n)})
		}
	}
	return column
}
