package plan

import (
	"context"
	"math"

	"pinfold/pack"
)

// weighed is how many sheets of one fabric are filled to see how much of their
// area pieces can cover; of the others the area itself counts.
const weighed = 40

// weigh works out the areas that an ornament takes and the sheets hold.
func (pl *pile) weigh(ctx context.Context, o MakesOptions) error {
	kerf := pl.problem.Rules.Kerf
	for _, per := range pl.per {
		var w int64
		for i, k := range per {
			q := pl.problem.Pieces[i]
			w += int64(k) * area(q.W, q.H, kerf)
		}
		// Spares are rounded up, so they are no less than their percentage.
		pl.weight = append(pl.weight, w+w/10000*int64(pl.spare))
	}
	for i, s := range pl.problem.Sheets {
		w, h := s.Usable()
		holds := area(w, h, kerf)
		if i < weighed {
			most, err := pl.fullest(ctx, i, o)
			if err != nil {
				return err
			}
			holds = min(holds, most)
		}
		if holds > 0 && int64(s.Copies) > (math.MaxInt64/2-pl.room)/holds {
			pl.room = math.MaxInt64 / 2
			return nil
		}
		pl.room += int64(s.Copies) * holds
	}
	return nil
}

// fullest is the most area that pieces can cover of the i-th sheet, however many
// there are of each size. No stage limit makes that less than is said.
func (pl *pile) fullest(ctx context.Context, i int, o MakesOptions) (int64, error) {
	p := pl.problem
	p.Sheets = p.Sheets[i : i+1]
	p.Rules.Stages = 0
	p.Pieces = nil
	for _, q := range pl.problem.Pieces {
		q.Demand, q.Value = pack.MaxDemand, area(q.W, q.H, p.Rules.Kerf)
		p.Pieces = append(p.Pieces, q)
	}
	f, err := pack.Fill(ctx, p, pack.Options{Effort: o.Effort, Seed: o.Seed, Workers: o.Workers, Share: firstLook})
	return f.Bound, err
}
