package reports

import (
	"fmt"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// planning draws ornaments as they will look: the front and the back seen from
// the pole, every piece where it is pinned.
type planning struct {
	plan   *plan.Plan
	looks  map[string]swatch
	say    func(string) string // makes a text of the plan printable
	filled bool                // with the colourway; else outlines to colour in
}

// mostPieces is the most pieces of an ornament that are drawn.
const mostPieces = 1000

// drawable tells whether an ornament can be shown: a dot of a piece tells
// nobody anything.
func drawable(o *plan.Ornament) bool {
	n := 0
	for _, r := range o.Pieces {
		n += r.Count()
	}
	return n <= mostPieces && o.Ball >= units.Inch/4
}

// discs draws both sides of a bag's ornament side by side, with a ruler under
// each, no wider than the width.
func (p *planning) discs(b plan.Bag, width units.Length) (*Drawing, scale) {
	o := p.plan.Ornament(p.plan.Make[b.Order].Ornament)
	const head, foot, between = 24 * point, 34 * point, 24 * point
	at := roundScale(o, (width-between)/2-8*point)
	r := at.paper(plan.Sphere{Ball: o.Ball}.PoleToEquator())
	d := &Drawing{W: width, H: head + 2*r + foot}
	x := (width - between) / 4
	for i, side := range []plan.Side{plan.Front, plan.Back} {
		cx := x + units.Length(i)*(width-2*x)
		d.text(cx-r, 10*point, []string{"FRONT", "BACK"}[i], Font{Size: 9 * point, Bold: true, Colour: harbor})
		d.line(cx, head-9*point, cx, head-2*point, pen(ink, point))
		d.text(cx+5*point, head-4*point, "top", Font{Size: 7 * point, Colour: soft})
		g := newGlobe(cx, head+r, o.Ball, at)
		p.disc(d, g, b, side, len(o.Pieces))
		p.ruler(d, g, o, side, head+2*r+14*point)
	}
	return d, at
}

// roundScale is the largest scale at which half a ball fits a width, at most its
// own size.
func roundScale(o *plan.Ornament, width units.Length) scale {
	at := scale(2)
	for 2*at.paper(plan.Sphere{Ball: o.Ball}.PoleToEquator()) > width {
		at = at.next()
	}
	return at
}

// disc draws one side as it is once the round of that index is pinned; all
// rounds and the band if it is their number.
func (p *planning) disc(d *Drawing, g globe, b plan.Bag, side plan.Side, upTo int) {
	o := p.plan.Ornament(p.plan.Make[b.Order].Ornament)
	line := pen(ink, 3*point/4)
	r := tick(g.paper(g.edge))
	d.circle(g.x, g.y, r, wash(mist))
	paint := func(shape []Spot, fabric string) {
		if p.filled {
			d.shade(shape, p.looks[fabric])
		} else {
			d.polygon(shape, wash(white))
		}
	}
	for _, one := range p.plan.Pinned(b, side) {
		if one.Round > upTo {
			break
		}
		shape := g.fold(o.Pieces[one.Round].Size, one)
		paint(shape, one.Fabric)
		d.polygon(shape, line)
	}
	if o.Band != nil && upTo == len(o.Pieces) {
		inner := max(0, g.edge-float64(o.Band.Shows)/2)
		in, ring := g.circle(inner), g.circle(g.edge)
		ring = append(ring, ring[0])
		for i := len(in); i >= 0; i-- {
			ring = append(ring, in[i%len(in)])
		}
		paint(ring, b.BandFabric())
		d.circle(g.x, g.y, tick(g.paper(inner)), pen(ink, point))
	}
	d.circle(g.x, g.y, r, pen(ink, 5*point/4))
}

// ruler draws where the rounds start, measured from the pole above its left end.
func (p *planning) ruler(d *Drawing, g globe, o *plan.Ornament, side plan.Side, y units.Length) {
	line := pen(soft, 3*point/4)
	end := g.x + tick(g.paper(g.edge))
	d.line(g.x, y, end, y, line)
	numbers := map[units.Length][]string{}
	var marks []units.Length
	for i, from := range o.Starts(side, p.plan.Unit) {
		if len(o.Pieces[i].OnSide(side)) == 0 || float64(from) > g.edge {
			continue
		}
		if numbers[from] == nil {
			marks = append(marks, from)
		}
		numbers[from] = append(numbers[from], fmt.Sprint(i+1))
	}
	number := Font{Size: 7 * point, Bold: true, Colour: ink, Align: Middle}
	measure := Font{Size: 7 * point, Colour: ink, Align: Middle}
	middle := "middle " + plan.Decimals(plan.Sphere{Ball: o.Ball}.PoleToEquator(), p.plan.Unit, 2)
	// What would stand in another's place is left out: the list has it all.
	busy := [2][]units.Length{{}, {end - measure.width(middle) - 4*point, end + 4*point}}
	set := func(row int, at, y units.Length, s string, f Font) {
		w := f.width(s)/2 + 2*point
		for k := 0; k < len(busy[row]); k += 2 {
			if at-w < busy[row][k+1] && at+w > busy[row][k] {
				return
			}
		}
		busy[row] = append(busy[row], at-w, at+w)
		d.text(at, y, s, f)
	}
	for _, m := range marks {
		x := g.x + tick(g.paper(float64(m)))
		d.line(x, y-3*point, x, y+3*point, line)
		set(0, x, y-5*point, strings.Join(numbers[m], ", "), number)
		set(1, x, y+11*point, rough(m, p.plan.Unit), measure)
	}
	d.line(end, y-3*point, end, y+3*point, line)
	measure.Align = End
	d.text(end, y+11*point, middle, measure)
	label := Font{Size: 7 * point, Colour: soft, Align: End}
	d.text(g.x-6*point, y+2*point, "rounds start from the pole", label)
}

// keyRow is one line of the list under the discs.
type keyRow struct {
	number, round string
	looks         *swatch // nil for a field to colour in
	fabric        string
	count         string
	piece, start  string
}

// key lists the rounds in the order in which they are pinned, fabric by fabric,
// or role by role for outlines; the band is last.
func (p *planning) key(b plan.Bag) []keyRow {
	o := p.plan.Ornament(p.plan.Make[b.Order].Ornament)
	u := p.plan.Unit
	front, back := p.plan.Pinned(b, plan.Front), p.plan.Pinned(b, plan.Back)
	on := [2][]units.Length{o.Starts(plan.Front, u), o.Starts(plan.Back, u)}
	var out []keyRow
	for i := range o.Pieces {
		r := &o.Pieces[i]
		start := on[0][i]
		if r.Side == plan.Back {
			start = on[1][i]
		}
		where := "points at the pole"
		if start > 0 {
			where = typeset(start.Format(u)) + " from the pole"
		}
		if r.From == nil {
			where += " (our guess)"
		}
		for _, one := range front {
			if one.Round == i && one.Flat {
				where += "; 1 a side lies flat"
				break
			}
		}
		var names []string
		counts := map[string][2]int{}
		add := func(name string, side int) {
			if _, ok := counts[name]; !ok {
				names = append(names, name)
			}
			c := counts[name]
			c[side]++
			counts[name] = c
		}
		if p.filled {
			for side, pinned := range [][]plan.Pinned{front, back} {
				for _, one := range pinned {
					if one.Round == i {
						add(one.Fabric, side)
					}
				}
			}
		} else {
			for side, of := range []plan.Side{plan.Front, plan.Back} {
				for _, role := range r.OnSide(of) {
					add(role, side)
				}
			}
		}
		for k, name := range names {
			row := keyRow{fabric: p.say(plain(name)), count: sides(counts[name]), piece: p.cut(b, r.Name, name)}
			if k == 0 {
				row.number, row.round, row.start = fmt.Sprint(i+1), p.say(plain(r.Name)), where
			}
			if look, ok := p.looks[name]; ok && p.filled {
				row.looks = &look
			}
			out = append(out, row)
		}
	}
	if o.Band != nil {
		row := keyRow{round: "band", fabric: p.say(plain(o.Band.Role)), count: "1", piece: p.cut(b, plan.BandName, b.BandFabric()),
			start: typeset(o.Band.Shows.Format(u)) + " shows"}
		if look, ok := p.looks[b.BandFabric()]; ok && p.filled {
			row.looks, row.fabric = &look, p.say(plain(b.BandFabric()))
		}
		out = append(out, row)
	}
	return out
}

// sides words a count of the two sides.
func sides(n [2]int) string {
	switch {
	case n[1] == 0:
		return fmt.Sprintf("%d front", n[0])
	case n[0] == 0:
		return fmt.Sprintf("%d back", n[1])
	}
	return fmt.Sprintf("%d front, %d back", n[0], n[1])
}

// cut is the letter and size of what a bag holds for a round.
func (p *planning) cut(b plan.Bag, piece, fabric string) string {
	for _, q := range b.Parts {
		if q.Piece == piece && (!p.filled || q.Fabric == fabric) {
			return strings.TrimSpace(q.ID + " " + vulgarSize(q.Size, p.plan.Unit) + unitAfter(q.Size, p.plan.Unit))
		}
	}
	return ""
}

// caption explains the picture.
func (p *planning) caption(o *plan.Ornament, at scale) string {
	text := fmt.Sprintf("Both sides as seen from the pole, scale %s: distances from the pole along the ball are true. A folded piece is drawn as a triangle, its point towards the pole, half as high as its longer side; later rounds lie over earlier ones, in a round every second piece is pinned first. Places are counted clockwise from the top.", at)
	if o.Band != nil {
		text += " The ring is the half of the band that shows on each side."
	}
	if oddPieces(o) > 0 {
		text += " Of an odd count the front has one more."
	}
	return text
}

// oddPieces counts the rounds on both sides that cannot be halved.
func oddPieces(o *plan.Ornament) int {
	n := 0
	for _, r := range o.Pieces {
		if r.Side != plan.Both || r.Around != nil {
			continue
		}
		for _, rc := range r.Roles {
			n += rc.Count % 2
		}
	}
	return n
}
