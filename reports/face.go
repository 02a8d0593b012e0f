package reports

import (
	"encoding/binary"
	"slices"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"pinfold/units"
)

// face holds what is needed of a TrueType font to set text: which characters it
// has and how wide they are. The tables read are those of the OpenType
// specification: head, hhea, hmtx and a cmap of format 4.
type face struct {
	ttf    []byte
	perEm  units.Length
	widths map[rune]units.Length // in font units
}

var (
	regular = sync.OnceValue(func() *face { return readFace(goregular.TTF) })
	bold    = sync.OnceValue(func() *face { return readFace(gobold.TTF) })
)

// faceOf chooses between the two embedded faces.
func faceOf(b bool) *face {
	if b {
		return bold()
	}
	return regular()
}

// bytes returns a copy of the font file: the PDF library writes into the bytes
// it is given, and documents may be made at the same time.
func (f *face) bytes() []byte { return slices.Clone(f.ttf) }

// has tells whether the face can draw the character.
func (f *face) has(r rune) bool {
	_, ok := f.widths[r]
	return ok
}

// width is how wide the text is at a font size.
func (f *face) width(s string, size units.Length) units.Length {
	var w units.Length
	for _, r := range s {
		w += f.widths[r]
	}
	return w * size / f.perEm
}

// readFace reads an embedded font, so a font it cannot read is a bug of ours
// that the first test finds.
func readFace(ttf []byte) *face {
	u16 := func(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
	u32 := func(b []byte, at int) int { return int(binary.BigEndian.Uint32(b[at:])) }
	tables := map[string][]byte{}
	for i := range u16(ttf, 4) {
		entry := 12 + 16*i
		tables[string(ttf[entry:entry+4])] = ttf[u32(ttf, entry+8):]
	}
	f := &face{ttf: ttf, perEm: units.Length(u16(tables["head"], 18)), widths: map[rune]units.Length{}}
	advances := u16(tables["hhea"], 34)
	advance := func(glyph int) units.Length {
		return units.Length(u16(tables["hmtx"], 4*min(glyph, advances-1)))
	}
	cmap := tables["cmap"]
	for i := range u16(cmap, 2) {
		entry := 4 + 8*i
		sub := cmap[u32(cmap, entry+4):]
		if u16(cmap, entry) != 3 || u16(cmap, entry+2) != 1 || u16(sub, 0) != 4 {
			continue // only Windows, Unicode BMP, format 4
		}
		twice := u16(sub, 6) // twice the number of segments
		ends, starts := 14, 16+twice
		deltas, offsets := starts+twice, starts+2*twice
		for s := 0; s < twice; s += 2 {
			for c := u16(sub, starts+s); c <= u16(sub, ends+s) && c < 0xffff; c++ {
				glyph := c
				if o := u16(sub, offsets+s); o != 0 {
					glyph = u16(sub, offsets+s+o+2*(c-u16(sub, starts+s)))
				}
				if glyph = (glyph + u16(sub, deltas+s)) & 0xffff; glyph != 0 {
					f.widths[rune(c)] = advance(glyph)
				}
			}
		}
	}
	return f
}
