package reports

import (
	"testing"

	"github.com/jung-kurt/gofpdf"
	"github.com/stretchr/testify/assert"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"pinfold/units"
)

// The PDF library reads the same fonts with code of its own.
func TestWidthsAgreeWithThePDFLibrary(t *testing.T) {
	for style, ttf := range map[string][]byte{"": goregular.TTF, "B": gobold.TTF} {
		pdf := gofpdf.New("P", "pt", "A4", "")
		pdf.AddUTF8FontFromBytes("go", style, append([]byte(nil), ttf...))
		pdf.SetFont("go", style, 10)
		for _, text := range []string{"Lantern fair", "2½ × 4⅝", "ÄŐčжλ", "≈ 1,234.5%", "cut 3 like this"} {
			got := pt(faceOf(style == "B").width(text, units.Inch)) / 7.2
			assert.InDelta(t, pdf.GetStringWidth(text), got, 0.02, "%q %q", style, text)
		}
	}
}

func TestFaceKnowsWhatItLacks(t *testing.T) {
	for _, r := range "aZ½¼¾⅛⅜⅝⅞×≈Ωя″" {
		assert.True(t, regular().has(r) && bold().has(r), "%c", r)
	}
	for _, r := range "⅓灯😀ع\u0301\uffff" {
		assert.False(t, regular().has(r), "%U", r)
	}
}

func TestWrapKeepsTheWidth(t *testing.T) {
	f := Font{Size: 10 * point}
	text := "short words and then Pneumonoultramicroscopicsilicovolcanoconiosis iii"
	for w := 12 * point; w < 300*point; w += 7 * point {
		for _, most := range []int{0, 1, 3} {
			lines := wrap(text, f, units.Length(w), most)
			for _, l := range lines {
				assert.LessOrEqual(t, f.width(l), units.Length(w), "%q", l)
			}
			if most > 0 {
				assert.LessOrEqual(t, len(lines), most)
			}
		}
	}
	assert.Equal(t, []string{"one two"}, wrap(" one\n two ", f, 300*point, 1))
}

func TestLexiconNumbersRuns(t *testing.T) {
	var l lexicon
	assert.Equal(t, "a [1] b", l.say("a 灯笼 b"))
	assert.Equal(t, "[2]½ [1]", l.say("😀\ufe0f½ 灯笼"))
	assert.Equal(t, []string{"[1] stands for U+706F U+7B3C (Han)", "[2] stands for U+1F600 U+FE0F (symbol)"}, l.legend())
}
