package dp

import "pinfold/pack/internal/model"

// split is how a rectangle of a table reaches its value.
type split struct {
	kind  splitKind
	shape int32 // of a leaf
	part  int32 // index of the first part's size, or of the smaller rectangle
}

type splitKind uint8

const (
	nothing splitKind = iota
	leaf
	cutX   // a first part and the rest side by side
	cutY   // a first part and the rest above each other
	shrunk // the next smaller rectangle along x does as well
	sunk   // the next smaller rectangle along y does as well
	inner  // the table one stage down does as well
)

// level names a table: the free one, or one of a tower.
type level struct {
	tower, stage int // stage is -1 for the free table
}

func (t *Table) at(l level) []int64 {
	if l.stage < 0 {
		return t.best
	}
	return t.towers[l.tower][l.stage]
}

// axis is the one the last stage of the level cuts along.
func (l level) axis() model.Axis { return model.Axis((l.tower + l.stage + 1) % 2) }

// top is the level whose value the rectangle has.
func (t *Table) top(i, j int) level {
	if t.stages == 0 {
		return level{stage: -1}
	}
	k := i*len(t.y) + j
	if t.towers[0][t.stages][k] == t.best[k] {
		return level{0, t.stages}
	}
	return level{1, t.stages}
}

// split finds again how the rectangle (i, j) got its value. Single items come
// first, then smaller rectangles, so that layouts stay simple and their waste
// lies together.
func (t *Table) split(l level, i, j int) split {
	ny := len(t.y)
	f := t.at(l)
	v := f[i*ny+j]
	if v == 0 {
		return split{}
	}
	if l.stage <= 0 {
		for row := j; row > 0; row-- {
			for k := t.of[row]; k < t.of[row+1]; k++ {
				if s := t.shapes[k]; int(s.i) <= i && t.value[s.item] == v {
					return split{leaf, int32(k), 0}
				}
			}
		}
	}
	if l.stage != 0 {
		if f[(i-1)*ny+j] == v {
			return split{kind: shrunk, part: int32(i - 1)}
		}
		if f[i*ny+j-1] == v {
			return split{kind: sunk, part: int32(j - 1)}
		}
	}
	one := f // where first parts come from
	if l.stage > 0 {
		if one = t.at(level{l.tower, l.stage - 1}); one[i*ny+j] == v {
			return split{kind: inner}
		}
	}
	if l.stage < 0 || l.axis() == model.AxisX {
		for a := 1; a < i; a++ {
			if u := one[a*ny+j]; u > 0 && u+f[int(t.px[t.x[i]-t.x[a]])*ny+j] == v {
				return split{kind: cutX, part: int32(a)}
			}
		}
	}
	if l.stage < 0 || l.axis() == model.AxisY {
		for b := 1; b < j; b++ {
			if u := one[i*ny+b]; u > 0 && u+f[i*ny+int(t.py[t.y[j]-t.y[b]])] == v {
				return split{kind: cutY, part: int32(b)}
			}
		}
	}
	panic("dp: a value without a filling")
}
