package reports

import (
	"fmt"

	"pinfold/pack"
	"pinfold/units"
)

// scale is how many times smaller than the cloth a picture is, in halves: 7 is
// 1 : 3.5.
type scale int64

// paper converts a length of cloth to one on paper.
func (s scale) paper(l units.Length) units.Length { return 2 * l / units.Length(s) }

// cloth converts a length on paper to one of cloth, rounded down.
func (s scale) cloth(l units.Length) units.Length { return l * units.Length(s) / 2 }

// String prints the scale, "1 : 3.5".
func (s scale) String() string {
	if s%2 == 1 {
		return fmt.Sprintf("1 : %d.5", s/2)
	}
	return fmt.Sprintf("1 : %d", s/2)
}

// next is the next smaller of the scales one likes to read: halves up to 1 : 6,
// whole numbers up to 1 : 12, then steps of about a sixth.
func (s scale) next() scale {
	switch {
	case s < 12:
		return s + 1
	case s < 24:
		return s + 2
	}
	unit := scale(10)
	for s >= 10*unit {
		unit *= 10
	}
	return (s/unit + 1) * unit
}

// legible is the least a piece's shorter side should measure on paper, to hold
// its letter; the least on one page is what it may measure before the picture is
// parted, for one picture a little small is read more easily than two.
const (
	legible          = 12 * point
	legibleOnOnePage = legible * 5 / 6
)

// mostTiles is how many pages one picture may be spread over.
const mostTiles = 8

// tiling is how a sheet is laid onto paper: a scale and the parts of the raw
// cloth that each page shows.
type tiling struct {
	scale scale
	views []pack.Rect // in the sheet's own measures, lower ones first
}

// tile chooses the largest scale at which the sheet fits a box on paper; if its
// pieces get too small to read there, a larger scale and several boxes.
func (s *Sheet) tile(w, h units.Length) tiling {
	small := s.smallest()
	fits := scale(2)
	for fits.paper(s.RawW) > w || fits.paper(s.RawH) > h {
		fits = fits.next()
	}
	if fits.paper(small) >= legibleOnOnePage {
		return tiling{fits, []pack.Rect{s.raw()}}
	}
	at := scale(2)
	for at < fits {
		next := at.next()
		if next.paper(small) < legible && s.tiles(at, w, h) <= mostTiles {
			break
		}
		at = next
	}
	if at.paper(small) < legible/2 {
		// A roll so long that no number of pages makes its rows readable: equal
		// rows are told by the measures beside them, and one picture shows that.
		return tiling{fits, []pack.Rect{s.raw()}}
	}
	return tiling{at, s.views(at, w, h)}
}

// smallest is the shortest side of the sheet's pieces.
func (s *Sheet) smallest() units.Length {
	small := s.W + s.H
	for _, p := range s.Pieces {
		small = min(small, p.W, p.H)
	}
	return small
}

// raw is the whole cloth in the sheet's measures.
func (s *Sheet) raw() pack.Rect {
	return pack.Rect{X: -s.Edges[Left].Trim, Y: -s.Edges[Bottom].Trim, W: s.RawW, H: s.RawH}
}

func (s *Sheet) tiles(at scale, w, h units.Length) int {
	return ceil(s.RawW, at.cloth(w)) * ceil(s.RawH, at.cloth(h))
}

func ceil(a, b units.Length) int { return int((a + b - 1) / b) }

// views parts the cloth into as few boxes as the scale allows, about equal ones. It
// breaks at the cut of the first level nearest to that, if one is near.
func (s *Sheet) views(at scale, w, h units.Length) []pack.Rect {
	raw := s.raw()
	root := s.layout.Cuts
	breaks := func(axis pack.Axis, from, to, most units.Length) []units.Length {
		var out []units.Length
		for n := units.Length(ceil(to-from, most)); n > 1; n-- {
			even := from + (to-from)/n
			least, best := max(from+(even-from)/2, to-(n-1)*most), even
			if root.Leaf == pack.NoLeaf && root.Axis == axis {
				off := to - from
				for _, c := range root.At {
					if d := max(c-even, even-c); c >= least && c <= from+most && d < off {
						best, off = c, d
					}
				}
			}
			out = append(out, best)
			from = best
		}
		return append(out, to)
	}
	var views []pack.Rect
	y := raw.Y
	for _, top := range breaks(pack.Y, raw.Y, raw.Y+raw.H, at.cloth(h)) {
		x := raw.X
		for _, right := range breaks(pack.X, raw.X, raw.X+raw.W, at.cloth(w)) {
			views = append(views, pack.Rect{X: x, Y: y, W: right - x, H: top - y})
			x = right
		}
		y = top
	}
	return views
}
