package plan

import (
	"context"

	"pinfold/pack"
	"pinfold/units"
)

// Hold tells down to which measure of bought cloth the chosen purchase is
// enough, everything else being as promised. Measures are before shrinking and
// squaring, as one takes them in the shop.
type Hold struct {
	Offer Offer
	// Along is set when the measure runs along the selvage, else it runs across:
	// the usable width of a length off the bolt, the width of a sold cut.
	Along    bool
	Promised units.Length
	// Down is the least measure found to hold every piece; Fails the greatest
	// one proved to be too little, 0 when none is.
	Down, Fails units.Length
}

// Exact tells that Down cannot be beaten on the grid of step.
func (h Hold) Exact(step units.Length) bool { return h.Fails > 0 && h.Down-h.Fails <= step }

// HoldStep is the grid on which measures are tried: 1/8 in or 2 mm.
func HoldStep(u units.Unit) units.Length {
	if u == units.Centimetres {
		return 2 * units.Millimetre
	}
	return units.Inch / 8
}

// holds looks for the least measures of everything that is bought.
func (t *trials) holds(ctx context.Context, step units.Length, share int) ([]Hold, error) {
	if t.f.Solution.Status == pack.Short {
		return nil, nil
	}
	own := t.f.bought()
	fabric := t.fabric
	var out []Hold
	add := func(o *Offer, sheet int, along bool, promised units.Length, shrinks int) error {
		h, err := t.hold(ctx, own, step, share, promised, func(l units.Length) *measure {
			return &measure{sheet: sheet, along: along, of: shrunk(l, shrinks)}
		})
		h.Offer, h.Along = *o, along
		out = append(out, h)
		return err
	}
	for i, n := range own.cuts {
		if n == 0 {
			continue
		}
		o := t.f.Stocks[i].Offer
		if err := add(o, i, false, o.Size.Across, fabric.ShrinksWidth); err != nil {
			return nil, err
		}
		if err := add(o, i, true, o.Size.Along, fabric.ShrinksLength); err != nil {
			return nil, err
		}
	}
	if own.length > 0 {
		if err := add(t.f.Bolt(own.length), pack.FromRoll, false, fabric.Usable, fabric.ShrinksWidth); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// hold halves the distance between a measure that holds and one that was not
// found to. Narrower cloth never holds more, so whatever is proved too narrow
// rules out everything below it; that no layout is found proves nothing, and
// then the true limit may lie lower than the one told.
func (t *trials) hold(ctx context.Context, own basket, step units.Length, share int, promised units.Length, at func(units.Length) *measure) (Hold, error) {
	h := Hold{Promised: promised, Down: promised}
	// Every multiple of step below promised, by number; 0 holds nothing.
	low, high := units.Length(0), (promised-1)/step+1
	for low+1 < high && ctx.Err() == nil {
		mid := (low + high) / 2
		m := at(mid * step)
		p := t.sunk(own, m)
		if t.tooSmall(p) {
			low, h.Fails = mid, mid*step
			continue
		}
		got, err := t.enough(ctx, p, share)
		switch {
		case err != nil:
			return h, err
		case got.Verdict == pack.Enough:
			high, h.Down = mid, mid*step
		case got.Verdict == pack.TooLittle:
			low, h.Fails = mid, mid*step
		default:
			low = mid
		}
	}
	return h, nil
}

// tooSmall tells whether free cloth has less area than the pieces.
func (t *trials) tooSmall(p pack.Problem) bool {
	left := t.all
	for _, sh := range p.Sheets {
		left -= units.Area(sh.Copies) * sh.UsableArea()
	}
	return left > 0
}
