package plan

import (
	"context"
	"fmt"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// trials asks whether fixed purchases of one fabric are enough. The money is
// spent, so all cloth is free and the roll's length is one more sheet.
type trials struct {
	*shelf
	fabric *Fabric
	o      Options
}

// measure is one side of bought cloth that may come out narrower than promised:
// the sheet's width or height, or the roll's width when sheet is pack.FromRoll.
// of is its extent in the cloth, after shrinking and before squaring.
type measure struct {
	sheet int
	along bool
	of    units.Length
}

// sunk states the cutting of a basket, with one measure changed if m is set.
// The roll's length is the last sheet.
func (t *trials) sunk(b basket, m *measure) pack.Problem {
	p := *t.p
	p.Sheets, p.Roll, p.Goal = nil, nil, pack.LeastPrice
	for i, sh := range t.p.Sheets {
		if !sh.Free {
			sh.Copies, sh.Free = b.cuts[i], true
		}
		if m != nil && m.sheet == i {
			if m.along {
				sh.H = m.of
			} else {
				sh.W = m.of
			}
		}
		p.Sheets = append(p.Sheets, sh)
	}
	if b.length == 0 {
		return p
	}
	r := *t.p.Roll
	if m != nil && m.sheet == pack.FromRoll {
		r.W = m.of
	}
	_, h := r.Usable(b.length)
	p.Sheets = append(p.Sheets, pack.Sheet{
		ID: t.freeID("the length"), W: r.W, H: h + r.Squared.Bottom + r.Squared.Top,
		Squared: r.Squared, Selvages: r.Selvages, Copies: 1, Free: true,
	})
	return p
}

// freeID is an id that no sheet of the problem has.
func (t *trials) freeID(id string) string {
	for slices.ContainsFunc(t.p.Sheets, func(sh pack.Sheet) bool { return sh.ID == id }) {
		id += "'"
	}
	return id
}

// enough asks whether the cloth of a problem that is all free holds every piece.
func (t *trials) enough(ctx context.Context, p pack.Problem, share int) (pack.Holding, error) {
	return pack.Holds(ctx, p, t.options(share))
}

func (t *trials) options(share int) pack.Options {
	return pack.Options{Effort: t.o.Effort, Seed: t.o.Seed, Workers: t.o.Workers, Share: share}
}

// Choice is one way to buy a fabric, cut as far as it goes. Its solution answers
// the fabric's own problem and has passed the same check as the main answer.
type Choice struct {
	Purchases []Purchase
	Cost      int64 // in the fabric's goal: money, or the area bought
	Verdict   pack.Verdict
	Cut       FabricResult
}

// try solves a basket: whether it holds every piece, and if not, what is
// missing. With whole, cloth that holds nothing is kept as an offcut, else it is
// not bought.
func (t *trials) try(ctx context.Context, b basket, whole bool, share int) (*Choice, error) {
	p := t.sunk(b, nil)
	h, err := t.enough(ctx, p, share)
	if err != nil {
		return nil, err
	}
	if h.Verdict == pack.Enough {
		return t.choice(b, h.Solution, h.Verdict, whole)
	}
	s, err := pack.Solve(ctx, p, t.options(share))
	if err != nil {
		return nil, err
	}
	if s.Status != pack.Short {
		h.Verdict = pack.Enough
	}
	return t.choice(b, s, h.Verdict, whole)
}

// choice carries the layouts of a fixed purchase over to the fabric's problem.
func (t *trials) choice(b basket, s pack.Solution, v pack.Verdict, whole bool) (*Choice, error) {
	roll := len(t.p.Sheets)
	out := pack.Solution{Missing: s.Missing, Stopped: s.Stopped, Nodes: s.Nodes, SheetBound: t.f.Solution.SheetBound}
	used := make([]int, roll+1)
	for _, l := range s.Layouts {
		used[l.Stock.Sheet] += l.Copies
		if l.Stock.Sheet == roll {
			l.Stock = pack.Stock{Sheet: pack.FromRoll, Length: b.length}
		}
		out.Layouts = append(out.Layouts, l)
	}
	if whole {
		for i, n := range b.cuts {
			if n > used[i] {
				w, h := t.p.Sheets[i].Usable()
				out.Layouts = append(out.Layouts, t.untouched(pack.Stock{Sheet: i}, w, h, n-used[i]))
			}
		}
		if b.length > 0 && used[roll] == 0 {
			w, h := t.p.Roll.Usable(b.length)
			out.Layouts = append(out.Layouts, t.untouched(pack.Stock{Sheet: pack.FromRoll, Length: b.length}, w, h, 1))
		}
	}
	f := *t.f
	f.Solution = out
	kept := f.bought()
	f.Solution.Price, f.Solution.Area = t.price(kept), t.area(kept)
	f.Solution.Cost = t.cost(kept)
	f.judge(t.f.Solution)
	f.Passes = f.Problem.Passes(f.Solution.Layouts)
	if err := pack.Check(f.Problem, f.Solution); err != nil {
		return nil, fmt.Errorf("plan: a purchase of %q fails its check: %w", f.Need.Fabric, err)
	}
	return &Choice{Purchases: t.purchases(kept), Cost: f.Solution.Cost, Verdict: v, Cut: f}, nil
}

// untouched is cloth that is bought and not cut.
func (t *trials) untouched(from pack.Stock, w, h units.Length, copies int) pack.Layout {
	leaf := pack.OffcutLeaf
	keep := t.p.Rules.Keep
	if min(w, h) < min(keep.Along, keep.Across) || max(w, h) < max(keep.Along, keep.Across) {
		leaf = pack.WasteLeaf
	}
	return pack.Layout{Stock: from, W: w, H: h, Copies: copies, Cuts: &pack.Node{Leaf: leaf}}
}

// judge sets status and bounds of a solution, given another one of the same
// problem whose bounds are proved.
func (f *FabricResult) judge(known pack.Solution) {
	s := &f.Solution
	s.Bound, s.AreaBound, s.ProvedBy, s.Status = min(known.Bound, s.Cost), min(known.AreaBound, s.Area), "", pack.Found
	for _, n := range s.Missing {
		if n > 0 {
			s.Status = pack.Short
			return
		}
	}
	if s.Cost == s.Bound {
		s.Status, s.ProvedBy = pack.Proved, known.ProvedBy
		if s.ProvedBy == "" {
			s.ProvedBy = "the bounds of an earlier search"
		}
	}
}
