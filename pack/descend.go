package pack

import (
	"context"
	"math"

	"pinfold/pack/internal/beam"
	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
	"pinfold/units"
)

// When nothing but the roll is bought, a length that will do makes every longer
// one do, and one proved too short rules out every shorter one. So the search
// goes down: whether everything fits some way below the best length is asked
// briefly, just below it for as long as the effort lasts.
type descent struct {
	*rollSearch
	low  units.Length // the shortest length not known to be too short
	sure units.Length // the shortest length not proved too short for the true cloth
	by   string       // what proved all below it too short
	best units.Length // the shortest length known to do, 0 for none
	left int64
}

// descend solves a problem whose only cost is the roll's length.
func (r *rollSearch) descend(ctx context.Context) (bound int64, name string, err error) {
	d := descent{rollSearch: r, by: "area", left: r.o.budget()}
	if d.low, err = r.shortest(); err != nil {
		return 0, "", err
	}
	d.sure = d.low
	none, err := r.try(0)
	if err != nil {
		return 0, "", err
	}
	tooFew := tooLittle(none.sc.limits())
	if !tooFew {
		none.prove()
		d.spend(ctx, none, d.left/4)
		if none.found < math.MaxInt64 {
			return 0, none.name, nil
		}
		tooFew = none.impossible()
	}
	if d.low > r.longest() {
		return 0, "", d.most(ctx)
	}
	if err := d.first(ctx); err != nil {
		return 0, "", err
	}
	if d.best == 0 {
		if err := d.most(ctx); err != nil || d.best == 0 {
			return 0, "", err
		}
	}
	if err := d.strip(ctx); err != nil {
		return 0, "", err
	}
	share := d.left / 3
	if d.low < d.best {
		before := d.nodes
		if err := d.slabs(ctx, d.left/3, d.aim, d.note); err != nil {
			return 0, "", err
		}
		d.left -= d.nodes - before
	}
	if err := d.peel(ctx, max(share, d.left/2)); err != nil {
		return 0, "", err
	}
	if err := d.shorten(ctx); err != nil {
		return 0, "", err
	}
	if !tooFew {
		return 0, "area", nil
	}
	t, err := r.try(min(d.sure, d.best))
	if err != nil {
		return 0, "", err
	}
	return t.sunk, d.by, nil
}

// most cuts what the longest length allows.
func (d *descent) most(ctx context.Context) error {
	t, err := d.try(d.longest())
	if err != nil {
		return err
	}
	d.spend(ctx, t, d.left/2)
	if m := t.search.Outcome().Best; m != nil {
		return d.note(t, m)
	}
	return nil
}

func (d *descent) spend(ctx context.Context, t *try, budget int64) {
	before := d.nodes
	d.run(ctx, t, budget)
	d.left -= d.nodes - before + 100
}

// first finds a length from which insertion cuts everything. The context only makes
// insertion shorter: there is always a first answer.
func (d *descent) first(ctx context.Context) error {
	roll := d.p.Roll
	start := d.nodes
	for l, stride := d.low, roll.Step; ; stride *= 2 {
		l = min(l, d.longest())
		t, err := d.try(l)
		if err != nil {
			return err
		}
		limit := func() int64 { return insert.Work(&t.sc.model, d.o.budget()/8) - (d.nodes - start) }
		packs := []func(context.Context, *model.Problem, insert.Rule, int64) (*model.Solution, int64){insert.Together, insert.Repeated}
		if t.copies() > insert.Many {
			packs = packs[1:]
		}
		for n, rule := range insert.Rules(t.copies()) {
			if d.best > 0 && d.nodes > d.o.budget()/8 || n > 0 && (limit() <= 0 || ctx.Err() != nil) {
				break
			}
			for _, pack := range packs {
				m, work := pack(ctx, &t.sc.model, rule, limit())
				d.left -= work
				d.nodes += work
				if t.complete(m) {
					if err := d.note(t, m); err != nil {
						return err
					}
				}
			}
		}
		if d.best > 0 || l == d.longest() {
			return nil
		}
		l += stride
	}
}

func (t *try) copies() int {
	n := 0
	for _, it := range t.sc.model.Items {
		n += it.Demand
	}
	return n
}

func (t *try) complete(m *model.Solution) bool {
	for _, n := range m.Missing(&t.sc.model) {
		if n > 0 {
			return false
		}
	}
	return true
}

// note keeps a complete solution of t, for the length it really uses.
func (d *descent) note(t *try, m *model.Solution) error {
	top := 0
	for i, p := range m.Patterns {
		if st := t.sc.stocks[p.Stock]; st.Sheet != FromRoll || m.Copies[i] == 0 {
			continue
		}
		for _, q := range p.Placed {
			_, h := t.sc.model.Items[q.Item].Sides(q.Turned)
			top = max(top, int(q.Y)+h)
		}
	}
	used, ok := d.p.Roll.Length(units.Length(top)*t.sc.gy - d.p.Rules.Kerf)
	if !ok || used > t.length {
		used = t.length
	}
	if d.best > 0 && used >= d.best {
		return nil
	}
	if used < t.length {
		var err error
		if t, err = d.try(used); err != nil {
			return err
		}
	}
	d.best = used
	d.low = min(d.low, used)
	d.consider(t.sc, search.Outcome{Best: m}, t.sunk)
	return nil
}

// aim is more than any pile costs that is a step shorter than the best.
func (d *descent) aim(int64) int64 {
	if d.low == d.best {
		return 1
	}
	_, h := d.p.Roll.Usable(d.best - d.p.Roll.Step)
	return d.slabCost(h+d.p.Rules.Kerf) + 1
}

// stripCopies is from how many copies on the tree search, which is then soon as far
// as it gets, is stopped earlier.
const stripCopies = 100

// strip lets the tree search look for a short length when there is nothing but
// the roll.
func (d *descent) strip(ctx context.Context) error {
	t, err := d.try(d.best)
	if err != nil {
		return err
	}
	if len(t.sc.model.Stocks) != 1 || t.copies() > insert.Many || d.low == d.best || ctx.Err() != nil {
		return nil
	}
	s := beam.New(&t.sc.model, beam.Options{Goal: beam.Strip, Seed: d.o.Seed})
	share := d.left / 4
	if t.copies() > stripCopies {
		share /= 2
	}
	for end := d.left - share; d.left > end && ctx.Err() == nil && d.low < d.best; {
		spent, more := s.Run(d.o.budget() / 40)
		d.left -= spent + 1
		d.nodes += spent
		if m := s.Best(); m != nil {
			if err := d.note(t, m); err != nil {
				return err
			}
		}
		if !more {
			break
		}
	}
	return nil
}

// shorten asks for lengths between low and best until they meet or the effort
// is spent.
func (d *descent) shorten(ctx context.Context) error {
	step := d.p.Roll.Step
	part := int64(2) // how far down: 1/part of the way from best to low
	for d.low < d.best && d.left > 0 && ctx.Err() == nil {
		// Of lengths that cost the same the shortest stands for all.
		for d.p.Goal == LeastPrice && d.low < d.best && d.p.Roll.Cost(d.best-step) >= d.solver.best.cost {
			d.best -= step
		}
		if d.low == d.best {
			break
		}
		gap := int64((d.best - d.low) / step)
		down := max((gap+part-1)/part, 1)
		t, err := d.try(d.best - units.Length(down)*step)
		if err != nil {
			return err
		}
		share := d.left/8 + 1
		if down == 1 {
			share = d.left
		}
		before := d.best
		d.spend(ctx, t, share)
		out := t.search.Outcome()
		switch {
		case out.Best != nil:
			if err := d.note(t, out.Best); err != nil {
				return err
			}
			part = 2
		case t.search.Done():
			if d.low = t.length + step; t.sc.loose == nil {
				d.sure, d.by = d.low, out.ProvedBy
			}
		case down == 1:
			return nil
		default:
			part *= 2
		}
		if d.best == before && out.Best != nil {
			return nil
		}
	}
	return nil
}
