package units

import (
	"fmt"
	"strconv"
	"strings"
)

// String prints the length in inches with its unit, as [Length.Format] does.
func (l Length) String() string { return l.Format(Inches) }

// Format prints the length with its unit the way it is said at the cutting
// table: "10 1/2 in", "26.7 cm". A length that is not whole in u's printing
// grid (1/64 in, 1/100 cm) is printed in the other unit when it is whole there,
// else rounded to u's grid behind "about". [Parse] reads every form that has no
// "about" back to the same length.
func (l Length) Format(u Unit) string {
	if s, ok := l.exact(u); ok {
		return s + " " + u.String()
	}
	other := Inches
	if u == Inches {
		other = Centimetres
	}
	if s, ok := l.exact(other); ok {
		return s + " " + other.String()
	}
	grid := uint64(u.printGrid())
	sign, n := l.magnitude()
	s, _ := exact((n+grid/2)/grid*grid, u)
	return "about " + sign + s + " " + u.String()
}

// Number prints the length without its unit when it is whole in u, and like
// [Length.Format] otherwise: "10 1/2" in inches, "6 cm" in inches.
func (l Length) Number(u Unit) string {
	if s, ok := l.exact(u); ok {
		return s
	}
	return l.Format(u)
}

// Vulgar is Number with the fractions ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ as single characters
// joined to the whole number, "10½"; other fractions stay as in Number.
func (l Length) Vulgar(u Unit) string {
	return strings.TrimPrefix(vulgar.Replace(" "+l.Number(u)), " ")
}

var vulgar = strings.NewReplacer(
	" 1/2", "½", " 1/4", "¼", " 3/4", "¾",
	" 1/8", "⅛", " 3/8", "⅜", " 5/8", "⅝", " 7/8", "⅞",
)

func (u Unit) printGrid() Length {
	if u == Centimetres {
		return Centimetre / 100
	}
	return Inch64
}

// magnitude splits off the sign. Unlike negation it holds for every Length.
func (l Length) magnitude() (sign string, n uint64) {
	if l < 0 {
		return "-", -uint64(l)
	}
	return "", uint64(l)
}

func (l Length) exact(u Unit) (string, bool) {
	sign, n := l.magnitude()
	s, ok := exact(n, u)
	return sign + s, ok
}

func exact(n uint64, u Unit) (string, bool) {
	grid := uint64(u.printGrid())
	if n%grid != 0 {
		return "", false
	}
	whole, rest := n/uint64(u.Length()), n%uint64(u.Length())
	if rest == 0 {
		return strconv.FormatUint(whole, 10), true
	}
	if u == Centimetres {
		d := strings.TrimRight(fmt.Sprintf("%02d", rest/grid), "0")
		return fmt.Sprintf("%d.%s", whole, d), true
	}
	num, den := rest/grid, 64
	for num%2 == 0 {
		num, den = num/2, den/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", num, den), true
	}
	return fmt.Sprintf("%d %d/%d", whole, num, den), true
}

// Yards prints the length as the counter says it, "3/8 yd", "1 1/4 yd", when it
// is a whole number of eighths or thirds of a yard, and as Format in inches
// otherwise.
func (l Length) Yards() string {
	if l < 0 {
		return l.Format(Inches)
	}
	for _, den := range []Length{1, 2, 3, 4, 8} {
		step := Yard / den
		if l%step != 0 {
			continue
		}
		whole, num := l/Yard, l%Yard/step
		switch {
		case num == 0:
			return fmt.Sprintf("%d yd", whole)
		case whole == 0:
			return fmt.Sprintf("%d/%d yd", num, den)
		}
		return fmt.Sprintf("%d %d/%d yd", whole, num, den)
	}
	return l.Format(Inches)
}

// Metres prints the length as a metric counter says it, "0.75 m".
func (l Length) Metres() string {
	if l < 0 || l%Centimetre != 0 {
		return l.Format(Centimetres)
	}
	return strconv.FormatFloat(float64(l/Centimetre)/100, 'f', -1, 64) + " m"
}
