package reports

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"pinfold/units"
)

// A drawing covers the same spots with the same paint once it is compact: a coarse
// raster of rectangles of two fills and lines of two widths shows it.
func TestCompactLooksTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d Drawing
		grid := rapid.IntRange(0, 6)
		for range rapid.IntRange(0, 40).Draw(t, "marks") {
			x, y := units.Length(grid.Draw(t, "x")), units.Length(grid.Draw(t, "y"))
			w, h := units.Length(rapid.IntRange(1, 3).Draw(t, "w")), units.Length(rapid.IntRange(1, 3).Draw(t, "h"))
			width := units.Length(rapid.IntRange(1, 2).Draw(t, "width"))
			switch rapid.IntRange(0, 4).Draw(t, "shape") {
			case 0:
				d.rect(x, y, w, h, wash([]Colour{cream, keep}[width-1]))
			case 1:
				d.line(x, y, x+w, y, pen(ink, width))
			case 2:
				d.line(x, y+h, x, y, pen(ink, width))
			case 3:
				d.line(x, y, x+w, y+w, pen(ink, width))
			case 4:
				d.line(x, y+w, x+w, y, pen(ink, width))
			}
		}
		before := raster(&d)
		marks := len(d.Marks)
		d.compact()
		assert.Equal(t, before, raster(&d))
		assert.LessOrEqual(t, len(d.Marks), marks)
	})
}

// raster is the fill of every cell, which the last rectangle has, and the widths of
// the lines along and across every cell, each with what they lie above.
func raster(d *Drawing) map[[4]int]Colour {
	out := map[[4]int]Colour{}
	for _, m := range d.Marks {
		if m.Shape == RectShape {
			for x := m.X; x < m.X2; x++ {
				for y := m.Y; y < m.Y2; y++ {
					out[[4]int{0, int(x), int(y), 0}] = m.Style.Fill
				}
			}
			continue
		}
		c := m.course()
		for at := c.from; at < c.to; at++ {
			out[[4]int{1 + c.way, int(c.offset), int(at), int(m.Style.Width)}] = ink
		}
	}
	return out
}

func TestCompactJoinsRowsAndColumns(t *testing.T) {
	var d Drawing
	for x := range units.Length(10) {
		for y := range units.Length(10) {
			d.rect(x*5, y*3, 5, 3, wash(cream))
		}
	}
	for x := range units.Length(10) {
		for y := range units.Length(10) {
			d.line(x*5, y*3, x*5, y*3+3, pen(ink, 1))
		}
	}
	d.compact()
	assert.Len(t, d.Marks, 11)
	d.text(1, 1, "A", Font{})
	d.line(0, 0, 10, 0, Style{Stroke: ink, Dash: 2})
	d.line(10, 0, 20, 0, Style{Stroke: ink, Dash: 2})
	d.compact()
	assert.Len(t, d.Marks, 14, "dashes would fall out of step")
}
