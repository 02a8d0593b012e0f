package pack

import (
	"context"
	"fmt"
	"slices"

	"pinfold/pack/internal/model"
	"pinfold/units"
)

// useUp cuts as much as it can from the scraps, then the rest from the other cloth
// by the goal. Where the rest then cannot be cut in full, a plan that cuts
// everything comes first, whatever it takes from the scraps.
func useUp(ctx context.Context, p Problem, o Options) (Solution, error) {
	var scraps, others []int
	for i, sh := range p.Sheets {
		if sh.scrap() && sh.Copies > 0 {
			scraps = append(scraps, i)
		} else {
			others = append(others, i)
		}
	}
	if len(scraps) == 0 {
		return solve(ctx, p, o)
	}
	half := o
	half.Share = max(1, o.share()/2)
	out, err := fromScraps(ctx, p, scraps, half)
	if err != nil {
		return Solution{}, err
	}
	if out.MostScraps == 0 {
		return solve(ctx, p, o)
	}
	most, by := out.MostScraps, out.ProvedBy
	if most == p.demanded() {
		by = "area" // more than everything cannot come from scraps
	}
	if out.lacks() > 0 {
		if out, err = withRest(ctx, p, o, out, others); err != nil {
			return Solution{}, err
		}
	}
	out.FromScraps, out.MostScraps = p.fromScraps(out.Layouts), most
	// The bounds of the rest speak of these scraps' layouts; of any plan's purchases
	// only the area says something.
	out.AreaBound, out.SheetBound = units.Area(0), 0
	if out.lacks() == 0 {
		s := solver{p: p}
		out.AreaBound = min(s.areaBound(), out.Area)
	}
	switch {
	case out.lacks() > 0:
		out.Status, out.ProvedBy = Short, ""
	case out.FromScraps == most && by != "":
		out.Status, out.ProvedBy = Proved, by
	default:
		out.Status, out.ProvedBy = Found, ""
	}
	return out, nil
}

// withRest cuts what scraps do not give from the other sheets and the roll, or, where
// those do not hold it, everything from all there is if that lacks less.
func withRest(ctx context.Context, p Problem, o Options, scraps Solution, others []int) (Solution, error) {
	rest := p
	rest.Pieces = slices.Clone(p.Pieces)
	for i, n := range scraps.Missing {
		rest.Pieces[i].Demand = n
	}
	rest.Sheets = make([]Sheet, 0, len(others))
	for _, i := range others {
		rest.Sheets = append(rest.Sheets, p.Sheets[i])
	}
	half := o
	half.Share = max(1, o.share()/2)
	out, err := solve(ctx, rest, half)
	if err != nil {
		return Solution{}, err
	}
	layouts := scraps.Layouts
	for _, l := range out.Layouts {
		if l.Stock.Sheet != FromRoll {
			l.Stock.Sheet = others[l.Stock.Sheet]
		}
		layouts = append(layouts, l)
	}
	out.Layouts, out.Nodes, out.Stopped = layouts, scraps.Nodes+out.Nodes, scraps.Stopped || out.Stopped
	if out.lacks() == 0 {
		return out, nil
	}
	all, err := solve(ctx, p, half)
	if err != nil {
		return Solution{}, err
	}
	if all.lacks() < out.lacks() {
		all.Nodes += out.Nodes
		return all, nil
	}
	return out, nil
}

// dear is how many times more a piece counts that only scraps can hold.
const dear = 1000

// fromScraps cuts as much from the scraps as it can: every piece might be had
// elsewhere as well, at the price of its area. Missing are the pieces that are.
func fromScraps(ctx context.Context, p Problem, scraps []int, o Options) (Solution, error) {
	q := Problem{Rules: p.Rules, Goal: LeastPrice}
	need := p.demanded()
	var unit units.Area
	for _, piece := range p.Pieces {
		if piece.Demand > 0 {
			unit = model.GCD(unit, units.AreaOf(piece.W, piece.H))
		}
	}
	empty := Solution{Missing: make([]int, len(p.Pieces))}
	for i, piece := range p.Pieces {
		empty.Missing[i] = piece.Demand
	}
	if need == 0 {
		return empty, nil
	}
	for _, i := range scraps {
		q.Sheets = append(q.Sheets, p.Sheets[i])
		q.Sheets[len(q.Sheets)-1].ID = fmt.Sprint("scrap ", i)
	}
	q.Pieces = slices.Clone(p.Pieces)
	only := false
	for i, piece := range q.Pieces {
		if piece.Demand == 0 {
			continue
		}
		price := int64(units.AreaOf(piece.W, piece.H) / unit)
		if !p.elsewhere(piece) {
			only = true
			price *= dear
		}
		q.Sheets = append(q.Sheets, Sheet{ID: fmt.Sprint("elsewhere ", i), W: piece.W, H: piece.H, Copies: piece.Demand, Price: price})
	}
	s := solver{p: q, o: o, small: true}
	sol, err := s.solve(ctx)
	if err != nil {
		return Solution{}, err
	}
	out := empty
	out.Nodes, out.Stopped, out.ProvedBy = sol.Nodes, sol.Stopped, sol.ProvedBy
	for _, l := range sol.Layouts {
		if l.Stock.Sheet >= len(scraps) {
			continue
		}
		used := false
		for _, at := range l.Placements(p.Rules.Kerf) {
			out.Missing[at.Piece] -= l.Copies
			used = true
		}
		if used {
			l.Stock.Sheet = scraps[l.Stock.Sheet]
			out.Layouts = append(out.Layouts, l)
		}
	}
	out.FromScraps, out.MostScraps = p.fromScraps(out.Layouts), need
	if !only && sol.Status != Short {
		out.MostScraps = max(need-units.Area(sol.Bound)*unit, out.FromScraps)
	}
	return out, nil
}

// elsewhere tells whether cloth that is no scrap can hold the piece.
func (p Problem) elsewhere(q Piece) bool {
	fit := func(w, h units.Length) bool { return q.W <= w && q.H <= h || q.Turn && q.H <= w && q.W <= h }
	for _, sh := range p.Sheets {
		if w, h := sh.Usable(); !sh.scrap() && sh.Copies != 0 && fit(w, h) {
			return true
		}
	}
	if p.Roll == nil {
		return false
	}
	for _, h := range []units.Length{q.H, q.W} {
		if l, ok := p.Roll.Length(h); ok {
			if w, high := p.Roll.Usable(l); fit(w, high) {
				return true
			}
		}
	}
	return false
}

// fromScraps is the area of the pieces that layouts cut from scraps.
func (p Problem) fromScraps(layouts []Layout) (a units.Area) {
	for _, l := range layouts {
		if l.Stock.Sheet == FromRoll || !p.Sheets[l.Stock.Sheet].scrap() {
			continue
		}
		for _, q := range l.Placements(p.Rules.Kerf) {
			a += units.Area(l.Copies) * units.AreaOf(q.W, q.H)
		}
	}
	return a
}
