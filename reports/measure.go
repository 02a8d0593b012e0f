package reports

import "pinfold/units"

// vulgarSize prints a piece's size exactly and without its unit, "2½ × 4".
func vulgarSize(s units.Size, u units.Unit) string {
	return s.Along.Vulgar(u) + " × " + s.Across.Vulgar(u)
}

// unitAfter is the unit to print after a size whose numbers carry none.
func unitAfter(s units.Size, u units.Unit) string {
	if s.Number(u)+" "+u.String() == s.Format(u) {
		return " " + u.String()
	}
	return ""
}

// rough prints what remains of cloth the way a ruler shows it: exactly when it
// lies on a mark (1/16 in or 1 mm), else as about the nearest 1/8 in or 1 mm.
// Cloth shrunk by a percentage, or measured in the other unit, seldom lies on
// one. What pieces measure is always printed exactly.
func rough(l units.Length, u units.Unit) string {
	mark := units.Inch / 16
	if u == units.Centimetres {
		mark = units.Millimetre
	}
	if l%mark == 0 {
		return l.Vulgar(u)
	}
	near := (l + u.Grid()/2).RoundDown(u.Grid())
	if near == 0 {
		return "a sliver"
	}
	return "≈ " + near.Vulgar(u)
}

// roughSize is a size without its unit, each side as rough prints it.
func roughSize(s units.Size, u units.Unit) string {
	return rough(s.Along, u) + " × " + rough(s.Across, u)
}
