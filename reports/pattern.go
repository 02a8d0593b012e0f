package reports

import (
	"math"
	"slices"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// swatch is how a fabric is shown: a colour, and a pattern of lines or dots that
// tells it from the others in black and white too.
type swatch struct {
	colour  Colour
	pattern pattern
	gap     units.Length
}

// pattern is a way to fill an area.
type pattern uint8

const (
	blank pattern = iota
	rising
	dotted
	upright
	crossed
	level
	falling
	checked
	patterns // how many there are
)

// colourWords are the colours that names of fabrics tell.
var colourWords = map[string]Colour{
	"navy": 0x24406b, "blue": 0x4a7ab5, "sky": 0xa9cfe6, "teal": 0x2a7f86, "aqua": 0x8ccfcf, "turquoise": 0x5cbdb9,
	"green": 0x5b8c5a, "sage": 0xaebf9e, "olive": 0x7d7d45, "mint": 0xbfe3cf, "yellow": 0xf4d35e, "gold": 0xd9a93a, "mustard": 0xcf9f35,
	"orange": 0xe58a3c, "rust": 0xa9532e, "red": 0xbf3b33, "crimson": 0x9d2235, "coral": 0xee8371, "pink": 0xeeb4bd, "rose": 0xd98a95,
	"purple": 0x75528c, "plum": 0x7b4666, "lilac": 0xc9b3d9, "brown": 0x7d5a40, "tan": 0xc9ab82, "beige": 0xe3d5b8, "cream": 0xf6ecd2,
	"ivory": 0xf7f2e2, "white": 0xffffff, "grey": 0xa3a9ad, "gray": 0xa3a9ad, "silver": 0xcfd4d8, "charcoal": 0x4a4f55, "black": 0x26282b,
	"amber": 0xe0a030, "copper": 0xb06a3f, "bronze": 0x8c6a3a, "peach": 0xf5c6a0, "scarlet": 0xc8302b, "burgundy": 0x6f2436, "maroon": 0x6f2436,
	"indigo": 0x3b4a80, "violet": 0x8a6bb0, "lavender": 0xc5b8e0, "emerald": 0x3f8f67, "lime": 0xb5d05a, "ecru": 0xe8dcc0,
}

// otherColours are given in turn to fabrics whose names tell no colour.
var otherColours = []Colour{0x3f6f9f, 0xf3e6bd, 0xcb6450, 0xf0bb45, 0x77a574, 0x9b7199, 0xa8cddd, 0xc2ad93}

// swatches gives every fabric of a plan its looks, the same on all pages.
func swatches(p *plan.Plan) map[string]swatch {
	out := map[string]swatch{}
	var used []Colour // told by names
	for i, f := range p.Fabrics {
		s := swatch{colour: toldColour(f.Name), pattern: pattern(i % int(patterns)), gap: 5 * point}
		// More fabrics than patterns: the same ones, wider.
		s.gap += 3 * point * units.Length(i/int(patterns)%3)
		if s.colour != NoColour {
			used = append(used, s.colour)
		}
		out[f.Name] = s
	}
	var others []Colour
	for _, c := range otherColours {
		if !slices.ContainsFunc(used, func(u Colour) bool { return near(c, u) }) {
			others = append(others, c)
		}
	}
	if len(others) == 0 {
		others = otherColours
	}
	next := 0
	for _, f := range p.Fabrics {
		if s := out[f.Name]; s.colour == NoColour {
			s.colour = others[next%len(others)]
			next++
			out[f.Name] = s
		}
	}
	return out
}

// toldColour is the first colour that a name tells, NoColour if none.
func toldColour(name string) Colour {
	for _, w := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if c, ok := colourWords[w]; ok {
			return c
		}
	}
	return NoColour
}

// near tells whether two colours are easily taken for each other.
func near(a, b Colour) bool {
	r, g, bl := a.RGB()
	r2, g2, b2 := b.RGB()
	return (r-r2)*(r-r2)+(g-g2)*(g-g2)+(bl-b2)*(bl-b2) < 60*60
}

// lines is the colour of a swatch's pattern: the one that shows on it.
func (s swatch) lines() Colour {
	r, g, b := s.colour.RGB()
	// The weights of red, green and blue in lightness are those of Rec. 601.
	if 299*r+587*g+114*b < 130*1000 {
		return white
	}
	return ink
}

// shade fills a shape with a swatch; its border is left to the caller.
func (d *Drawing) shade(shape []Spot, s swatch) {
	d.polygon(shape, wash(s.colour))
	line := pen(s.lines(), point/2)
	across := func(x, y float64) { d.clipped(shape, x, y, s.gap, line) }
	switch s.pattern {
	case rising:
		across(1, -1)
	case falling:
		across(1, 1)
	case level:
		across(1, 0)
	case upright:
		across(0, 1)
	case crossed:
		across(1, -1)
		across(1, 1)
	case checked:
		across(1, 0)
		across(0, 1)
	case dotted:
		d.dots(shape, s.gap, wash(s.lines()))
	}
}

// clipped draws lines of a direction, gap apart, as far as they lie within the
// shape. They keep in step from one shape to the next.
func (d *Drawing) clipped(shape []Spot, dx, dy float64, gap units.Length, s Style) {
	size := math.Hypot(dx, dy)
	dx, dy = dx/size, dy/size
	// Along a line the distance across is constant; ways are measured along it.
	across := func(p Spot) float64 { return float64(p.X)*-dy + float64(p.Y)*dx }
	along := func(p Spot) float64 { return float64(p.X)*dx + float64(p.Y)*dy }
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range shape {
		low, high = min(low, across(p)), max(high, across(p))
	}
	step := float64(gap)
	for k := math.Ceil(low/step) * step; k <= high; k += step {
		var ways []float64
		for i, a := range shape {
			b := shape[(i+1)%len(shape)]
			da, db := across(a)-k, across(b)-k
			if (da < 0) != (db < 0) {
				ways = append(ways, along(a)+(along(b)-along(a))*da/(da-db))
			}
		}
		slices.Sort(ways)
		for i := 0; i+1 < len(ways); i += 2 {
			x := func(w float64) units.Length { return tick(w*dx - k*dy) }
			y := func(w float64) units.Length { return tick(w*dy + k*dx) }
			d.line(x(ways[i]), y(ways[i]), x(ways[i+1]), y(ways[i+1]), s)
		}
	}
}

// dots sets dots on a slanted grid where they lie whole within the shape.
func (d *Drawing) dots(shape []Spot, gap units.Length, s Style) {
	const r = point
	low, high := shape[0], shape[0]
	for _, p := range shape {
		low = Spot{min(low.X, p.X), min(low.Y, p.Y)}
		high = Spot{max(high.X, p.X), max(high.Y, p.Y)}
	}
	for y := low.Y.RoundUp(gap); y <= high.Y; y += gap {
		shift := units.Length(0)
		if y/gap%2 == 1 {
			shift = gap / 2
		}
		for x := low.X.RoundUp(gap) + shift; x <= high.X; x += gap {
			if within(shape, x-r, y) && within(shape, x+r, y) && within(shape, x, y-r) && within(shape, x, y+r) {
				d.circle(x, y, r, s)
			}
		}
	}
}

// within tells whether a point lies in a shape: a line from it to the right
// crosses the border an odd number of times.
func within(shape []Spot, x, y units.Length) bool {
	in := false
	for i, a := range shape {
		b := shape[(i+1)%len(shape)]
		if (a.Y > y) != (b.Y > y) && float64(x) < float64(a.X)+float64(b.X-a.X)*float64(y-a.Y)/float64(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
