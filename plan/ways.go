package plan

import (
	"context"
	"slices"

	"pinfold/pack"
)

// WayKind is a way to buy.
type WayKind uint8

// The ways, in the order of the table.
const (
	// StashFirst is the answer: whatever is cheapest, the stash used first.
	StashFirst WayKind = iota
	OnlyCuts
	OnlyLength
	WithoutStash
	wayKinds
)

// Way is a way to buy the whole plan.
type Way struct {
	Kind    WayKind
	Answers []WayAnswer // one for each fabric of the result
	// Price adds up the priced fabrics; Complete tells that every fabric is sold
	// this way and none lacks a piece.
	Price    int64
	Complete bool
}

// WayAnswer is one fabric bought one way.
type WayAnswer struct {
	// Sold tells whether the fabric is sold this way at all, or need not be
	// bought; if not, Cut is empty.
	Sold      bool
	Purchases []Purchase
	Cut       FabricResult
}

// narrowed is the fabric with only what a way allows; ok tells whether there is
// anything left to buy or to cut.
func (f *FabricResult) narrowed(kind WayKind) (g FabricResult, ok bool) {
	g = *f
	g.Problem.Sheets = slices.Clone(f.Problem.Sheets)
	offers := 0
	for i := range g.Problem.Sheets {
		sh := &g.Problem.Sheets[i]
		switch {
		case sh.Free && kind == WithoutStash, !sh.Free && kind == OnlyLength:
			sh.Copies = 0
		case !sh.Free:
			offers++
		}
	}
	if kind == OnlyCuts {
		g.Problem.Roll, g.Bolts = nil, nil
	}
	return g, offers > 0 || g.Problem.Roll != nil
}

// stays tells whether an answer is allowed by a way.
func (f *FabricResult) stays(kind WayKind) bool {
	return !slices.ContainsFunc(f.Solution.Layouts, func(l pack.Layout) bool {
		switch {
		case l.Stock.Sheet == pack.FromRoll:
			return kind == OnlyCuts
		case f.Problem.Sheets[l.Stock.Sheet].Free:
			return kind == WithoutStash
		}
		return kind == OnlyLength
	})
}

// way solves one fabric one way. A way allows less than the answer did, so the
// answer's bound holds for it too, and if the answer keeps to the way, it is the
// way's answer.
func (f *FabricResult) way(ctx context.Context, kind WayKind, o Options, share int) (WayAnswer, error) {
	if kind == StashFirst {
		return f.answer(), nil
	}
	g, sold := f.narrowed(kind)
	if !sold && (f.Solution.Cost > 0 || kind == WithoutStash) {
		return WayAnswer{}, nil
	}
	if f.stays(kind) && f.Solution.Status == pack.Proved {
		g.Solution = f.Solution
		return g.answer(), pack.Check(g.Problem, g.Solution)
	}
	var err error
	if g.Solution, err = cut(ctx, &g, o, share); err != nil {
		return WayAnswer{}, err
	}
	if f.stays(kind) && f.Solution.Better(g.Solution) {
		known := g.Solution
		g.Solution = f.Solution
		g.judge(known)
	}
	if s := &g.Solution; s.Status == pack.Found && f.Solution.Status != pack.Short && f.Solution.Bound > s.Bound {
		known := f.Solution
		known.AreaBound = s.AreaBound
		g.judge(known)
	}
	g.Passes = g.Problem.Passes(g.Solution.Layouts)
	return g.answer(), pack.Check(g.Problem, g.Solution)
}

func (f *FabricResult) answer() WayAnswer {
	return WayAnswer{Sold: true, Purchases: f.purchases(), Cut: *f}
}

// total adds up a way.
func (w *Way) total() {
	w.Price, w.Complete = 0, true
	for _, a := range w.Answers {
		if !a.Sold || a.Cut.Solution.Status == pack.Short {
			w.Complete = false
			continue
		}
		if a.Cut.Priced {
			w.Price += a.Cut.Solution.Price
		}
	}
}
