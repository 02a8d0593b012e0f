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
	row  textRow
	font *Font // of the group of texts that is open
}

// textRow is a row of letters of one font on one base line: one element, with a
// place for each letter.
type textRow struct {
	y       units.Length
	xs      []string
	letters strings.Builder
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
	c.end()
	c.b.WriteString("</svg>")
	return template.HTML(c.b.String())
}

// end ends the path of lines or the group of texts.
func (c *screenCanvas) end() {
	if c.font != nil {
		c.endRow()
		c.b.WriteString("</g>\n")
		c.font = nil
	}
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
	if !c.open || c.path != s {
		c.end()
	}
	if !c.open {
		c.open, c.path = true, s
		c.b.WriteString("<path d=\"")
	}
	c.stroke(x1, y1, x2, y2)
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

// Text implements [Canvas]. Neighbours of one font are one group, letters of one
// base line one element.
func (c *screenCanvas) Text(x, y units.Length, text string, f Font) {
	if c.font == nil || *c.font != f {
		c.end()
		c.font = &f
		c.b.WriteString("<g" + f.screen() + ">\n")
	}
	if len(c.row.xs) > 0 && c.row.y != y {
		c.endRow()
	}
	if len(text) == 1 && "A" <= text && text <= "Z" && !f.Up {
		c.row.y = y
		c.row.xs = append(c.row.xs, dots(x))
		c.row.letters.WriteString(text)
		return
	}
	c.endRow()
	turned := ""
	if f.Up {
		turned = fmt.Sprintf(" transform=\"rotate(-90 %s %s)\"", dots(x), dots(y))
	}
	fmt.Fprintf(&c.b, "<text x=\"%s\" y=\"%s\"%s>%s</text>\n", dots(x), dots(y), turned, escape(text))
}

func (c *screenCanvas) endRow() {
	if len(c.row.xs) > 0 {
		fmt.Fprintf(&c.b, "<text x=\"%s\" y=\"%s\">%s</text>\n", strings.Join(c.row.xs, " "), dots(c.row.y), c.row.letters.String())
		c.row = textRow{}
	}
}

func (f Font) screen() string {
	out := fmt.Sprintf(" font-size=\"%s\" fill=\"#%06x\"", dots(f.Size), uint32(f.Colour))
	if f.Bold {
		out += " font-weight=\"bold\""
	}
	if f.Align != Start {
		out += fmt.Sprintf(" text-anchor=\"%s\"", [...]string{"start", "middle", "end"}[f.Align])
	}
	return out
}

// parts mark the cloth that a step takes, as one path.
func (c *screenCanvas) parts(step int, rects []Mark) {
	c.end()
	if len(rects) == 0 {
		return
	}
	fmt.Fprintf(&c.b, "<path class=\"part\" data-step=\"%d\" d=\"", step)
	for i := range rects {
		c.box(&rects[i])
	}
	c.b.WriteString("\"/>\n")
}

// box adds a rectangle to a path.
func (c *screenCanvas) box(m *Mark) {
	w := dots(m.X2 - m.X)
	fmt.Fprintf(&c.b, "M%s %sh%sv%sh-%sz", dots(m.X), dots(m.Y), w, dots(m.Y2-m.Y), w)
}

// cuts are the lines that the page lights at a step, as one path.
func (c *screenCanvas) cuts(step int, lines []Mark) {
	c.end()
	fmt.Fprintf(&c.b, "<path class=\"cut\" data-step=\"%d\" d=\"", step)
	for i := range lines {
		c.stroke(lines[i].X, lines[i].Y, lines[i].X2, lines[i].Y2)
	}
	c.b.WriteString("\"/>\n")
}

// stroke adds a line to a path.
func (c *screenCanvas) stroke(x1, y1, x2, y2 units.Length) {
	c.b.WriteString("M" + dots(x1) + " " + dots(y1))
	switch {
	case y1 == y2:
		c.b.WriteString("H" + dots(x2))
	case x1 == x2:
		c.b.WriteString("V" + dots(y2))
	default:
		c.b.WriteString("l" + dots(x2-x1) + " " + dots(y2-y1))
	}
}
