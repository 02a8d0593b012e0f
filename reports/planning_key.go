package reports

import "pinfold/units"

// keyColumn is one column of the list under the discs.
type keyColumn struct {
	head  string
	share units.Length // of the width, in percent
	font  Font
	text  func(keyRow) string
}

// keyFont is that of the list.
var keyFont = Font{Size: 9 * point, Colour: ink}

func keyColumns() []keyColumn {
	f := keyFont
	heavy := f
	heavy.Bold = true
	return []keyColumn{
		{"", 4, heavy, func(r keyRow) string { return r.number }},
		{"round", 16, heavy, func(r keyRow) string { return r.round }},
		{"", 8, f, nil}, // the swatch
		{"fabric", 23, f, func(r keyRow) string { return r.fabric }},
		{"pieces", 16, f, func(r keyRow) string { return r.count }},
		{"cut as", 15, f, func(r keyRow) string { return r.piece }},
		{"pin", 18, f, func(r keyRow) string { return r.start }},
	}
}

// keyHead is the line above the list.
func keyHead(width units.Length) *Drawing {
	d := &Drawing{W: width, H: 14 * point}
	x := units.Length(0)
	for _, c := range keyColumns() {
		d.text(x, 9*point, c.head, Font{Size: 15 * point / 2, Colour: soft})
		x += width * c.share / 100
	}
	d.line(0, d.H, width, d.H, pen(faint, point/2))
	return d
}

// drawn is one line of the list.
func (r keyRow) drawn(width units.Length) *Drawing {
	d := &Drawing{W: width}
	lines := 1
	x := units.Length(0)
	for _, c := range keyColumns() {
		w := width * c.share / 100
		if c.text == nil {
			r.sample(d, x, w-gutter)
			x += w
			continue
		}
		text := wrap(c.text(r), c.font, w-gutter, 4)
		for i, l := range text {
			d.text(x, baseLine+units.Length(i)*lead(c.font), l, c.font)
		}
		lines = max(lines, len(text))
		x += w
	}
	d.H = baseLine + units.Length(lines-1)*lead(keyFont) + 6*point
	d.line(0, d.H, width, d.H, pen(faint, point/3))
	return d
}

// sample is the patch that ties a line to the picture.
func (r keyRow) sample(d *Drawing, x, w units.Length) {
	const top, high = 3 * point, 13 * point
	patch := []Spot{{x, top}, {x + w, top}, {x + w, top + high}, {x, top + high}}
	if r.looks != nil {
		d.shade(patch, *r.looks)
	}
	d.polygon(patch, pen(ink, 3*point/4))
}
