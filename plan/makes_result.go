package plan

import (
	"fmt"
	"slices"

	"pinfold/pack"
)

// result lays n ornaments of each line out as a plan of their own, from the stash
// alone.
func (m *maker) result(n []int) (*Result, error) {
	p := m.only(n)
	s, ok := m.won[fmt.Sprint(n)]
	if !ok {
		return nil, fmt.Errorf("plan: the layouts of the best mix are lost")
	}
	g, err := gather(p, s.splits)
	if err != nil {
		return nil, err
	}
	r := &Result{Plan: p, Gathered: g, Warnings: p.Warnings, Seed: m.o.Seed, Effort: m.o.Effort}
	for _, need := range g.Fabrics {
		f := FabricResult{Need: need}
		if f.Problem, f.Stocks, err = stashProblem(p, need); err != nil {
			return nil, err
		}
		if f.Solution, err = cut(m.ctx, &f, m.o.Options, longLook); err != nil {
			return nil, err
		}
		if f.Solution.Status == pack.Short {
			// The layouts by which the number was found are there.
			if f.Solution, err = m.recut(&f, s); err != nil {
				return nil, err
			}
		}
		r.Stopped = r.Stopped || f.Solution.Stopped
		r.Fabrics = append(r.Fabrics, f)
	}
	if err := r.tidy(m.ctx, m.o.Options); err != nil {
		return nil, err
	}
	return r, nil
}

// recut makes a solution of f's problem from layouts that hold at least as much.
func (m *maker) recut(f *FabricResult, s takes) (pack.Solution, error) {
	at := slices.IndexFunc(m.piles, func(pl *pile) bool { return pl.fabric == f.Need.Fabric })
	pl := m.piles[at]
	a, _ := pl.recall(s.demand[at], longLook)
	// The same size has another letter where fewer sizes are cut.
	piece := make([]int, len(pl.sizes))
	for i, s := range pl.sizes {
		piece[i] = slices.IndexFunc(f.Need.Sizes, func(n Need) bool { return n.Size == s.Size })
	}
	out := pack.Solution{Status: pack.Proved, ProvedBy: "nothing bought", Missing: make([]int, len(f.Problem.Pieces)), Nodes: a.solution.Nodes}
	left := make([]int, len(f.Problem.Pieces))
	for i, q := range f.Problem.Pieces {
		left[i] = q.Demand
	}
	for _, l := range a.solution.Layouts {
		for range l.Copies {
			one := l
			one.Copies = 1
			one.Cuts = trimmed(l.Cuts, piece, left)
			out.Layouts = append(out.Layouts, one)
		}
	}
	if err := pack.Check(f.Problem, out); err != nil {
		return pack.Solution{}, fmt.Errorf("plan: fabric %q: layouts with pieces left out fail their check: %w", f.Need.Fabric, err)
	}
	return out, nil
}

// trimmed is the tree with its pieces renamed and those no longer wanted left
// whole; left is lowered.
func trimmed(t *pack.Node, piece, left []int) *pack.Node {
	out := *t
	if t.Leaf == pack.PieceLeaf {
		if i := piece[t.Piece]; i >= 0 && left[i] > 0 {
			left[i]--
			out.Piece = i
			return &out
		}
		return &pack.Node{Leaf: pack.WasteLeaf}
	}
	out.Parts = nil
	for _, part := range t.Parts {
		out.Parts = append(out.Parts, trimmed(part, piece, left))
	}
	return &out
}
