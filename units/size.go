package units

import (
	"fmt"
	"strings"
)

// Size is a rectangle as the trade writes it: along the selvage x across the
// bolt, "18 x 22".
type Size struct {
	Along, Across Length
}

// Area returns the rectangle's area.
func (s Size) Area() Area { return AreaOf(s.Along, s.Across) }

// Format prints the size with its unit: "2 x 4 in", or "2 1/2 in x 6 cm" when
// the sides need different units.
func (s Size) Format(u Unit) string {
	_, a := s.Along.exact(u)
	_, b := s.Across.exact(u)
	if a && b {
		return s.Along.Number(u) + " x " + s.Across.Format(u)
	}
	return s.Along.Format(u) + " x " + s.Across.Format(u)
}

// Number prints the size without its unit where both sides are whole in u, and
// like [Size.Format] otherwise: a bare side beside one with a unit would read as
// that unit.
func (s Size) Number(u Unit) string {
	_, a := s.Along.exact(u)
	_, b := s.Across.exact(u)
	if a && b {
		return s.Along.Number(u) + " x " + s.Across.Number(u)
	}
	return s.Format(u)
}

// ParseSize reads two lengths with x, X or × between them: "2 x 4", "2x4 in",
// "2 1/2 in x 6 cm", `2" × 4"`. A unit on one side only holds for both; bare
// sides take u. Sides must be positive.
func ParseSize(s string, u Unit) (Size, error) { return parseSize(s, u, exactOnly) }

// ParseSizeRounded is ParseSize with [ParseRounded] for each side.
func ParseSizeRounded(s string, u Unit, r Rounding) (Size, error) { return parseSize(s, u, r) }

var crosses = strings.NewReplacer("X", "x", "×", "x")

func parseSize(s string, u Unit, r Rounding) (Size, error) {
	parts := strings.Split(crosses.Replace(s), "x")
	if len(parts) != 2 {
		return Size{}, fmt.Errorf("cannot read %.60q as a size: write two lengths with x between them, like 2 1/2 x 4", s)
	}
	a, errA := scan(parts[0])
	b, errB := scan(parts[1])
	if errA != nil {
		return Size{}, errA
	}
	if errB != nil {
		return Size{}, errB
	}
	if a.unit == "" {
		a.unit = b.unit
	} else if b.unit == "" {
		b.unit = a.unit
	}
	along, err := a.length(u, r)
	if err != nil {
		return Size{}, err
	}
	across, err := b.length(u, r)
	if err != nil {
		return Size{}, err
	}
	if along == 0 || across == 0 {
		return Size{}, fmt.Errorf("size %q has a side of 0", s)
	}
	return Size{Along: along, Across: across}, nil
}
