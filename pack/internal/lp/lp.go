// Package lp solves the small linear programmes of column generation: it makes
// a sum of costs least subject to covering rows and supply rows, gives the
// price of every row, and goes on from where it was when columns are added.
//
// It is a revised simplex with an explicit inverse (Dantzig and Orchard-Hays,
// 1954), rebuilt every so often against rounding. Where it makes no progress the
// basic values are shifted a little (Charnes, Optimality and degeneracy in
// linear programming, Econometrica 20, 1952, in its random form), and what the
// shift spoils is repaired by the dual simplex (Lemke, 1954) in the end. Its
// answers are floating point: good for choosing columns, not for proving
// anything.
//
// Start with [New], [Master.Add] and [Master.Solve].
package lp

import (
	"errors"
	"math"
)

// Sense is the sense of a row.
type Sense uint8

// The senses: a row's sum is at least, or at most, its right side.
const (
	AtLeast Sense = iota
	AtMost
)

// Errors of [Master.Solve].
var (
	ErrInfeasible = errors.New("the columns do not satisfy the rows")
	ErrUnbounded  = errors.New("the cost falls without limit")
	ErrStalled    = errors.New("the simplex method makes no progress")
)

// Entry is a coefficient of a column.
type Entry struct {
	Row   int
	Value float64
}

// Master is a linear programme in non-negative columns. Use [New].
type Master struct {
	m     int
	sense []Sense
	rhs   []float64
	// The first m columns are slacks, the next m artificial, then come the
	// caller's.
	cols []column

	basis    []int // column of each row of the inverse
	basic    []bool
	inverse  []float64 // m x m, row by row
	x        []float64 // values of the basic columns
	y        []float64 // prices of the rows
	age      int       // pivots since the inverse was rebuilt
	fresh    bool      // the basis belongs to the right sides
	pivots   int
	noise    uint64
	singular bool // the last rebuild failed
	shifted  bool // x belongs to the right sides and shiftBy
	shiftBy  []float64

	enter []float64 // the entering column times the inverse
}

type column struct {
	cost    float64
	entries []Entry
}

// New returns a programme without columns. Right sides are not negative.
func New(sense []Sense, rhs []float64) *Master {
	m := len(rhs)
	p := &Master{
		m: m, sense: append([]Sense(nil), sense...), rhs: append([]float64(nil), rhs...),
		basis: make([]int, m), inverse: make([]float64, m*m),
		x: make([]float64, m), y: make([]float64, m), enter: make([]float64, m), shiftBy: make([]float64, m),
	}
	for r := range m {
		sign := 1.0
		if sense[r] == AtLeast {
			sign = -1
		}
		p.cols = append(p.cols, column{entries: []Entry{{r, sign}}})
	}
	for r := range m {
		p.cols = append(p.cols, column{entries: []Entry{{r, 1}}})
	}
	p.basic = make([]bool, 2*m)
	return p
}

// Add appends a column and returns its number. The programme keeps entries.
func (p *Master) Add(cost float64, entries []Entry) int {
	p.cols = append(p.cols, column{cost, entries})
	p.basic = append(p.basic, false)
	return len(p.cols) - 2*p.m - 1
}

// Columns is the number of columns added.
func (p *Master) Columns() int { return len(p.cols) - 2*p.m }

// Pivots is the number of pivots made so far.
func (p *Master) Pivots() int { return p.pivots }

// Prices returns the duals of the last Solve, one a row: not negative for
// AtLeast rows, not positive for AtMost rows, up to rounding. The caller does
// not change them.
func (p *Master) Prices() []float64 { return p.y }

// Values returns the value of each column.
func (p *Master) Values() []float64 {
	v := make([]float64, p.Columns())
	for r, c := range p.basis {
		if c >= 2*p.m {
			v[c-2*p.m] = max(0, p.x[r])
		}
	}
	return v
}

// Cost is the cost of the last solution.
func (p *Master) Cost() float64 {
	var s float64
	for r, c := range p.basis {
		s += p.cols[c].cost * p.x[r]
	}
	return s
}

// Solve finds the least cost over the columns there are.
func (p *Master) Solve() error {
	if !p.fresh || !p.rebuild() {
		p.start()
	}
	if p.artificial() > feasible {
		if err := p.improve(true); err != nil {
			return err
		}
		if p.artificial() > feasible {
			return ErrInfeasible
		}
	}
	return p.improve(false)
}

// Tolerances: of a row's sum, of a reduced cost relative to the largest cost,
// and the smallest number to divide by.
const (
	feasible = 1e-7
	worth    = 1e-9
	pivotal  = 1e-9
)

// start takes slacks into the basis where they do, and artificial columns
// elsewhere.
func (p *Master) start() {
	clear(p.basic)
	for r := range p.m {
		c := r
		if p.sense[r] == AtLeast && p.rhs[r] > 0 {
			c += p.m
		}
		p.basis[r], p.basic[c] = c, true
	}
	p.fresh, p.shifted = true, false
	clear(p.shiftBy)
	p.rebuild()
}

// artificial is how much the artificial columns cover.
func (p *Master) artificial() float64 {
	var s float64
	for r, c := range p.basis {
		if c >= p.m && c < 2*p.m {
			s += math.Abs(p.x[r])
		}
	}
	return s
}

func (p *Master) costOf(c int, phaseOne bool) float64 {
	if !phaseOne {
		return p.cols[c].cost
	}
	if c >= p.m && c < 2*p.m {
		return 1
	}
	return 0
}

// improve pivots until no column is worth entering.
func (p *Master) improve(phaseOne bool) error {
	scale := 1.0
	if !phaseOne {
		scale = 1e-12
		for _, c := range p.cols {
			scale = max(scale, math.Abs(c.cost))
		}
	}
	idle, patience := 0, p.m/4+10
	for range 100*p.m + 10*len(p.cols) + 1000 {
		p.price(phaseOne)
		in := p.entering(phaseOne, worth*scale)
		if in < 0 {
			if p.shifted {
				p.shifted = false
				clear(p.shiftBy)
				if !p.rebuild() && p.singular {
					return ErrStalled
				}
			}
			if p.lowest() >= -feasible {
				return nil
			}
			if err := p.repair(phaseOne); err != nil {
				return err
			}
			patience *= 2
			continue
		}
		p.transform(in)
		row, step := p.leaving(phaseOne)
		if row < 0 {
			if phaseOne {
				return ErrStalled
			}
			return ErrUnbounded
		}
		if idle++; step > 1e-9 {
			idle = 0
		}
		p.pivot(in, row, step)
		if p.age >= 60 && !p.rebuild() {
			if p.singular {
				return ErrStalled
			}
			if err := p.repair(phaseOne); err != nil {
				return err
			}
		}
		if idle > patience {
			p.shift()
			idle = 0
		}
	}
	return ErrStalled
}

// price computes the prices of the rows from the basic costs.
func (p *Master) price(phaseOne bool) {
	clear(p.y)
	for r, c := range p.basis {
		cost := p.costOf(c, phaseOne)
		if cost == 0 {
			continue
		}
		for k, v := range p.inverse[r*p.m : r*p.m+p.m] {
			p.y[k] += cost * v
		}
	}
}

// entering chooses the column of the most negative reduced cost.
func (p *Master) entering(phaseOne bool, least float64) int {
	in, best := -1, -least
	for c := range p.cols {
		if p.basic[c] || p.isArtificial(c) {
			continue
		}
		d := p.costOf(c, phaseOne)
		for _, e := range p.cols[c].entries {
			d -= p.y[e.Row] * e.Value
		}
		if d < best {
			in, best = c, d
		}
	}
	return in
}

// transform multiplies the entering column by the inverse.
func (p *Master) transform(in int) {
	for r := range p.m {
		row := p.inverse[r*p.m : r*p.m+p.m]
		var s float64
		for _, e := range p.cols[in].entries {
			s += row[e.Row] * e.Value
		}
		p.enter[r] = s
	}
}

// leaving is the ratio test: of the rows that block first, up to a tolerance,
// the one with the largest pivot. Once covering is settled, an artificial column
// leaves at any chance.
func (p *Master) leaving(phaseOne bool) (row int, step float64) {
	limit := math.Inf(1)
	for r, d := range p.enter {
		if !phaseOne && p.isArtificial(p.basis[r]) && math.Abs(d) > pivotal {
			limit = 0
		} else if d > pivotal {
			limit = min(limit, (max(0, p.x[r])+1e-10)/d)
		}
	}
	row = -1
	for r, d := range p.enter {
		stuck := !phaseOne && p.isArtificial(p.basis[r]) && math.Abs(d) > pivotal
		if !stuck && (d <= pivotal || max(0, p.x[r])/d > limit) {
			continue
		}
		if row < 0 || math.Abs(d) > math.Abs(p.enter[row]) {
			row = r
		}
	}
	if row < 0 {
		return -1, 0
	}
	if !phaseOne && p.isArtificial(p.basis[row]) {
		return row, 0
	}
	return row, max(0, p.x[row]) / p.enter[row]
}

func (p *Master) isArtificial(c int) bool { return c >= p.m && c < 2*p.m }
