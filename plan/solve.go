package plan

import (
	"context"

	"pinfold/pack"
	"pinfold/units"
)

// Options steer [Solve]; the zero value is a normal effort on all cores.
type Options struct {
	Effort  pack.Effort
	Seed    uint64
	Workers int
	// Progress, if set, hears of each better layout of a fabric.
	Progress func(fabric string, p pack.Progress)
}

// firstShare is the part of the effort, in percent, that the fabrics share
// equally before the rest goes to those that are not proved best.
const firstShare = 20

// Solve gathers the pieces of the plan as [Decide] does, cuts each fabric, lays it
// out as the plan prefers and collects what to buy. The effort is shared among the fabrics: a first part equally, the rest by
// the gap that is left to each one's bound. A context that ends stops the search
// with the best so far. Errors come from quantities too large to hold; a plan
// that cannot be cut in full is no error, its solutions say what is missing.
func Solve(ctx context.Context, p *Plan, o Options) (*Result, error) {
	r, err := solve(ctx, p, o)
	if err != nil {
		return nil, err
	}
	if err := r.tidy(ctx, o); err != nil {
		return nil, err
	}
	r.list(ctx)
	return r, nil
}

// solve is Solve before the plan's preference has a say.
func solve(ctx context.Context, p *Plan, o Options) (*Result, error) {
	g, err := Decide(ctx, p, o)
	if err != nil {
		return nil, err
	}
	r := &Result{Plan: p, Gathered: g, Warnings: p.Warnings, Seed: o.Seed, Effort: o.Effort}
	for _, need := range g.Fabrics {
		f := FabricResult{Need: need}
		f.Problem, f.Stocks, f.Bolts, err = FabricProblem(p, need)
		if err != nil {
			return nil, err
		}
		f.Priced = f.Problem.Goal == pack.LeastPrice
		if f.Solution, err = cut(ctx, &f, o, max(1, firstShare/len(g.Fabrics))); err != nil {
			return nil, err
		}
		r.Fabrics = append(r.Fabrics, f)
	}
	return r, improve(ctx, r.Fabrics, o)
}

// list writes down what is bought, and whether the search was cut short.
func (r *Result) list(ctx context.Context) {
	r.Shopping, r.Stopped = nil, ctx.Err() != nil
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		r.Stopped = r.Stopped || f.Solution.Stopped
		r.Shopping = append(r.Shopping, f.purchases()...)
	}
}

// restShare is the part of the effort, in percent, that is spent after the first
// part. A normal effort holds some back, so that a plan of a few fabrics answers
// within 3 seconds on two cores.
func restShare(e pack.Effort) float64 {
	if e == pack.Normal {
		return 40
	}
	return 100 - firstShare
}

func cut(ctx context.Context, f *FabricResult, o Options, share int) (pack.Solution, error) {
	po := pack.Options{Effort: o.Effort, Seed: o.Seed, Workers: o.Workers, Share: share}
	if o.Progress != nil {
		po.Progress = func(p pack.Progress) { o.Progress(f.Need.Fabric, p) }
	}
	return pack.Solve(ctx, f.Problem, po)
}

// improve spends the rest of the effort on the fabrics that are not proved best.
func improve(ctx context.Context, fs []FabricResult, o Options) error {
	var gaps float64
	for _, f := range fs {
		gaps += f.gap()
	}
	for i := range fs {
		f := &fs[i]
		if f.gap() == 0 || ctx.Err() != nil {
			continue
		}
		share := max(1, int(restShare(o.Effort)*f.gap()/gaps))
		s, err := cut(ctx, f, o, share)
		if err != nil {
			return err
		}
		if s.Better(f.Solution) {
			f.Solution = s
		}
	}
	return nil
}

// gap is the part of the cost that is not proved needed, or with scraps first the
// part of what they might give that they do not; 0 when proved.
func (f *FabricResult) gap() float64 {
	s := f.Solution
	switch {
	case s.Status == pack.Proved:
		return 0
	case s.Status == pack.Short:
		return 1
	case s.MostScraps > 0:
		return float64(s.MostScraps-s.FromScraps) / float64(s.MostScraps)
	case s.Cost == 0:
		return 1
	}
	return float64(s.Cost-s.Bound) / float64(s.Cost)
}

// purchases lists what the fabric's layouts buy, in the order of its offers,
// lengths last.
func (f *FabricResult) purchases() []Purchase {
	counts := make([]int, len(f.Stocks))
	var length units.Length
	for _, l := range f.Solution.Layouts {
		if l.Stock.Sheet == pack.FromRoll {
			length += l.Stock.Length
		} else {
			counts[l.Stock.Sheet] += l.Copies
		}
	}
	var out []Purchase
	for i, n := range counts {
		if n == 0 || f.Stocks[i].Offer == nil {
			continue
		}
		buy := Purchase{Fabric: f.Need.Fabric, Offer: *f.Stocks[i].Offer, Count: n}
		if f.Priced {
			price := int64(n) * f.Problem.Sheets[i].Price
			buy.Price = &price
		}
		out = append(out, buy)
	}
	if length > 0 {
		buy := Purchase{Fabric: f.Need.Fabric, Offer: *f.Bolt(length), Length: length}
		if f.Priced {
			price := f.Problem.Roll.Cost(length)
			buy.Price = &price
		}
		out = append(out, buy)
	}
	return out
}
