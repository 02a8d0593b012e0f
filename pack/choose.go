package pack

import (
	"context"
	"math"
	"slices"
)

// choice is the problem of a roll of several terms: since one length is taken,
// it is the best of the problems with one bolt each, and no bound of all is
// above the least of theirs.
type choice struct {
	p     Problem
	o     Options
	tries []boltTry
	nodes int64
}

type boltTry struct {
	roll  Roll
	s     Solution
	done  bool // solved at least once
	bound int64
	name  string
}

// choose solves the problem with each bolt worth it for half the effort, then
// with those that may still be cheaper than the best for the rest.
func choose(ctx context.Context, p Problem, o Options) (Solution, error) {
	c := choice{p: p, o: o}
	bolts := p.Roll.worth(p.Goal)
	for _, b := range bolts {
		c.tries = append(c.tries, boltTry{roll: b})
	}
	share := o.share()
	if len(bolts) == 1 {
		if err := c.try(ctx, 0, share); err != nil {
			return Solution{}, err
		}
		return c.finish(), nil
	}
	for i := range c.tries {
		if err := c.try(ctx, i, share/(2*len(bolts))); err != nil {
			return Solution{}, err
		}
	}
	best := c.best()
	var open []int
	for i, t := range c.tries {
		if t.s.Status != Proved && (best.Status == Short || t.bound < best.Cost) {
			open = append(open, i)
		}
	}
	for _, i := range open {
		if ctx.Err() != nil || c.best().Status != Short && c.tries[i].bound >= c.best().Cost {
			continue
		}
		if err := c.try(ctx, i, share/(2*len(open))); err != nil {
			return Solution{}, err
		}
	}
	return c.finish(), nil
}

// try solves the problem with the i-th bolt, and keeps the better solution and
// the better bound.
func (c *choice) try(ctx context.Context, i, share int) error {
	t := &c.tries[i]
	q := c.p
	q.Roll = &t.roll
	o := c.o
	o.Share = max(share, 1)
	s := solver{p: q, o: o}
	out, err := s.solve(ctx)
	if err != nil {
		return err
	}
	c.nodes += out.Nodes
	bound, name := out.Bound, s.name
	if out.Status == Short {
		if hopeless, by, err := s.hopeless(ctx); err != nil {
			return err
		} else if hopeless {
			bound, name = math.MaxInt64, by
		}
	}
	if !t.done || bound > t.bound {
		t.bound, t.name = bound, name
	}
	// Another bolt may sell the very length for less.
	out.Price, out.Area = c.p.paid(out.Layouts)
	out.Cost = c.p.cost(out.Price, out.Area)
	if !t.done || out.Better(t.s) {
		t.s = out
	}
	t.done = true
	return nil
}

// hopeless tells whether the longest length of the only bolt, with all the
// sheets, is proved not to hold every piece.
func (s *solver) hopeless(ctx context.Context) (bool, string, error) {
	q := s.p
	q.Roll = nil
	q.Sheets = slices.Clone(q.Sheets)
	r := rollSearch{solver: s}
	if l := r.longest(); s.p.Roll.sells(l) {
		w, h := s.p.Roll.Usable(l)
		if w > 0 && h > 0 {
			id := s.p.Roll.ID
			for slices.ContainsFunc(q.Sheets, func(sh Sheet) bool { return sh.ID == id }) {
				id += "'"
			}
			q.Sheets = append(q.Sheets, Sheet{ID: id, W: w, H: h, Copies: 1})
		}
	}
	o := s.o
	o.Progress = nil
	got, err := Holds(ctx, q, o)
	s.nodes += got.Nodes
	return got.Verdict == TooLittle, got.ProvedBy, err
}

func (c *choice) best() Solution {
	best := c.tries[0].s
	for _, t := range c.tries[1:] {
		if t.done && t.s.Better(best) {
			best = t.s
		}
	}
	return best
}

// finish is the best solution with the bound over all bolts.
func (c *choice) finish() Solution {
	out := c.best()
	low := c.tries[0]
	for _, t := range c.tries {
		out.Stopped = out.Stopped || t.s.Stopped
		if t.bound < low.bound {
			low = t
		}
	}
	out.Nodes = c.nodes
	out.Bound, out.AreaBound = min(low.bound, out.Cost), min(out.AreaBound, out.Area)
	if out.Status == Short {
		return out
	}
	out.Status, out.ProvedBy = Found, ""
	if out.Bound == out.Cost {
		out.Status, out.ProvedBy = Proved, low.name
		if low.bound > out.Cost || low.name == "" {
			out.ProvedBy = "the bounds of every bolt"
		}
	}
	return out
}
