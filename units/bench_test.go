package units

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"42", "10 1/2", "10½ in", "26,7 cm", "1 1/4 yd"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(text, Inches); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFormat(b *testing.B) {
	for _, l := range []Length{21 * Inch / 2, 267 * Millimetre} {
		b.Run(l.String(), func(b *testing.B) {
			for b.Loop() {
				_ = l.Format(Inches)
			}
		})
	}
}
