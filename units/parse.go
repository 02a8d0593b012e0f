package units

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"unicode"
)

// Rounding says what [ParseRounded] does with a number that is not exact in
// ticks. The grid it rounds to is 1/64 in for inches, feet and yards, and 1/10 mm
// for metric units. The zero value rounds nothing: what is not exact is refused.
type Rounding uint8

// The directions: needs are rounded up, stock is rounded down, so that no
// rounding ever makes a plan that cannot be cut.
const (
	exactOnly Rounding = iota
	Up
	Down
	// Nearest is for what is measured but never cut, such as a ball: it rounds to
	// the nearest tick, whatever the unit's grid.
	Nearest
)

// Parse reads a length: a whole number, a decimal with point or comma, a
// fraction or a mixed number (10 1/2, 10-1/2, 10½), then a unit (in, ", cm, mm,
// m, yd, ft) or none, which means u. Anything not exact in ticks is refused, and
// so is anything negative or above 6710 m (then the error wraps
// [ErrOverflow]). Errors quote the text and say what to write instead.
func Parse(s string, u Unit) (Length, error) { return parse(s, u, exactOnly) }

// ParseRounded is Parse, but rounds a number that is not exact in ticks up or
// down to the written unit's grid: 10.4 in is 10 13/32 in Up and 10 25/64 in
// Down.
func ParseRounded(s string, u Unit, r Rounding) (Length, error) { return parse(s, u, r) }

func parse(s string, u Unit, r Rounding) (Length, error) {
	q, err := scan(s)
	if err != nil {
		return 0, err
	}
	return q.length(u, r)
}

// quantity is a scanned number with the unit it was written in ("" for none).
type quantity struct {
	text string
	num  *big.Rat
	unit string
}

var (
	shape  = regexp.MustCompile(`^(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*/\s*(\d+)$|^(\d+(?:[.,]\d+)?|\.\d+)$`)
	signs  = map[rune]string{'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅓': "1/3", '⅔': "2/3"}
	ticks  = map[string]Length{"in": Inch, "cm": Centimetre, "mm": Millimetre, "m": Metre, "yd": Yard, "ft": Foot}
	naming = map[string]string{
		"in": "in", "inch": "in", "inches": "in", `"`: "in", "″": "in", "”": "in", "''": "in",
		"cm": "cm", "mm": "mm", "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
		"yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd", "ft": "ft", "foot": "ft", "feet": "ft",
	}
)

// The longest length that can be written: whole metres below [MaxLength], so
// that rounding up never passes it.
const longest = MaxLength / Metre * Metre

// The longest text that is read as a number: enough for any length, short
// enough that no input can cost time.
const maxText = 64

func scan(s string) (quantity, error) {
	t := strings.TrimSpace(s)
	if t == "" {
		return quantity{}, fmt.Errorf("no length given: write a number like 10 1/2")
	}
	if len(t) > maxText {
		return quantity{}, fmt.Errorf("cannot read %.20q... as a length: it is too long", t)
	}
	if strings.HasPrefix(t, "-") || strings.HasPrefix(t, "−") {
		return quantity{}, fmt.Errorf("length %q is negative", s)
	}
	var b strings.Builder
	for _, c := range t {
		if f, ok := signs[c]; ok {
			b.WriteString(" " + f)
		} else {
			b.WriteRune(c)
		}
	}
	t = strings.TrimSpace(strings.ReplaceAll(b.String(), "⁄", "/"))
	cut := strings.IndexFunc(t, func(c rune) bool {
		return !strings.ContainsRune("0123456789.,/-", c) && !unicode.IsSpace(c)
	})
	name := ""
	if cut >= 0 {
		name, t = strings.ToLower(strings.TrimSpace(t[cut:])), t[:cut]
	}
	t = strings.Join(strings.Fields(t), " ")
	m := shape.FindStringSubmatch(t)
	if m == nil {
		return quantity{}, fmt.Errorf("cannot read %q as a length: write a number like 10 1/2, 10.5 or 26.7 cm", s)
	}
	q := quantity{text: s, num: new(big.Rat)}
	if name != "" {
		unit, ok := naming[name]
		if !ok {
			return quantity{}, fmt.Errorf("unknown unit %q in %q: write in, cm, mm, m, yd or ft", name, s)
		}
		q.unit = unit
	}
	if m[4] != "" {
		q.num.SetString("0" + strings.ReplaceAll(m[4], ",", "."))
		return q, nil
	}
	den, _ := new(big.Int).SetString(m[3], 10)
	if den.Sign() == 0 {
		return quantity{}, fmt.Errorf("%q divides by 0", s)
	}
	num, _ := new(big.Int).SetString(m[2], 10)
	q.num.SetFrac(num, den)
	if m[1] != "" {
		whole, _ := new(big.Int).SetString(m[1], 10)
		q.num.Add(q.num, new(big.Rat).SetInt(whole))
	}
	return q, nil
}

func (q quantity) length(u Unit, r Rounding) (Length, error) {
	unit := q.unit
	if unit == "" {
		unit = u.String()
	}
	x := new(big.Rat).Mul(q.num, new(big.Rat).SetInt64(int64(ticks[unit])))
	if x.Cmp(new(big.Rat).SetInt64(int64(longest))) > 0 {
		return 0, fmt.Errorf("length %q is %w: the most is %s", q.text, ErrOverflow, longest.Metres())
	}
	if x.IsInt() {
		return Length(x.Num().Int64()), nil
	}
	grid := Inch64
	if unit == "cm" || unit == "mm" || unit == "m" {
		grid = Millimetre / 10
	}
	steps := new(big.Rat).Quo(x, new(big.Rat).SetInt64(int64(grid)))
	low := Length(new(big.Int).Quo(steps.Num(), steps.Denom()).Int64()) * grid
	switch r {
	case Nearest:
		x.Add(x, big.NewRat(1, 2))
		return Length(new(big.Int).Quo(x.Num(), x.Denom()).Int64()), nil
	case Down:
		return low, nil
	case Up:
		return low + grid, nil
	}
	pu := Inches
	if grid != Inch64 {
		pu = Centimetres
	}
	return 0, fmt.Errorf("length %q is not exact: write %s or %s", q.text, low.Format(pu), (low + grid).Format(pu))
}
