package main

import (
	"context"
	"fmt"
	"time"

	"pinfold/pack"
	"pinfold/units"
)

// solve runs one instance. The error is for an instance that cannot be solved as
// it stands; an interrupted run returns the context's.
func solve(ctx context.Context, c config, in instance) (record, error) {
	r := record{Name: in.Name, Problem: in.Problem, Turn: c.turn, Best: in.best(c.turn, c.stages)}
	p := in.pieces(c)
	r.Items = describe(p.Pieces, in)
	start := time.Now()
	var err error
	if in.Problem == knapsack {
		err = r.fill(ctx, c, in, p)
	} else {
		err = r.cut(ctx, c, in, p)
	}
	if err != nil {
		return r, err
	}
	r.MS = time.Since(start).Milliseconds()
	return r, ctx.Err()
}

// pieces is the problem without its stock.
func (in instance) pieces(c config) pack.Problem {
	p := pack.Problem{Rules: pack.Rules{Stages: c.stages}}
	for i, it := range in.Items {
		q := pack.Piece{ID: fmt.Sprint(i), W: units.Length(*it[0]), H: units.Length(*it[1]), Turn: c.turn}
		if it[2] != nil {
			q.Demand = int(*it[2])
		} else {
			// No limit: as many as the sheet's area holds.
			q.Demand = int(in.Bin[0] * in.Bin[1] / (*it[0] * *it[1]))
		}
		if it[3] != nil {
			q.Value = *it[3]
		}
		p.Pieces = append(p.Pieces, q)
	}
	return p
}

func (in instance) stock(p *pack.Problem) {
	switch {
	case in.Problem == strip:
		p.Roll = &pack.Roll{ID: "strip", W: units.Length(in.Width), Step: 1, Price: 1, Per: 1}
	case len(in.Sizes) == 0:
		p.Sheets = []pack.Sheet{{ID: "sheet", W: units.Length(in.Bin[0]), H: units.Length(in.Bin[1]), Copies: pack.Unlimited, Price: 1}}
	default:
		for i, s := range in.Sizes {
			sh := pack.Sheet{ID: fmt.Sprint("size ", i), W: units.Length(*s[0]), H: units.Length(*s[1]), Copies: pack.Unlimited, Price: int64(*s[2])}
			if s[3] != nil {
				sh.Copies = int(*s[3])
			}
			p.Sheets = append(p.Sheets, sh)
		}
	}
}

// cut solves for the least cost.
func (r *record) cut(ctx context.Context, c config, in instance, p pack.Problem) error {
	in.stock(&p)
	s, err := pack.Solve(ctx, p, pack.Options{Effort: c.effort, Seed: c.seed, Workers: c.workers})
	if err != nil {
		return fmt.Errorf("instance %q: %w", in.Name, err)
	}
	r.Value, r.Bound, r.Proved, r.ProvedBy = s.Cost, s.Bound, s.Status == pack.Proved, s.ProvedBy
	for i, n := range s.Missing {
		r.Items[i].Missing = n
		r.Missing += n
	}
	for i, l := range s.Layouts {
		r.Sheets = append(r.Sheets, sheetOf(fmt.Sprint(i+1), p, l))
	}
	return nil
}

// fill looks for the most valuable content of the one sheet.
func (r *record) fill(ctx context.Context, c config, in instance, p pack.Problem) error {
	p.Sheets = []pack.Sheet{{ID: "sheet", W: units.Length(in.Bin[0]), H: units.Length(in.Bin[1]), Copies: 1}}
	f, err := pack.Fill(ctx, p, pack.Options{Effort: c.effort, Seed: c.seed, Workers: c.workers})
	if err != nil {
		return fmt.Errorf("instance %q: %w", in.Name, err)
	}
	r.Value, r.Bound, r.Proved, r.ProvedBy = f.Value, f.Bound, f.Proved, f.ProvedBy
	r.Sheets = []sheet{sheetOf("1", p, f.Layout)}
	return nil
}
