package reports

import (
	"bytes"
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"pinfold/units"
)

// screenCanvas writes a picture for a page in tenths of points, which keep a
// page of many pictures small: neighbouring lines of one style are one path.
type screenCanvas struct {
	b    bytes.Buffer
	path Style // of the path that is open
	open bool
}

var _ Canvas = (*screenCanvas)(nil)

// dots is a length on paper in points with one decimal.
func dots(l units.Length) string {
	return strings.TrimSuffix(strconv.FormatFloat(pt(l), 'f', 1, 64), ".0")
}

// begin opens the picture and paints its paper.
func (c *screenCanvas) begin(d *Drawing, attributes string) {
	fmt.Fprintf(&c.b, "<svg viewBox=\"0 0 %s %s\" %s>\n", dots(d.W), dots(d.H), attributes)
	c.Rect(0, 0, d.W, d.H, wash(white))
	d.Replay(c)
	c.end()
}

// page closes the picture.
func (c *screenCanvas) page() template.HTML {
	c.b.WriteString("</svg>")
	return template.HTML(c.b.String())
}

// end ends the path of lines.
func (c *screenCanvas) end() {
	if c.open {
		fmt.Fprintf(&c.b, "\"%s/>\n", c.path.screen())
		c.open = false
	}
}

func (s Style) screen() string {
	colour := func(c Colour) string {
		if c == NoColour {
			return "none"
		}
		return fmt.Sprintf("#%06x", uint32(c))
	}
	out := fmt.Sprintf(" fill=\"%s\"", colour(s.Fill))
	if s.Stroke != NoColour {
		out += fmt.Sprintf(" stroke=\"%s\" stroke-width=\"%s\"", colour(s.Stroke), dots(s.Width))
		if s.Dash > 0 {
			out += fmt.Sprintf(" stroke-dasharray=\"%s\"", dots(s.Dash))
		}
	}
	return out
}

// Rect implements [Canvas].
func (c *screenCanvas) Rect(x, y, w, h units.Length, s Style) {
	c.end()
	fmt.Fprintf(&c.b, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"%s/>\n", dots(x), dots(y), dots(w), dots(h), s.screen())
}

// Line implements [Canvas].
func (c *screenCanvas) Line(x1, y1, x2, y2 units.Length, s Style) {
	if c.open && c.path != s {
		c.end()
	}
	if !c.open {
		c.open, c.path = true, s
		c.b.WriteString("<path d=\"")
	}
	fmt.Fprintf(&c.b, "M%s %sL%s %s", dots(x1), dots(y1), dots(x2), dots(y2))
}

// Circle implements [Canvas].
func (c *screenCanvas) Circle(x, y, r units.Length, s Style) {
	c.end()
	fmt.Fprintf(&c.b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s/>\n", dots(x), dots(y), dots(r), s.screen())
}

// Polygon implements [Canvas].
func (c *screenCanvas) Polygon(corners []Spot, s Style) {
	c.end()
	points := make([]string, len(corners))
	for i, p := range corners {
		points[i] = dots(p.X) + "," + dots(p.Y)
	}
	fmt.Fprintf(&c.b, "<polygon points=\"%s\"%s stroke-linejoin=\"round\"/>\n", strings.Join(points, " "), s.screen())
}

// Text implements [Canvas].
func (c *screenCanvas) Text(x, y units.Length, text string, f Font) {
	c.end()
	fmt.Fprintf(&c.b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" fill=\"#%06x\"", dots(x), dots(y), dots(f.Size), uint32(f.Colour))
	if f.Bold {
		c.b.WriteString(" font-weight=\"bold\"")
	}
	if f.Align != Start {
		fmt.Fprintf(&c.b, " text-anchor=\"%s\"", [...]string{"start", "middle", "end"}[f.Align])
	}
	if f.Up {
		fmt.Fprintf(&c.b, " transform=\"rotate(-90 %s %s)\"", dots(x), dots(y))
	}
	fmt.Fprintf(&c.b, ">%s</text>\n", escape(text))
}

// part marks the cloth that a step takes.
func (c *screenCanvas) part(step int, x, y, w, h units.Length) {
	fmt.Fprintf(&c.b, "<rect class=\"part\" data-step=\"%d\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", step, dots(x), dots(y), dots(w), dots(h))
}

// cuts are the lines that the page lights at a step, as one path.
func (c *screenCanvas) cuts(step int, lines []Line) {
	fmt.Fprintf(&c.b, "<path class=\"cut\" data-step=\"%d\" d=\"", step)
	for _, l := range lines {
		fmt.Fprintf(&c.b, "M%s %sL%s %s", dots(l.X1), dots(l.Y1), dots(l.X2), dots(l.Y2))
	}
	c.b.WriteString("\"/>\n")
}
