package pack

import (
	"context"

	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/peel"
	"pinfold/units"
)

// peelWork is how long peeling goes on before the context is asked.
const peelWork = 125_000

// peel looks for lengths that waste next to nothing when there is nothing but the
// roll: the shortest first, and longer ones when attempts fail. It is given a share of
// the work, and as much again by each success.
func (d *descent) peel(ctx context.Context, share int64) error {
	t, err := d.try(d.best)
	if err != nil {
		return err
	}
	m := &t.sc.model
	if len(m.Stocks) != 1 || len(m.Stocks[0].Bad) > 0 || m.Stages > 0 {
		return nil
	}
	s := peel.New(m, d.o.Seed)
	step := d.p.Roll.Step
	if t.copies() > insert.Many {
		// The first answer alone may have taken all there was, and the others are
		// not made for so many.
		share = d.o.budget() * 3 / 4
	}
	over, failed := units.Length(1), 0 // steps above the shortest, attempts there
	for end := d.left - share; d.left > end && ctx.Err() == nil && d.low < d.best; {
		if t, err = d.try(min(d.low+over*step, d.best-step)); err != nil {
			return err
		}
		spent, r := s.Run(t.roll().H, min(d.o.budget()/40, peelWork))
		d.left -= spent + 100
		d.nodes += spent
		switch r {
		case peel.Useless:
			return nil
		case peel.Impossible:
			if t.length == d.best-step {
				return nil
			}
			over, failed = 2*over+1, 0
		case peel.Found:
			m := &model.Solution{}
			m.Add(s.Layout(), 1)
			if err := d.note(t, m); err != nil {
				return err
			}
			over, failed = over/2, 0
			end = max(d.left-share, d.o.budget()/8)
		case peel.Failed:
			if failed++; failed == 2 {
				over, failed = 2*over+1, 0
			}
		}
	}
	return nil
}
