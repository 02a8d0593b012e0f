package reports

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"pinfold/units"
)

// WriteSVG writes the picture of the i-th distinct layout: one self-contained
// file, its coordinates in ticks.
func (r *Report) WriteSVG(w io.Writer, i int) error {
	s := &r.Sheets[i]
	return writeSVG(w, s.picture(), s.Name(), s.Gives())
}

// writeSVG writes a drawing as one self-contained file.
func writeSVG(w io.Writer, d *Drawing, title, desc string) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %d %d\" role=\"img\">\n",
		millimetres(d.W), millimetres(d.H), d.W, d.H)
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n", escape(title), escape(desc))
	b.WriteString("<g font-family=\"'Go', 'Liberation Sans', 'DejaVu Sans', Arial, sans-serif\" stroke-linecap=\"butt\">\n")
	(&Drawing{W: d.W, H: d.H}).blank(&b)
	d.Replay(svgCanvas{&b})
	b.WriteString("</g>\n</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// blank paints the paper, so that the picture can be read on a dark screen.
func (d *Drawing) blank(b *bytes.Buffer) {
	svgCanvas{b}.Rect(0, 0, d.W, d.H, wash(white))
}

// millimetres prints a length exactly: a tick is 3.125 micrometres.
func millimetres(l units.Length) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.6f", float64(l)/float64(units.Millimetre)), "0"), ".")
}

// escape makes a text safe between tags and in attributes; what XML cannot hold
// becomes U+FFFD.
func escape(s string) string {
	var b strings.Builder
	// A strings.Builder never fails.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}

// svgCanvas writes one element for each mark.
type svgCanvas struct{ b *bytes.Buffer }

var _ Canvas = svgCanvas{}

func (s Style) svg() string {
	colour := func(c Colour) string {
		if c == NoColour {
			return "none"
		}
		return fmt.Sprintf("#%06x", uint32(c))
	}
	out := fmt.Sprintf(" fill=\"%s\"", colour(s.Fill))
	if s.Stroke != NoColour {
		out += fmt.Sprintf(" stroke=\"%s\" stroke-width=\"%d\"", colour(s.Stroke), s.Width)
		if s.Dash > 0 {
			out += fmt.Sprintf(" stroke-dasharray=\"%d\"", s.Dash)
		}
	}
	return out
}

// Rect implements [Canvas].
func (c svgCanvas) Rect(x, y, w, h units.Length, s Style) {
	fmt.Fprintf(c.b, "<rect x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"%s/>\n", x, y, w, h, s.svg())
}

// Line implements [Canvas].
func (c svgCanvas) Line(x1, y1, x2, y2 units.Length, s Style) {
	fmt.Fprintf(c.b, "<line x1=\"%d\" y1=\"%d\" x2=\"%d\" y2=\"%d\"%s/>\n", x1, y1, x2, y2, s.svg())
}

// Circle implements [Canvas].
func (c svgCanvas) Circle(x, y, r units.Length, s Style) {
	fmt.Fprintf(c.b, "<circle cx=\"%d\" cy=\"%d\" r=\"%d\"%s/>\n", x, y, r, s.svg())
}

// Polygon implements [Canvas].
func (c svgCanvas) Polygon(corners []Spot, s Style) {
	c.b.WriteString("<polygon points=\"")
	for i, p := range corners {
		if i > 0 {
			c.b.WriteByte(' ')
		}
		fmt.Fprintf(c.b, "%d,%d", p.X, p.Y)
	}
	fmt.Fprintf(c.b, "\"%s stroke-linejoin=\"round\"/>\n", s.svg())
}

// Text implements [Canvas].
func (c svgCanvas) Text(x, y units.Length, text string, f Font) {
	fmt.Fprintf(c.b, "<text x=\"%d\" y=\"%d\" font-size=\"%d\" fill=\"#%06x\"", x, y, f.Size, uint32(f.Colour))
	if f.Bold {
		c.b.WriteString(" font-weight=\"bold\"")
	}
	if f.Align != Start {
		fmt.Fprintf(c.b, " text-anchor=\"%s\"", [...]string{"start", "middle", "end"}[f.Align])
	}
	if f.Up {
		fmt.Fprintf(c.b, " transform=\"rotate(-90 %d %d)\"", x, y)
	}
	fmt.Fprintf(c.b, ">%s</text>\n", escape(text))
}
