package reports

import "pinfold/units"

// point is the printer's point, 1/72 in, to the nearest tick.
const point units.Length = 113

// Drawing is a picture on paper, recorded as data: x to the right and y down
// from the upper left corner. Writers replay it on a [Canvas].
type Drawing struct {
	W, H  units.Length
	Marks []Mark
}

// Mark is one thing drawn.
type Mark struct {
	Shape Shape
	// X and Y are the first point of a line, the corner of a rectangle, the
	// centre of a circle or where a text is aligned, on its base line; X2 and Y2
	// the second point of a line or the opposite corner; R a circle's radius.
	X, Y, X2, Y2, R units.Length
	// Corners are a polygon's, relative to X, Y, which with X2, Y2 bound it.
	Corners []Spot
	Style   Style
	Text    string
	Font    Font
}

// Shape says what a mark is.
type Shape uint8

// The shapes.
const (
	RectShape Shape = iota
	LineShape
	CircleShape
	TextShape
	PolygonShape
)

// Spot is a point on paper.
type Spot struct{ X, Y units.Length }

// Colour is 0xRRGGBB; NoColour draws nothing.
type Colour uint32

// NoColour is transparent.
const NoColour Colour = 1 << 24

// RGB splits the colour.
func (c Colour) RGB() (r, g, b int) { return int(c >> 16 & 255), int(c >> 8 & 255), int(c & 255) }

// The colours of all reports. Each keeps its meaning in grey: what a colour says
// is also said by a letter, a line or a hatch.
const (
	ink    Colour = 0x1d2733
	soft   Colour = 0x5a6672
	faint  Colour = 0xb9c2c9
	mist   Colour = 0xeef2f3
	harbor Colour = 0x14566a
	cream  Colour = 0xfbf7ee
	keep   Colour = 0xdfeeea
	white  Colour = 0xffffff
)

// Style is how a shape is painted.
type Style struct {
	Fill, Stroke Colour
	Width        units.Length // of the stroke
	Dash         units.Length // length of dashes and gaps; 0 for a solid line
}

// Align says which point of a text is placed.
type Align uint8

// The alignments.
const (
	Start Align = iota
	Middle
	End
)

// Font is how a text is set.
type Font struct {
	Size   units.Length
	Bold   bool
	Colour Colour
	Align  Align
	Up     bool // turned a quarter, read from the right
}

// width is how wide a text is in this font.
func (f Font) width(s string) units.Length { return faceOf(f.Bold).width(s, f.Size) }

// Canvas is anything a drawing can be replayed on.
type Canvas interface {
	Rect(x, y, w, h units.Length, s Style)
	Line(x1, y1, x2, y2 units.Length, s Style)
	Circle(x, y, r units.Length, s Style)
	Polygon(corners []Spot, s Style)
	Text(x, y units.Length, text string, f Font)
}

// Replay draws all marks, in the order recorded.
func (d *Drawing) Replay(c Canvas) {
	for _, m := range d.Marks {
		switch m.Shape {
		case RectShape:
			c.Rect(m.X, m.Y, m.X2-m.X, m.Y2-m.Y, m.Style)
		case LineShape:
			c.Line(m.X, m.Y, m.X2, m.Y2, m.Style)
		case CircleShape:
			c.Circle(m.X, m.Y, m.R, m.Style)
		case PolygonShape:
			corners := make([]Spot, len(m.Corners))
			for i, p := range m.Corners {
				corners[i] = Spot{m.X + p.X, m.Y + p.Y}
			}
			c.Polygon(corners, m.Style)
		case TextShape:
			c.Text(m.X, m.Y, m.Text, m.Font)
		}
	}
}

func (d *Drawing) rect(x, y, w, h units.Length, s Style) {
	d.Marks = append(d.Marks, Mark{Shape: RectShape, X: x, Y: y, X2: x + w, Y2: y + h, Style: s})
}

func (d *Drawing) line(x1, y1, x2, y2 units.Length, s Style) {
	d.Marks = append(d.Marks, Mark{Shape: LineShape, X: x1, Y: y1, X2: x2, Y2: y2, Style: s})
}

func (d *Drawing) circle(x, y, r units.Length, s Style) {
	d.Marks = append(d.Marks, Mark{Shape: CircleShape, X: x, Y: y, R: r, Style: s})
}

// polygon draws a closed shape of at least one corner.
func (d *Drawing) polygon(corners []Spot, s Style) {
	m := Mark{Shape: PolygonShape, X: corners[0].X, Y: corners[0].Y, X2: corners[0].X, Y2: corners[0].Y, Style: s}
	for _, c := range corners {
		m.X, m.Y, m.X2, m.Y2 = min(m.X, c.X), min(m.Y, c.Y), max(m.X2, c.X), max(m.Y2, c.Y)
	}
	m.Corners = make([]Spot, len(corners))
	for i, c := range corners {
		m.Corners[i] = Spot{c.X - m.X, c.Y - m.Y}
	}
	d.Marks = append(d.Marks, m)
}

func (d *Drawing) text(x, y units.Length, s string, f Font) {
	d.Marks = append(d.Marks, Mark{Shape: TextShape, X: x, Y: y, Text: s, Font: f})
}

// place copies another drawing's marks, moved.
func (d *Drawing) place(x, y units.Length, o *Drawing) {
	for _, m := range o.Marks {
		m.X, m.X2 = m.X+x, m.X2+x
		m.Y, m.Y2 = m.Y+y, m.Y2+y
		d.Marks = append(d.Marks, m)
	}
}

// pen is a plain line.
func pen(c Colour, width units.Length) Style {
	return Style{Fill: NoColour, Stroke: c, Width: width}
}

// wash is a plain fill.
func wash(c Colour) Style { return Style{Fill: c, Stroke: NoColour} }

// hatch fills a rectangle with slanted lines that keep in step from one
// rectangle to the next, so that neighbours look like one area. Rising lines go
// up to the right.
func (d *Drawing) hatch(x, y, w, h, gap units.Length, rising bool, s Style) {
	// Along a line x - y (falling) or x + y (rising) is constant.
	low, high := x+y, x+w+y+h
	if !rising {
		low, high = x-y-h, x+w-y
	}
	for k := low.RoundUp(gap); k <= high; k += gap {
		var x1, x2 units.Length
		if rising {
			x1, x2 = max(x, k-y-h), min(x+w, k-y)
		} else {
			x1, x2 = max(x, k+y), min(x+w, k+y+h)
		}
		if x1 >= x2 {
			continue
		}
		if rising {
			d.line(x1, k-x1, x2, k-x2, s)
		} else {
			d.line(x1, x1-k, x2, x2-k, s)
		}
	}
}

// arrowUp draws an upright arrow, with a second head at its foot if both.
func (d *Drawing) arrowUp(x, foot, tip units.Length, both bool, s Style) {
	d.line(x, foot, x, tip, s)
	head := func(y, dy units.Length) {
		d.line(x, y, x-3*point, y+dy, s)
		d.line(x, y, x+3*point, y+dy, s)
	}
	head(tip, 5*point)
	if both {
		head(foot, -5*point)
	}
}
