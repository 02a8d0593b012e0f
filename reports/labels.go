package reports

import (
	"strconv"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// label writes a piece's letter and its measures as it lies, along the selvage
// first; what does not fit is left out, measures first. Tall narrow pieces are
// labelled upright.
func (d *diagram) label(r pack.Rect, letter string, kept bool) {
	x, y, w, h, ok := d.onPaper(r)
	if !ok {
		return
	}
	up := h > 2*w
	if up {
		w, h = h, w
	}
	size := units.Size{Along: r.H, Across: r.W}
	text, colour := vulgarSize(size, d.s.unit), ink
	if kept {
		text, colour = "keep "+roughSize(size, d.s.unit), harbor
	}
	big := Font{Size: min(13*point, max(6*point, h*2/5)), Bold: true, Colour: colour, Align: Middle, Up: up}
	small := Font{Size: 13 * point / 2, Colour: soft, Align: Middle, Up: up}
	if d.at.paper(min(r.W, r.H)) > 60*point {
		small.Size = 8 * point
	}
	pad := 3 * point
	if kept {
		pad = 6 * point // within the dashed line
	}
	set := func(dx, dy units.Length, s string, f Font) {
		// dx and dy are measured from the middle, as the text is read.
		if up {
			d.text(x+h/2+dy, y+w/2-dx, s, f)
		} else {
			d.text(x+w/2+dx, y+h/2+dy, s, f)
		}
	}
	wide, narrow := small.width(text)+2*pad, big.width(letter)+2*pad
	switch {
	case wide <= w && big.Size+small.Size+2*pad-point <= h:
		set(0, -small.Size*13/20+big.Size/3-point/2, letter, big)
		set(0, big.Size/3+small.Size*13/20+point/2, text, small)
	case narrow+wide <= w && h >= 8*point:
		big.Size = min(big.Size, 9*point)
		set(-wide/2, big.Size/3, letter, big)
		set(narrow/2, small.Size/3, text, small)
	case narrow <= w+2*pad && big.Size <= h+2*point:
		set(0, big.Size/3, letter, big)
	}
}

// measures draws the chains of measures: the first level of cuts on the left or
// below, the whole usable area on the right and above.
func (d *diagram) measures() {
	root := region{d.s.layout.Cuts, pack.Rect{W: d.s.W, H: d.s.H}}
	if root.node.Leaf == pack.NoLeaf {
		parts := root.parts(d.s.kerf)
		d.chain(parts, root.node.Axis, false)
		d.letters(parts, root.node.Axis)
	}
	d.chain([]region{root}, pack.X, true)
	d.chain([]region{root}, pack.Y, true)
}

// chain draws the widths of the parts along an axis as one line of measures.
// Neighbours of equal width that are too narrow for a number each share one,
// "7 × 2½".
func (d *diagram) chain(parts []region, axis pack.Axis, whole bool) {
	line := pen(soft, point/2)
	font := Font{Size: 15 * point / 2, Colour: ink, Align: Middle}
	if whole {
		font.Bold = true
	}
	for from := 0; from < len(parts); {
		to := from + 1
		for to < len(parts) && parts[to].width(axis) == parts[from].width(axis) {
			to++
		}
		text := rough(parts[from].width(axis), d.s.unit)
		step := to - from
		each := d.at.paper(parts[from].width(axis))
		if axis == pack.X && each > font.width(text)+4*point || axis == pack.Y && each >= 10*point {
			step = 1
		} else if step > 1 {
			text = strconv.Itoa(step) + " × " + text
		}
		for i := from; i < to; i += step {
			a, b := parts[i].start(axis), parts[i+step-1].end(axis)
			if axis == pack.X {
				d.chainAcross(a, b, text, whole, line, font)
			} else {
				d.chainAlong(a, b, text, whole, line, font)
			}
		}
		from = to
	}
}

// letters names the parts of the first level that are cut further, beyond their
// measures. Neighbours of one letter that are too small for one each share it.
func (d *diagram) letters(parts []region, axis pack.Axis) {
	font := Font{Size: 10 * point, Bold: true, Colour: ink, Align: Middle}
	letter := func(r region) string {
		for _, p := range d.s.Parts {
			if p.Rect == r.Rect && p.Letter != "" {
				return p.Letter
			}
		}
		return ""
	}
	for from := 0; from < len(parts); {
		name, width := letter(parts[from]), parts[from].width(axis)
		to := from + 1
		for to < len(parts) && letter(parts[to]) == name && parts[to].width(axis) == width {
			to++
		}
		step, text := 1, name
		if each := d.at.paper(width); axis == pack.Y && each < 11*point || axis == pack.X && each < font.width(name)+4*point {
			step = to - from
			if step > 1 {
				text = strconv.Itoa(step) + " " + name
			}
		}
		for i := from; name != "" && i < to; i += step {
			d.letter(parts[i].start(axis), parts[i+step-1].end(axis), axis, text, font)
		}
		from = to
	}
}

// letter writes the name of what lies between a and b along an axis.
func (d *diagram) letter(a, b units.Length, axis pack.Axis, text string, font Font) {
	if axis == pack.X {
		if a, b = max(a, d.view.X), min(b, d.view.X+d.view.W); a < b {
			d.text((d.x(a)+d.x(b))/2, d.y(d.view.Y)+29*point, text, font)
		}
		return
	}
	if a, b = max(a, d.view.Y), min(b, d.view.Y+d.view.H); a < b {
		font.Align = End
		x, y := d.x(d.view.X)-40*point, (d.y(a)+d.y(b))/2+font.Size/3
		if strings.Contains(text, " ") {
			// The measure it shares a place with is long: the name stands above it.
			x, y = d.x(d.view.X)-15*point, y-font.Size
		}
		d.text(x, y, text, font)
	}
}

func (d *diagram) chainAcross(a, b units.Length, text string, above bool, line Style, font Font) {
	a, b = max(a, d.view.X), min(b, d.view.X+d.view.W)
	if a >= b {
		return
	}
	y := d.y(d.view.Y) + 9*point
	base := y + 9*point
	if above {
		y = d.y(d.view.Y+d.view.H) - 18*point
		base = y - 3*point
	}
	x1, x2 := d.x(a), d.x(b)
	d.line(x1, y, x2, y, line)
	d.line(x1, y-2*point, x1, y+2*point, line)
	d.line(x2, y-2*point, x2, y+2*point, line)
	if font.width(text) < x2-x1+4*point {
		d.text((x1+x2)/2, base, text, font)
	}
}

func (d *diagram) chainAlong(a, b units.Length, text string, right bool, line Style, font Font) {
	a, b = max(a, d.view.Y), min(b, d.view.Y+d.view.H)
	if a >= b {
		return
	}
	x := d.x(d.view.X) - 11*point
	font.Align = End
	at := x - 4*point
	if right {
		// Read from the right, so that a long number does not widen the picture.
		x = d.x(d.view.X+d.view.W) + 20*point
		font.Align, font.Up = Middle, true
		at = x + 9*point
	}
	y1, y2 := d.y(b), d.y(a)
	d.line(x, y1, x, y2, line)
	d.line(x-2*point, y1, x+2*point, y1, line)
	d.line(x-2*point, y2, x+2*point, y2, line)
	switch {
	case right:
		d.text(at, (y1+y2)/2, text, font)
	case y2-y1 >= 7*point:
		d.text(at, (y1+y2)/2+font.Size/3, text, font)
	}
}
