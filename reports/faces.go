package reports

import (
	"fmt"
	"io"
	"slices"

	"pinfold/plan"
	"pinfold/units"
)

// Faces are the planning sheets of a plan: how each ornament looks in each of
// its colourways, and its outlines to colour in.
type Faces struct {
	Looks    []Look
	Outlines []Look // one for each ornament made, in the order in which they come

	plan *plan.Plan
}

// Look is one picture. Ornaments made of the same pieces share it.
type Look struct {
	Ornament string
	Fabrics  string // the colourway, "ground night water, accent sailcloth"
	Count    int    // how many ornaments look like this
	bag      plan.Bag
}

// NewFaces lists the pictures of a plan, whose pieces are gathered. Ornaments of
// more than 1,000 pieces, or less than 1/4 in through, are left out.
func NewFaces(p *plan.Plan, g *plan.Gathered) *Faces {
	f := &Faces{plan: p}
	outlines := map[*plan.Ornament]int{}
	for _, group := range groupBags(p, p.Bags(g)) {
		o := group.ornament
		if !drawable(o) {
			continue
		}
		l := Look{Ornament: plain(o.Name), Fabrics: group.colours, Count: group.count, bag: group.bag}
		f.Looks = append(f.Looks, l)
		if i, ok := outlines[o]; ok {
			f.Outlines[i].Count += l.Count
			continue
		}
		outlines[o] = len(f.Outlines)
		f.Outlines = append(f.Outlines, l)
	}
	return f
}

// colourway lists the fabrics of a bag by role, each role once.
func colourway(b plan.Bag) string {
	var roles []string
	fabrics := map[string][]string{}
	for _, q := range b.Parts {
		if fabrics[q.Role] == nil {
			roles = append(roles, q.Role)
		}
		if name := plain(q.Fabric); !slices.Contains(fabrics[q.Role], name) {
			fabrics[q.Role] = append(fabrics[q.Role], name)
		}
	}
	text := ""
	for i, r := range roles {
		if i > 0 {
			text += ", "
		}
		text += plain(r) + " " + list(fabrics[r])
	}
	return text
}

// pictureWidth is how wide the pictures are drawn.
const pictureWidth = 7 * units.Inch

// picture composes one sheet: title, both sides, the list of rounds.
func (f *Faces) picture(l Look, filled bool) *Drawing {
	p := planning{plan: f.plan, looks: swatches(f.plan), say: plain, filled: filled}
	const margin = 18 * point
	d := &Drawing{W: pictureWidth + 2*margin}
	y := units.Length(margin)
	set := func(s string, font Font, most int) {
		for _, line := range wrap(s, font, pictureWidth, most) {
			y += font.Size
			d.text(margin, y, line, font)
			y += font.Size * 3 / 10
		}
	}
	set(l.Ornament, Font{Size: 16 * point, Bold: true, Colour: ink}, 3)
	if filled {
		set(fmt.Sprintf("%s: %s", counted(l.Count, "ornament"), l.Fabrics), Font{Size: 9 * point, Colour: soft}, 4)
	} else {
		set("Outlines to colour in", Font{Size: 9 * point, Colour: soft}, 1)
	}
	y += 10 * point
	discs, at := p.discs(l.bag, pictureWidth)
	d.place(margin, y, discs)
	y += discs.H + 4*point
	set(p.caption(f.plan.Ornament(f.plan.Make[l.bag.Order].Ornament), at), Font{Size: 8 * point, Colour: soft}, 0)
	y += 6 * point
	head := keyHead(pictureWidth)
	d.place(margin, y, head)
	y += head.H
	for _, r := range p.key(l.bag) {
		row := r.drawn(pictureWidth)
		d.place(margin, y, row)
		y += row.H
	}
	if growth := p.stages(l.bag, pictureWidth); filled && growth != nil {
		y += 16 * point
		d.place(margin, y, growth)
		y += growth.H
	}
	d.H = y + margin
	return d
}

// WriteSVG writes the i-th picture, filled with its colourway.
func (f *Faces) WriteSVG(w io.Writer, i int) error {
	l := f.Looks[i]
	return writeSVG(w, f.picture(l, true), l.Ornament, l.Fabrics)
}

// WriteOutlines writes the outlines of the i-th ornament.
func (f *Faces) WriteOutlines(w io.Writer, i int) error {
	l := f.Outlines[i]
	return writeSVG(w, f.picture(l, false), l.Ornament, "Outlines to colour in")
}

// LookName and OutlineName are the files of the i-th picture of each kind.
func LookName(i int) string    { return fmt.Sprintf("face-%03d.svg", i+1) }
func OutlineName(i int) string { return fmt.Sprintf("outline-%03d.svg", i+1) }

// Write writes all pictures into the folder, which is made if it is not there,
// and returns their paths; see [Report.Write].
func (f *Faces) Write(dir string) ([]string, error) {
	var files []file
	add := func(name string, i int, write func(io.Writer, int) error) {
		files = append(files, file{name, func(w io.Writer) error { return write(w, i) }})
	}
	for i := range f.Looks {
		add(LookName(i), i, f.WriteSVG)
	}
	for i := range f.Outlines {
		add(OutlineName(i), i, f.WriteOutlines)
	}
	return place(dir, files)
}
