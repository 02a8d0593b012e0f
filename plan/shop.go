package plan

import (
	"context"
	"slices"

	"pinfold/pack"
)

// Shop is a plan's answer at the counter: what to ask for, why less will not do,
// and what else one might buy.
type Shop struct {
	// Result is the answer. Where the search for something cheaper found it, it
	// is better than what [Solve] gives for the same effort; Improved names the
	// fabrics.
	Result   *Result
	Improved []string
	Counters []Counter // one for each fabric of the result
	Ways     []Way
	Budget   *Spending // nil without a budget
	// Price adds up the priced fabrics; Unpriced names the others, of which the
	// least area is bought.
	Price    int64
	Unpriced []string
	// refused is, by fabric, the cheaper purchase last looked at in vain, nil if
	// none was or the answer has changed since.
	refused []*Choice
}

// Counter is the decision for one fabric.
type Counter struct {
	Answer Choice
	Reason Reason
	// Cheaper is the next cheaper purchase, which does not hold everything as
	// far as is known; nil when nothing costs less.
	Cheaper *Choice
	// Safer is the next dearer purchase that holds everything; nil when nothing
	// more can be had.
	Safer *Choice
	// Spares tells what of each size may be cut wrong, SaferSpares the same with
	// the safer purchase.
	Spares, SaferSpares []SpareCount
	Holds               []Hold
}

// The parts of the effort, in percent, beside that of the answer: of all ways
// together for each fabric, of one purchase, of one measure, and, of a quick
// effort, of one number of spares.
const (
	wayShare  = 40
	tryShare  = 6
	holdShare = 3
	roomShare = 2
)

// mostBetter bounds how often an answer is replaced by a cheaper one.
const mostBetter = 20

// AtCounter is the answer at the counter alone: that of [Solve], improved by what
// the search for other purchases finds.
func AtCounter(ctx context.Context, p *Plan, o Options) (*Result, error) {
	s, err := atCounter(ctx, p, o)
	if err != nil {
		return nil, err
	}
	s.sum()
	return s.Result, nil
}

func atCounter(ctx context.Context, p *Plan, o Options) (*Shop, error) {
	if p.Cutting.BinFirst {
		// At the counter the question is what to buy.
		q := *p
		q.Cutting.BinFirst = false
		p = &q
	}
	r, err := Solve(ctx, p, o)
	if err != nil {
		return nil, err
	}
	s := &Shop{Result: r, refused: make([]*Choice, len(r.Fabrics))}
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		better := false
		for range mostBetter {
			found, err := s.better(ctx, i, o)
			if err != nil {
				return nil, err
			}
			if !found {
				break
			}
			better = true
		}
		if better {
			s.Improved = append(s.Improved, f.Need.Fabric)
		}
	}
	if len(s.Improved) > 0 {
		if err := r.tidy(ctx, o); err != nil {
			return nil, err
		}
	}
	return s, s.ways(ctx, o)
}

// SolveShop solves the plan and then, fabric by fabric, what else might be bought,
// each with the same engines and checks as the answer. Errors are those of
// [Solve]. A context that ends leaves what has not been tried yet nil.
func SolveShop(ctx context.Context, p *Plan, o Options) (*Shop, error) {
	s, err := atCounter(ctx, p, o)
	if err != nil {
		return nil, err
	}
	r := s.Result
	for i := range r.Fabrics {
		c, err := counterOf(ctx, p, &r.Fabrics[i], s.refused[i], o)
		if err != nil {
			return nil, err
		}
		s.Counters = append(s.Counters, c)
	}
	s.sum()
	if p.Budget != nil {
		if s.Budget, err = spend(ctx, p, s, o); err != nil {
			return nil, err
		}
	}
	r.Stopped = r.Stopped || ctx.Err() != nil
	return s, nil
}

func newTrials(p *Plan, f *FabricResult, o Options) *trials {
	return &trials{shelf: newShelf(f), fabric: p.Fabric(f.Need.Fabric), o: o}
}

// better looks once for a cheaper purchase that the search of [Solve] did not
// find, and takes it.
func (s *Shop) better(ctx context.Context, fabric int, o Options) (bool, error) {
	f := &s.Result.Fabrics[fabric]
	s.refused[fabric] = nil
	if f.gap() == 0 || f.Solution.Status == pack.Short || ctx.Err() != nil {
		return false, nil
	}
	t := newTrials(s.Result.Plan, f, o)
	c, err := t.cheaper(ctx, tryShare)
	if err != nil || c == nil || c.Verdict != pack.Enough {
		s.refused[fabric] = c
		return false, err
	}
	*f = c.Cut
	return true, nil
}

// ways solves the ways to buy, and takes over what turns out better than the
// answer.
func (s *Shop) ways(ctx context.Context, o Options) error {
	fs := s.Result.Fabrics
	share := max(1, wayShare/max(1, len(fs)))
	s.Ways = make([]Way, wayKinds)
	for i := range fs {
		answers := make([]WayAnswer, wayKinds)
		for k := range wayKinds {
			var err error
			if answers[k], err = fs[i].way(ctx, k, o, share); err != nil {
				return err
			}
		}
		for _, a := range answers[1:] {
			if a.Sold && a.Cut.Solution.Better(fs[i].Solution) && a.Cut.Solution.Cost < fs[i].Solution.Cost {
				known := fs[i].Solution
				fs[i].Solution, fs[i].Passes = a.Cut.Solution, a.Cut.Passes
				fs[i].judge(known)
				s.refused[i] = nil
				s.Improved = append(s.Improved, fs[i].Need.Fabric)
			}
		}
		answers[0] = fs[i].answer()
		for k := range wayKinds {
			s.Ways[k].Kind = k
			s.Ways[k].Answers = append(s.Ways[k].Answers, answers[k])
		}
	}
	slices.Sort(s.Improved)
	s.Improved = slices.Compact(s.Improved)
	for k := range s.Ways {
		s.Ways[k].total()
	}
	return nil
}

// counterOf takes a cheaper purchase that was already looked at in vain, if there
// is one.
func counterOf(ctx context.Context, p *Plan, f *FabricResult, refused *Choice, o Options) (Counter, error) {
	t := newTrials(p, f, o)
	own := f.bought()
	c := Counter{
		Answer: Choice{Purchases: t.purchases(own), Cost: f.Solution.Cost, Cut: *f},
		Reason: t.reason(),
		Spares: f.spare(),
	}
	if f.Solution.Status != pack.Short {
		c.Answer.Verdict = pack.Enough
	}
	if ctx.Err() != nil {
		return c, nil
	}
	var err error
	if f.Solution.Status != pack.Short {
		if err = t.room(ctx, own, c.Spares); err != nil {
			return c, err
		}
	}
	if c.Cheaper = refused; refused == nil {
		if c.Cheaper, err = t.cheaper(ctx, tryShare); err != nil {
			return c, err
		}
	}
	if c.Cheaper != nil && c.Cheaper.Verdict == pack.Undecided && c.Cheaper.Cost < f.Solution.Bound {
		c.Cheaper.Verdict = pack.TooLittle
	}
	if c.Safer, err = t.safer(ctx, tryShare); err != nil {
		return c, err
	}
	if c.Safer != nil {
		c.SaferSpares = c.Safer.Cut.spare()
		if err := t.room(ctx, c.Safer.Cut.bought(), c.SaferSpares); err != nil {
			return c, err
		}
	}
	c.Holds, err = t.holds(ctx, HoldStep(p.Unit), holdShare)
	return c, err
}

// sum adds up what is bought, and the passes and the list of the result again.
func (s *Shop) sum() {
	r := s.Result
	r.Shopping = nil
	r.Arrange()
	for i := range r.Fabrics {
		f := &r.Fabrics[i]
		r.Shopping = append(r.Shopping, f.purchases()...)
		switch {
		case f.Priced:
			s.Price += f.Solution.Price
		case f.Solution.Area > 0:
			s.Unpriced = append(s.Unpriced, f.Need.Fabric)
		}
	}
}
