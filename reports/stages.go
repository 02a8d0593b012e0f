package reports

import (
	"fmt"

	"pinfold/plan"
	"pinfold/units"
)

// The small pictures of an ornament as it grows: how many stand in a row, and
// the most there may be.
const (
	stagesInRow = 6
	mostStages  = 2 * stagesInRow
)

// stage is an ornament's side once a round is pinned.
type stage struct {
	side  plan.Side
	upTo  int // index of the round; the number of rounds for the finished side
	words string
}

// stagesOf lists the pictures of an ornament: the front round by round, and the
// back too where it differs; none where there is nothing to tell.
func (p *planning) stagesOf(o *plan.Ornament) []stage {
	sides := []plan.Side{plan.Front}
	for _, r := range o.Pieces {
		if r.Side != plan.Both {
			sides = []plan.Side{plan.Front, plan.Back}
		}
	}
	var out []stage
	for _, side := range sides {
		prefix := ""
		if len(sides) == 2 {
			prefix = map[plan.Side]string{plan.Front: "front, ", plan.Back: "back, "}[side]
		}
		for i := range o.Pieces {
			if len(o.Pieces[i].OnSide(side)) > 0 {
				out = append(out, stage{side, i, fmt.Sprintf("%s%d %s", prefix, i+1, p.say(plain(o.Pieces[i].Name)))})
			}
		}
		if o.Band != nil {
			out = append(out, stage{side, len(o.Pieces), prefix + "band"})
		}
	}
	if len(out) < 2 || len(out) > mostStages {
		return nil
	}
	return out
}

// stages draws them in rows; nil for none.
func (p *planning) stages(b plan.Bag, width units.Length) *Drawing {
	o := p.plan.Ornament(p.plan.Make[b.Order].Ornament)
	all := p.stagesOf(o)
	if all == nil {
		return nil
	}
	const gap, words = 12 * point, 28 * point
	d := &Drawing{W: width}
	w := width / stagesInRow
	at := roundScale(o, w-gap)
	r := at.paper(plan.Sphere{Ball: o.Ball}.PoleToEquator())
	f := Font{Size: 8 * point, Colour: ink, Align: Middle}
	d.text(0, 9*point, "Round by round", Font{Size: 9 * point, Bold: true, Colour: harbor})
	top := 16 * point
	for i, s := range all {
		x := units.Length(i%stagesInRow)*w + w/2
		y := top + units.Length(i/stagesInRow)*(2*r+words)
		p.disc(d, newGlobe(x, y+r, o.Ball, at), b, s.side, s.upTo)
		for k, l := range wrap(s.words, f, w-6*point, 2) {
			d.text(x, y+2*r+11*point+units.Length(k)*lead(f), l, f)
		}
		d.H = y + 2*r + words
	}
	return d
}
