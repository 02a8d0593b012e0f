package search

import (
	"context"
	"sync"

	"pinfold/pack/internal/model"
)

// player is an engine in the rounds.
type player struct {
	model.Engine
	pool   gathered // what it offered since the last barrier
	more   bool
	spent  int64
	weight int64 // quanta a round
}

// bounder is an engine that proves lower bounds as well.
type bounder interface {
	Bound() (bound int64, name string)
}

// gathered is a sink for one engine.
type gathered struct{ patterns []model.Pattern }

// Offer implements [model.Sink].
func (g *gathered) Offer(p model.Pattern) { g.patterns = append(g.patterns, p) }

// firstQuantum is the work of each engine in the first round; quanta grow so
// that barriers stay a small part of the work.
const firstQuantum = 5_000

// barrierWork is what a barrier costs, for each player.
const barrierWork = 10

// rounds lets the engines work until the work in all is end.
func (r *Search) rounds(ctx context.Context, end int64) {
	if len(r.players) == 0 && !r.Done() {
		r.players = r.engines()
		r.quantum = min(firstQuantum, r.o.Effort/20+1)
	}
	for !r.Done() && ctx.Err() == nil {
		active := int64(0)
		for _, p := range r.players {
			if p.more {
				active += p.weight
			}
		}
		left := end - r.out.Work
		if left <= 0 {
			return
		}
		if r.idle = active == 0 || !r.round(min(r.quantum, left/active+1)); r.idle {
			return
		}
		r.quantum = min(r.quantum+r.quantum/2, r.o.Effort/8+1)
	}
}

// round gives every active engine its quantum and exchanges what was found. It
// reports whether any had work to do.
func (r *Search) round(quantum int64) bool {
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
			p.spent, p.more = p.Run(quantum * p.weight)
			<-gate
		}()
	}
	wg.Wait()
	worked := false
	for _, p := range r.players {
		worked = worked || p.spent > 0
		r.out.Work += p.spent + barrierWork
		p.spent = 0
		if b := p.Best(); b != nil {
			r.offer(b, 0)
		}
		if bound, name := p.bound(); bound > r.out.Bound {
			r.out.Bound, r.out.ProvedBy = bound, name
			r.progress()
		}
	}
	r.share()
	if r.out.Best != nil {
		cost := r.out.Best.Cost(r.pr)
		for _, p := range r.players {
			p.Aim(cost)
		}
	}
	return worked
}

// share hands the layouts offered since the last barrier to those who choose.
func (r *Search) share() {
	for _, p := range r.players {
		for _, q := range r.players {
			if c, ok := q.Engine.(*chooser); ok {
				c.learn(p.pool.patterns)
			}
		}
		p.pool.patterns = p.pool.patterns[:0]
	}
}
