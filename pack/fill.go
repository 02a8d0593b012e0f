package pack

import (
	"context"
	"errors"
	"fmt"

	"pinfold/pack/internal/blocks"
	"pinfold/pack/internal/model"
)

// FillResult is the best content found for one sheet.
type FillResult struct {
	Layout Layout
	// Value is what the pieces on it are worth, and Bound the most that any
	// layout could be.
	Value, Bound int64
	// Proved tells that the two are equal, ProvedBy by which bound; it is ""
	// otherwise.
	Proved   bool
	ProvedBy string
	// Count is the number of pieces.
	Count int
	// Nodes counts the work done; Stopped is set when the context ended it.
	Nodes   int64
	Stopped bool
}

// Fill finds the most valuable layout of the problem's only sheet: no piece more
// often than its demand, each worth its Value or else its area. The problem has
// no roll. A context that ends stops the search with the best layout so far. The
// error is for a problem without meaning, or for a bug of ours: a layout that
// cannot be cut is never returned.
func Fill(ctx context.Context, p Problem, o Options) (FillResult, error) {
	if err := p.Validate(); err != nil {
		return FillResult{}, err
	}
	if len(p.Sheets) != 1 || p.Roll != nil {
		return FillResult{}, fmt.Errorf("pack: to fill is to fill one sheet, not %d and a roll: give exactly one sheet", len(p.Sheets))
	}
	if w, h := p.Sheets[0].Usable(); w <= 0 || h <= 0 {
		return FillResult{}, fmt.Errorf("pack: nothing is left of sheet %q when it is squared", p.Sheets[0].ID)
	}
	p.Sheets = []Sheet{p.Sheets[0]}
	p.Sheets[0].Copies = 1
	s, err := newScaled(p, nil)
	if err != nil {
		return FillResult{}, err
	}
	var res FillResult
	var pat model.Pattern
	if len(s.model.Stocks) == 0 {
		// The sheet is smaller than any piece.
		res.Proved, res.ProvedBy = true, "every piece"
		w, h := p.Sheets[0].Usable()
		res.Layout = Layout{W: w, H: h, Copies: 1, Cuts: p.Rules.left(Rect{0, 0, w, h}, p.Sheets[0])}
		return res, checkFill(p, res)
	}
	if err := worthCounting(&s.model); err != nil {
		return FillResult{}, err
	}
	pat, res = s.fill(ctx, o.fillBudget())
	missing := make([]int, len(p.Pieces))
	for i, q := range p.Pieces {
		missing[i] = q.Demand
	}
	placed, _ := s.assign(pat, 1, missing)
	if res.Layout, err = s.layout(0, placed); err != nil {
		return FillResult{}, err
	}
	res.Count = len(pat.Placed)
	return res, checkFill(p, res)
}

// mostWorth bounds what all pieces together may be worth, so that sums and
// bounds are exact.
const mostWorth = 1 << 57

// worthCounting refuses values so large that sums of them overflow.
func worthCounting(m *model.Problem) error {
	sum := 0.0
	for _, it := range m.Items {
		fit := float64(m.Stocks[0].Area()) / float64(it.Area())
		sum += float64(it.Value) * min(float64(it.Demand), fit)
	}
	if sum > mostWorth {
		return fmt.Errorf("pack: the pieces of a sheet are worth more than %d in all: give smaller values", int64(mostWorth))
	}
	return nil
}

// fillBudget is the work an effort may spend on one sheet.
func (o Options) fillBudget() int64 {
	return o.shareOf(map[Effort]int64{Quick: 300_000, Normal: 3_000_000, Thorough: 60_000_000}[o.Effort])
}

// fillQuantum is the work between two looks at the context.
const fillQuantum = 20_000

// fill fills the sheet. Where what is bad does not lie on the engines' grid, what
// they prove is not so of the cloth: then the bound is looked for with the loose
// model, for half of the work.
func (s *scaled) fill(ctx context.Context, budget int64) (model.Pattern, FillResult) {
	if s.loose == nil {
		return fill(ctx, &s.model, budget)
	}
	pat, res := fill(ctx, &s.model, budget/2)
	_, most := fill(ctx, s.loose, budget/2)
	res.Bound, res.Nodes, res.Stopped = most.Bound, res.Nodes+most.Nodes, res.Stopped || most.Stopped
	res.Proved, res.ProvedBy = false, ""
	if res.Value == most.Bound {
		res.Proved, res.ProvedBy = true, most.ProvedBy
	}
	return pat, res
}

func fill(ctx context.Context, m *model.Problem, budget int64) (model.Pattern, FillResult) {
	var res FillResult
	f := blocks.NewFill(m, blocks.FillOptions{})
	for more := true; more && res.Nodes < budget; {
		if ctx.Err() != nil {
			res.Stopped = true
			break
		}
		var spent int64
		spent, more = f.Run(min(fillQuantum, budget-res.Nodes))
		res.Nodes += spent
	}
	pat, value := f.Best()
	res.Value, res.Bound = value, f.Bound()
	if f.Proved() {
		res.Proved, res.ProvedBy = true, f.BoundBy()
	}
	return pat, res
}

// checkFill verifies a result as [Check] does.
func checkFill(p Problem, res FillResult) error {
	c := checker{p: p}
	c.sheets(Solution{Layouts: []Layout{res.Layout}})
	var value int64
	count := 0
	for i, q := range p.Pieces {
		n := c.placed[i]
		if n > q.Demand {
			c.fail("piece %q is cut %d times, wanted %d", q.ID, n, q.Demand)
		}
		worth := q.Value
		if worth == 0 {
			worth = int64(q.W) * int64(q.H)
		}
		value += int64(n) * worth
		count += n
	}
	if value != res.Value || count != res.Count || res.Bound < res.Value {
		c.fail("%d pieces are worth %d, not %d pieces worth %d of at most %d", count, value, res.Count, res.Value, res.Bound)
	}
	if len(c.errs) > 0 {
		return fmt.Errorf("pack: a filling fails its check: %w", errors.Join(c.errs...))
	}
	return nil
}
