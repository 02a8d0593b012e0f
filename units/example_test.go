package units_test

import (
	"fmt"

	"pinfold/units"
)

func ExampleParse() {
	for _, text := range []string{"10 1/2", "10½ in", "26,7 cm", "1/2 yd", "0.3333 yd"} {
		l, err := units.Parse(text, units.Inches)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(l.Format(units.Inches))
	}
	// Output:
	// 10 1/2 in
	// 10 1/2 in
	// 26.7 cm
	// 18 in
	// length "0.3333 yd" is not exact: write 11 63/64 in or 12 in
}

func ExampleParseSize() {
	s, _ := units.ParseSize("2 1/2 x 4", units.Inches)
	fmt.Println(s.Format(units.Inches), "is", s.Area().Format(units.Inches))
	// Output: 2 1/2 x 4 in is 10.0 sq in
}

func ExampleLength_RoundUp() {
	need, _ := units.Parse("10.4", units.Inches)
	fmt.Println(need)
	need, _ = units.ParseRounded("10.4", units.Inches, units.Up)
	fmt.Println(need, "becomes", need.RoundUp(units.Inches.Grid()))
	// Output:
	// 0 in
	// 10 13/32 in becomes 10 1/2 in
}

func ExampleLength_Yards() {
	fmt.Println((45 * units.Inch).Yards(), (75 * units.Centimetre).Metres(), (21 * units.Inch / 2).Vulgar(units.Inches))
	// Output: 1 1/4 yd 0.75 m 10½
}

// A length is said in the unit it is whole in, and what is whole in neither is
// said to be about that.
func ExampleLength_Format() {
	for _, l := range []units.Length{10*units.Inch + units.Inch/2, 26*units.Centimetre + 7*units.Millimetre, units.Inch + 1} {
		fmt.Println(l.Format(units.Inches), "|", l.Format(units.Centimetres))
	}
	// Output:
	// 10 1/2 in | 26.67 cm
	// 26.7 cm | 26.7 cm
	// about 1 in | about 2.54 cm
}
