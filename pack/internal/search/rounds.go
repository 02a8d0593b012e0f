package search

import (
	"context"
	"math"
	"sync"

	"pinfold/pack/internal/beam"
	"pinfold/pack/internal/colgen"
	"pinfold/pack/internal/dp"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/ruin"
	"pinfold/pack/internal/svc"
)

// player is an engine in the rounds.
type player struct {
	model.Engine
	pool  gathered // what it offered since the last barrier
	more  bool
	spent int64
}

// bounder is an engine that proves lower bounds as well.
type bounder interface{ Bound() int64 }

// gathered is a sink for one engine.
type gathered struct{ patterns []model.Pattern }

// Offer implements [model.Sink].
func (g *gathered) Offer(p model.Pattern) { g.patterns = append(g.patterns, p) }

// firstQuantum is the work of each engine in the first round; quanta grow so
// that barriers stay a small part of the work.
const firstQuantum = 5_000

// rounds lets the engines work until the work in all is end.
func (r *Search) rounds(ctx context.Context, end int64) {
	if r.players == nil && !r.Done() {
		r.players = r.engines()
		r.quantum = min(firstQuantum, r.o.Effort/20+1)
	}
	for !r.Done() && ctx.Err() == nil {
		active := 0
		for _, p := range r.players {
			if p.more {
				active++
			}
		}
		left := end - r.out.Work
		if active == 0 || left <= 0 {
			return
		}
		r.round(min(r.quantum, left/int64(active)+1))
		r.quantum += r.quantum / 2
	}
}

// round gives every active engine its quantum and exchanges what was found.
func (r *Search) round(quantum int64) {
	var wg sync.WaitGroup
	gate := make(chan struct{}, max(r.o.Workers, 1))
	for _, p := range r.players {
		if !p.more {
			continue
		}
		wg.Add(1)
		gate <- struct{}{}
		go func() {
			defer wg.Done()
			p.spent, p.more = p.Run(quantum)
			<-gate
		}()
	}
	wg.Wait()
	for _, p := range r.players {
		r.out.Work += p.spent
		p.spent = 0
		if b := p.Best(); b != nil {
			r.offer(b, 0)
		}
		if c, ok := p.Engine.(bounder); ok && c.Bound() > r.out.Bound {
			r.out.Bound, r.out.ProvedBy = c.Bound(), "column generation"
			r.progress()
		}
	}
	if r.out.Best == nil {
		return
	}
	cost := r.out.Best.Cost(r.pr)
	for _, p := range r.players {
		p.Aim(cost)
	}
}

// engines sets up the engines.
func (r *Search) engines() []*player {
	var out []*player
	add := func(make func(sink model.Sink) model.Engine) {
		p := &player{more: true}
		p.Engine = make(&p.pool)
		if r.out.Best != nil {
			p.Aim(r.out.Best.Cost(r.pr))
		} else if r.aim > 0 {
			p.Aim(r.aim)
		}
		out = append(out, p)
	}
	exact := r.tableWork() <= r.o.Effort/20
	if exact {
		add(func(sink model.Sink) model.Engine {
			return colgen.New(r.pr, colgen.Options{Sink: sink, Seed: r.o.Seed, Tail: r.tail})
		})
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
		add(func(sink model.Sink) model.Engine { return svc.New(r.pr, sink, r.o.Seed) })
	}
	return out
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

// manyCopies is from how many copies on only the engines run whose work does not
// grow with them.
const manyCopies = 3000

// tail packs what column generation leaves, for a twentieth of the effort at
// most.
func (r *Search) tail(residual *model.Problem, target int64) *model.Solution {
	e := ruin.New(residual, ruin.Options{Seed: r.o.Seed, LowerBound: target})
	e.Run(min(r.o.Effort/20, 200_000))
	return e.Best()
}
