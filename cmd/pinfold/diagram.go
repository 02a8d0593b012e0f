package main

import (
	"fmt"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// The measures of a text diagram: as wide as a terminal surely is, with
// characters about twice as high as wide, and no higher than a screen.
const (
	diagramColumns = 72
	diagramRows    = 48
)

// diagram draws a layout in characters, the bolt's width from left to right and
// the selvage upright, or returns "" when its pieces are too small for that. A
// turned piece has a t in it; what is left over is blank.
func diagram(l pack.Layout, u units.Unit) string {
	columns := diagramColumns
	rows := rounded(l.H*units.Length(columns), 2*l.W)
	if rows > diagramRows {
		rows = diagramRows
		columns = max(2, rounded(l.W*2*units.Length(rows), l.H))
	}
	rows = max(rows, 1)
	c := newCanvas(columns+1, rows+1)
	for _, p := range l.Placements(0) {
		x0, x1 := rounded(p.X*units.Length(columns), l.W), rounded((p.X+p.W)*units.Length(columns), l.W)
		y0, y1 := rounded(p.Y*units.Length(rows), l.H), rounded((p.Y+p.H)*units.Length(rows), l.H)
		if x1-x0 < 2 || y1-y0 < 2 {
			return ""
		}
		c.box(x0, rows-y1, x1, rows-y0)
		if p.Turned {
			c[rows-(y0+y1)/2][(x0+x1)/2] = 't'
		}
	}
	c.box(0, 0, columns, rows)
	var b strings.Builder
	for _, row := range c {
		fmt.Fprintln(&b, strings.TrimRight(string(row), " "))
	}
	fmt.Fprintf(&b, "%s across, %s along the selvage\n", l.W.Format(u), l.H.Format(u))
	return b.String()
}

// rounded is a / b to the nearest whole number.
func rounded(a, b units.Length) int { return int((2*a + b) / (2 * b)) }

// canvas is rows of characters, the top one first.
type canvas [][]rune

func newCanvas(columns, rows int) canvas {
	c := make(canvas, rows)
	for i := range c {
		c[i] = []rune(strings.Repeat(" ", columns))
	}
	return c
}

// box draws the outline from one corner to the other. Corners stay corners
// whatever runs through them.
func (c canvas) box(x0, y0, x1, y1 int) {
	for x := x0; x <= x1; x++ {
		c.put(x, y0, '-')
		c.put(x, y1, '-')
	}
	for y := y0; y <= y1; y++ {
		c.put(x0, y, '|')
		c.put(x1, y, '|')
	}
	for _, x := range []int{x0, x1} {
		c[y0][x], c[y1][x] = '+', '+'
	}
}

func (c canvas) put(x, y int, r rune) {
	switch old := c[y][x]; {
	case old == ' ' || old == 't' || old == r:
		c[y][x] = r
	default:
		c[y][x] = '+'
	}
}
