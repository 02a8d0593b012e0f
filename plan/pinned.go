package plan

import (
	"math"

	"pinfold/units"
)

// Pinned is one piece where it is pinned on its half of the ball.
type Pinned struct {
	Round  int // index into Ornament.Pieces
	Fabric string
	// From is how far its point lies from the pole along the surface.
	From units.Length
	// Turn is the way round from the top, clockwise, in radians.
	Turn float64
	// Flat tells that the piece is not folded and lies over the pole.
	Flat bool
}

// usualStep is how far rounds lie apart where the plan does not say: piece lists
// print 3/8 to 1/2 in.
func usualStep(u units.Unit) units.Length {
	if u == units.Centimetres {
		return units.Centimetre
	}
	return units.Inch / 2
}

// Starts returns how far from the pole each round starts on the side. A round
// that does not say so starts 1/2 in or 1 cm behind the one before it there, and
// the first at the pole; rounds of the other side are left at 0.
func (o *Ornament) Starts(side Side, u units.Unit) []units.Length {
	out := make([]units.Length, len(o.Pieces))
	next := units.Length(0)
	for i := range o.Pieces {
		r := &o.Pieces[i]
		if r.Side != Both && r.Side != side {
			continue
		}
		out[i] = next
		if r.From != nil {
			out[i] = *r.From
		}
		next = out[i] + usualStep(u)
	}
	return out
}

// OnSide lists the roles of the round's places around the pole of one side. A
// count for both sides is halved; of an odd one the front has one more.
func (r *Round) OnSide(side Side) []string {
	if r.Side != Both && r.Side != side {
		return nil
	}
	if r.Around != nil {
		return r.Around
	}
	var out []string
	for _, rc := range r.Roles {
		n := rc.Count
		if r.Side == Both {
			n = (n + 1) / 2
			if side == Back {
				n = rc.Count / 2
			}
		}
		for range n {
			out = append(out, rc.Role)
		}
	}
	return out
}

// flatFirst tells whether the first of a round's places is a piece that lies
// flat under the others. Four folded squares fill the circle round the pole, and
// the published lists of ten for the two first rounds are of one flat and four
// folded ones a side.
func flatFirst(from units.Length, places int) bool { return from == 0 && places == 5 }

// Pinned returns the pieces of a bag on one side in pinning order. The places of
// a round are spread evenly from the top, clockwise; of two rounds with as many
// places, the later lies half a place further round, its points between those
// before. Of an even number every second place is pinned first and then those
// between, so that each piece lies over or under both its neighbours. (Both are
// common practice, no source.)
func (p *Plan) Pinned(b Bag, side Side) []Pinned {
	o := p.Ornament(p.Make[b.Order].Ornament)
	starts := o.Starts(side, p.Unit)
	var out []Pinned
	before, half := 0, false
	for i := range o.Pieces {
		r := &o.Pieces[i]
		places := r.OnSide(side)
		if len(places) == 0 {
			continue
		}
		left := b.fabrics(r.Name)
		if side == Back {
			for _, role := range r.OnSide(Front) {
				left.take(role)
			}
		}
		folded := len(places)
		flat := flatFirst(starts[i], folded)
		if flat {
			folded--
		}
		half = folded == before && !half
		before = folded
		step := 2 * math.Pi / float64(folded)
		var round []Pinned
		for k, role := range places {
			one := Pinned{Round: i, Fabric: left.take(role), From: starts[i]}
			switch {
			case flat && k == 0:
				one.Flat = true
			case flat:
				one.Turn = step * float64(k-1)
			default:
				one.Turn = step * float64(k)
			}
			if half && !one.Flat {
				one.Turn += step / 2
			}
			round = append(round, one)
		}
		out = append(out, inTurn(round, flat)...)
	}
	return out
}

// inTurn puts a round's pieces in the order in which they are pinned.
func inTurn(round []Pinned, flat bool) []Pinned {
	var out []Pinned
	if flat {
		out, round = round[:1:1], round[1:]
	}
	if len(round)%2 == 1 {
		return append(out, round...)
	}
	for first := range 2 {
		for k := first; k < len(round); k += 2 {
			out = append(out, round[k])
		}
	}
	return out
}

// fabricsLeft is what a round's places are filled from, role by role.
type fabricsLeft map[string][]BagPart

func (b *Bag) fabrics(piece string) fabricsLeft {
	out := fabricsLeft{}
	for _, q := range b.Parts {
		if q.Piece == piece {
			out[q.Role] = append(out[q.Role], q)
		}
	}
	return out
}

// take returns the fabric of the next piece of a role; "" when there is none.
func (f fabricsLeft) take(role string) string {
	for i := range f[role] {
		if q := &f[role][i]; q.Each > 0 {
			q.Each--
			return q.Fabric
		}
	}
	return ""
}

// BandFabric returns what the ornament's band is cut from; "" without one.
func (b *Bag) BandFabric() string {
	for _, q := range b.Parts {
		if q.Piece == BandName {
			return q.Fabric
		}
	}
	return ""
}
