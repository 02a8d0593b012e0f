package plan

import (
	"math/big"

	"pinfold/units"
)

// Reach tells how far a round's folded pieces come, from the pole along the
// ball's surface.
type Reach struct {
	Ornament, Round string
	Side            Side
	// Length is where the round starts plus half its pieces' longer side: a
	// folded piece is a triangle half as high as that side.
	Length units.Length
	// Past tells that it goes beyond the ball's middle, so that what is over is
	// trimmed or hidden under the band.
	Past bool
	// Bare is the width of foam left between the round and the edge of the
	// band, rounded up to a tick; 0 when it is covered.
	Bare units.Length
}

// reachOf returns how far a piece of that size reaches when its round starts
// from from the pole.
func reachOf(from units.Length, size units.Size) units.Length {
	return from + (max(size.Along, size.Across)+1)/2
}

// uncovered returns pi x ball / 4 less half of what the band shows less reach,
// rounded up, and whether reach is beyond pi x ball / 4.
func uncovered(ball, shows, reach units.Length) (gap units.Length, past bool) {
	way := Sphere{ball}.arc(4)
	past = way.Cmp(new(big.Rat).SetInt64(int64(reach))) < 0
	way.Sub(way, big.NewRat(int64(shows)+2*int64(reach), 2))
	if way.Sign() <= 0 {
		return 0, past
	}
	return units.Length(ceil(way)), past
}

// Reaches returns the reach of the round that comes furthest on each side of
// the ornament, of those that say where they start. A side with a later round
// that does not say so is left out unless it is covered anyway.
func (o *Ornament) Reaches() []Reach {
	var out []Reach
	for _, side := range []Side{Front, Back} {
		var best *Round
		known := true
		for i := range o.Pieces {
			r := &o.Pieces[i]
			switch {
			case r.Side != Both && r.Side != side:
			case r.From == nil:
				known = false
			default:
				known = true
				if best == nil || reachOf(*r.From, r.Size) >= reachOf(*best.From, best.Size) {
					best = r
				}
			}
		}
		if best == nil {
			continue
		}
		var shows units.Length
		if o.Band != nil {
			shows = o.Band.Shows
		}
		reach := Reach{Ornament: o.Name, Round: best.Name, Side: side, Length: reachOf(*best.From, best.Size)}
		reach.Bare, reach.Past = uncovered(o.Ball, shows, reach.Length)
		if reach.Bare > 0 && !known {
			continue
		}
		if len(out) == 1 && out[0].Round == reach.Round {
			out[0].Side = Both
			continue
		}
		out = append(out, reach)
	}
	return out
}
