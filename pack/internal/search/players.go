package search

import (
	"math"

	"pinfold/pack/internal/beam"
	"pinfold/pack/internal/blocks"
	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/colgen"
	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/reselect"
	"pinfold/pack/internal/ruin"
	"pinfold/pack/internal/svc"
)

const (
	// manyCopies is from how many copies on only the engines run whose work does
	// not grow with them.
	manyCopies = 3000
	// fewCopies is up to how many copies exact covers are tried.
	fewCopies = 150
	// repeats is from how many copies of a size on average on column generation
	// gets most of the work.
	repeats = 6
	// poolSize is how many layouts are kept to choose from again.
	poolSize = 4000
)

// engines sets up the players; the order decides ties between solutions.
func (r *Search) engines() []*player {
	var out []*player
	if len(r.pr.Stocks) == 0 {
		return out
	}
	add := func(make func(sink model.Sink) model.Engine) {
		p := &player{more: true, weight: 1}
		p.Engine = make(&p.pool)
		if r.out.Best != nil {
			p.Aim(r.out.Best.Cost(r.pr))
		} else if r.aim > 0 {
			p.Aim(r.aim)
		} else if r.all >= 0 {
			p.Aim(r.all + 1)
		}
		out = append(out, p)
	}
	if r.fitting() && r.copies <= manyCopies {
		for seed := range uint64(2) {
			add(func(sink model.Sink) model.Engine {
				return ruin.New(r.pr, ruin.Options{Seed: r.o.Seed + seed, Sink: sink, LowerBound: r.out.Bound, Warm: r.out.Best})
			})
		}
		if r.pr.Stages == 0 {
			add(func(model.Sink) model.Engine { return &decider{pr: r.pr} })
		}
		return out
	}
	scraps := dp.NewScraps(r.pr)
	exact := r.tableWork() <= r.o.Effort/20
	if exact {
		add(func(sink model.Sink) model.Engine {
			return colgen.New(r.pr, colgen.Options{Sink: sink, Seed: r.o.Seed, Effort: r.o.Effort, Tail: r.tail, Scraps: scraps})
		})
		if r.copies > repeats*len(r.pr.Items) {
			out[len(out)-1].weight = 8
		}
	}
	if r.copies <= manyCopies {
		add(func(sink model.Sink) model.Engine {
			return beam.New(r.pr, beam.Options{Seed: r.o.Seed, Sink: sink})
		})
		add(func(sink model.Sink) model.Engine {
			return ruin.New(r.pr, ruin.Options{Seed: r.o.Seed, Sink: sink, LowerBound: r.out.Bound, Warm: r.out.Best})
		})
	}
	if exact || r.pr.Stages == 0 {
		add(func(sink model.Sink) model.Engine { return svc.New(r.pr, scraps, sink, r.o.Seed) })
	}
	add(func(model.Sink) model.Engine { return &chooser{r: r, pool: reselect.NewPool(r.pr, poolSize)} })
	if len(r.pr.Stocks) == 1 {
		add(func(model.Sink) model.Engine { return &refiner{r: r} })
	}
	if r.copies <= fewCopies && r.pr.Stages == 0 {
		add(func(model.Sink) model.Engine { return &decider{pr: r.pr} })
	}
	return out
}

// fitting tells whether nothing costs anything, so that the question is only
// whether everything fits, with about as much to cut as there is cloth.
func (r *Search) fitting() bool {
	var room, need float64
	for _, st := range r.pr.Stocks {
		if st.Cost > 0 || st.Copies == model.Unlimited {
			return false
		}
		room += float64(st.Area()) * float64(st.Copies)
	}
	for _, it := range r.pr.Items {
		need += float64(it.Area()) * float64(it.Demand)
	}
	return need > 0.8*room
}

// tableWork estimates the work of one table of exact fillings. On very fine
// grids it is more than a whole search may spend.
func (r *Search) tableWork() int64 {
	sizes := make([]dp.Size, len(r.pr.Stocks))
	for i, st := range r.pr.Stocks {
		sizes[i] = dp.Size{W: st.W, H: st.H}
	}
	cells := float64(dp.New(r.pr.Items, sizes, r.pr.Stages).Cells())
	return int64(cells * math.Sqrt(cells) / 1000 * float64(max(r.pr.Stages, 1)))
}

// tail packs what column generation leaves, for a twentieth of the effort at
// most.
func (r *Search) tail(residual *model.Problem, target int64) *model.Solution {
	e := ruin.New(residual, ruin.Options{Seed: r.o.Seed, LowerBound: target})
	e.Run(min(r.o.Effort/20, 200_000))
	return e.Best()
}

// chooser chooses again from all layouts the others have met. It works once
// enough new ones have come.
type chooser struct {
	r    *Search
	pool *reselect.Pool
	seen int // layouts at the last choice
	best *model.Solution
	aim  int64 // 0 for none
}

// learn takes layouts in at a barrier.
func (c *chooser) learn(ps []model.Pattern) {
	for _, p := range ps {
		c.pool.Offer(p)
	}
}

// Run implements [model.Engine].
func (c *chooser) Run(budget int64) (int64, bool) {
	if c.pool.Len() < c.seen+c.seen/8+1 {
		return 0, true
	}
	c.seen = c.pool.Len()
	aim := c.aim
	if aim == 0 {
		aim = math.MaxInt64
	}
	best, spent := c.pool.Choose(aim, c.r.out.Bound, budget)
	if best != nil {
		c.best = best
	}
	return spent, true
}

// Best implements [model.Engine].
func (c *chooser) Best() *model.Solution { return c.best }

// Aim implements [model.Engine].
func (c *chooser) Aim(cost int64) { c.aim = cost }

// refiner proves the refined bound once.
type refiner struct {
	r     *Search
	bound int64
	name  string
}

// refineWork is about what the refined bound takes.
const refineWork = 150_000

// Run implements [model.Engine].
func (f *refiner) Run(int64) (int64, bool) {
	if f.r.out.Best == nil || f.r.o.Effort < 8*refineWork {
		return 0, f.r.out.Best == nil
	}
	f.bound, f.name = bounds.Refine(f.r.pr, f.r.out.Best.Cost(f.r.pr))
	return refineWork, false
}

// Best implements [model.Engine].
func (f *refiner) Best() *model.Solution { return nil }

// Aim implements [model.Engine].
func (f *refiner) Aim(int64) {}

// Bound implements [bounder].
func (f *refiner) Bound() (int64, string) { return f.bound, f.name }

// decider asks whether a solution cheaper than the best exists, by complete
// enumeration.
type decider struct {
	pr    *model.Problem
	aim   int64
	cover *blocks.CoverSearch
	fit   *blocks.FitSearch // when one sheet would have to do
	best  *model.Solution
	bound int64
}

// Run implements [model.Engine].
func (d *decider) Run(budget int64) (spent int64, more bool) {
	if d.aim == 0 {
		return 0, true
	}
	if d.fit != nil {
		spent, more = d.fit.Run(budget)
		switch d.fit.Verdict() {
		case blocks.Yes:
			d.best = &model.Solution{}
			d.best.Add(d.fit.Layout(), 1)
			return spent, false
		case blocks.No:
			d.bound = d.aim
			return spent, false
		}
		return spent, more
	}
	spent, more = d.cover.Run(budget)
	switch d.cover.Verdict() {
	case blocks.Yes:
		d.best = d.cover.Solution()
	case blocks.No:
		d.bound = d.aim
		return spent, false
	}
	return spent, more
}

// Best implements [model.Engine].
func (d *decider) Best() *model.Solution { return d.best }

// Aim implements [model.Engine].
func (d *decider) Aim(cost int64) {
	if d.aim > 0 && cost >= d.aim {
		return
	}
	d.aim = cost
	d.cover, d.fit = nil, nil
	if st := d.pr.Stocks[0]; len(d.pr.Stocks) == 1 && len(st.Bad) == 0 && st.Cost > 0 && cost > st.Cost && cost <= 2*st.Cost {
		d.fit = blocks.NewFit(d.pr, blocks.FillOptions{})
		return
	}
	d.cover = blocks.NewCover(d.pr, blocks.CoverOptions{Cost: cost - 1})
}

// Bound implements [bounder].
func (d *decider) Bound() (int64, string) { return d.bound, "complete search" }

// bound returns what the engine has proved, if it proves anything.
func (p *player) bound() (int64, string) {
	switch e := p.Engine.(type) {
	case *colgen.Engine:
		return e.Bound(), "column generation"
	case bounder:
		return e.Bound()
	}
	return 0, ""
}
