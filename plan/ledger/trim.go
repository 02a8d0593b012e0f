package ledger

import "pinfold/units"

// Trim says how offcuts are cut down before they are kept.
type Trim struct {
	Widths []units.Length // of the strips that are kept, widest first; none to keep offcuts as they are
	Keep   units.Size     // the smallest rest worth keeping, either way round
	Kerf   units.Length
}

// Kept is what an offcut becomes: Count pieces of a size.
type Kept struct {
	Size  units.Size
	Count int
}

// Apply cuts an offcut down, edge to edge and along its longer side, so that every
// strip keeps its whole length: as many strips of the widest width as its shorter
// side holds, then of the next, and so on. What remains is kept if it is large
// enough. Sizes are rounded down to what a ruler shows.
func (t Trim) Apply(offcut units.Size, u units.Unit) []Kept {
	if len(t.Widths) == 0 {
		return []Kept{{rounded(offcut, u), 1}}
	}
	upright := offcut.Along >= offcut.Across // strips run along the selvage
	long, rest := offcut.Along, offcut.Across
	if !upright {
		long, rest = rest, long
	}
	size := func(width units.Length) units.Size {
		if upright {
			return rounded(units.Size{Along: long, Across: width}, u)
		}
		return rounded(units.Size{Along: width, Across: long}, u)
	}
	var out []Kept
	for _, w := range t.Widths {
		n := 0
		for rest >= w {
			n++
			rest = max(rest-w-t.Kerf, 0)
		}
		if n > 0 {
			out = append(out, Kept{size(w), n})
		}
	}
	if min(rest, long) >= min(t.Keep.Along, t.Keep.Across) && max(rest, long) >= max(t.Keep.Along, t.Keep.Across) {
		out = append(out, Kept{size(rest), 1})
	}
	return out
}

// rounded rounds both sides down to sixteenths of an inch or whole millimetres,
// unless they are that in the other unit.
func rounded(s units.Size, u units.Unit) units.Size {
	return units.Size{Along: readable(s.Along, u), Across: readable(s.Across, u)}
}

func readable(l units.Length, u units.Unit) units.Length {
	switch {
	case l%(units.Inch/16) == 0 || l%units.Millimetre == 0:
		return l
	case u == units.Centimetres:
		return l.RoundDown(units.Millimetre)
	}
	return l.RoundDown(units.Inch / 16)
}
