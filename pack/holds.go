package pack

import (
	"context"
	"fmt"

	"pinfold/pack/internal/blocks"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
)

// Verdict says whether stock holds every piece.
type Verdict uint8

// The verdicts.
const (
	Undecided Verdict = iota // no layout was found, and none is ruled out
	Enough                   // there is a layout
	TooLittle                // proved that there is none
)

// String returns the words used in files and print.
func (v Verdict) String() string { return [...]string{"undecided", "enough", "too little"}[v] }

// Holding is the answer of [Holds].
type Holding struct {
	Verdict Verdict
	// Solution holds every piece when the verdict is Enough; it costs nothing.
	Solution Solution
	// ProvedBy names the bound behind TooLittle, "" otherwise.
	ProvedBy string
	// Nodes counts the work done; Stopped is set when the context ended it.
	Nodes   int64
	Stopped bool
}

// fewCopies is up to how many copies a complete enumeration is tried.
const fewCopies = 150

// Holds asks whether the problem's sheets hold every piece, whatever they cost.
// Unlike [Solve] it looks for a proof when they do not: one dear sheet more, as
// wide and as high as any of them, would then have to be cut, and a bound on the
// cost says so; or a complete enumeration does. The problem has no roll. The
// error is for a problem without meaning, or for a bug of ours: layouts that do
// not pass [Check] are never returned.
func Holds(ctx context.Context, p Problem, o Options) (Holding, error) {
	if err := p.Validate(); err != nil {
		return Holding{}, err
	}
	if err := p.Countable(); err != nil {
		return Holding{}, err
	}
	if p.Roll != nil {
		return Holding{}, fmt.Errorf("pack: whether a roll holds everything depends on its length: state the length as a sheet")
	}
	p.Sheets = append([]Sheet(nil), p.Sheets...)
	for i := range p.Sheets {
		p.Sheets[i].Free, p.Sheets[i].Price = true, 0
	}
	s, err := newScaled(p, nil)
	if err != nil {
		return Holding{}, err
	}
	h := holder{sc: s, o: o}
	m := h.ask(ctx)
	h.out.Stopped = ctx.Err() != nil
	if m == nil {
		return h.out, nil
	}
	h.out.Verdict = Enough
	if h.out.Solution, err = s.solution(m); err != nil {
		return Holding{}, err
	}
	h.out.Solution.Status, h.out.Solution.ProvedBy = Proved, "nothing bought"
	if err := Check(p, h.out.Solution); err != nil {
		return Holding{}, fmt.Errorf("pack: a layout that should hold everything fails its check: %w", err)
	}
	return h.out, nil
}

// holder looks for one answer.
type holder struct {
	sc    *scaled
	o     Options
	out   Holding
	plain *search.Search // looks for layouts alone
}

// ask returns a complete solution or nil, and sets the verdict if there is none.
func (h *holder) ask(ctx context.Context) *model.Solution {
	m := &h.sc.model
	switch {
	case len(m.Items) == 0:
		return &model.Solution{}
	case unfit(m) > 0:
		h.out.Verdict, h.out.ProvedBy = TooLittle, "a piece larger than every sheet"
		return nil
	}
	budget := h.o.budget()
	o := search.Options{Effort: budget, Seed: h.o.Seed, Workers: h.o.workers()}
	h.plain = search.New(m, o)
	// What proves most is only set up for larger efforts.
	whole := h.o
	whole.Share = 0
	o.Effort = whole.budget()
	with := dearer(h.sc.limits())
	dear := search.New(&with, o)
	dear.Aim(1)
	// The cheap bounds and the first insertions, then enumeration, then what
	// looks for layouts alone and what looks for both.
	for _, step := range []func() (*model.Solution, bool){
		func() (*model.Solution, bool) { return h.run(ctx, dear, 1) },
		func() (*model.Solution, bool) { return h.enumerate(ctx, budget/8) },
		func() (*model.Solution, bool) { return h.run(ctx, h.plain, budget*5/8) },
		func() (*model.Solution, bool) { return h.run(ctx, dear, budget-h.out.Nodes) },
	} {
		if found, done := step(); done || ctx.Err() != nil {
			return found
		}
	}
	return nil
}

// run searches on. Where the dear sheet's problem is a loose one, only its bound
// says something, and the other's does not.
func (h *holder) run(ctx context.Context, look *search.Search, budget int64) (*model.Solution, bool) {
	before := look.Outcome().Work
	if budget > 0 && !look.Done() {
		look.Run(ctx, budget)
	}
	out := look.Outcome()
	h.out.Nodes += out.Work - before
	layouts, bounds := true, true
	if h.sc.loose != nil {
		layouts, bounds = look == h.plain, look != h.plain
	}
	switch {
	case layouts && out.Best != nil:
		return out.Best, true
	case bounds && out.Bound > 0:
		h.out.Verdict, h.out.ProvedBy = TooLittle, out.ProvedBy
		return nil, true
	}
	return nil, false
}

// enumerate asks for a cover at no more than the price of all cloth, each sheet
// priced by its area: so what may be wasted bounds which layouts matter.
func (h *holder) enumerate(ctx context.Context, budget int64) (*model.Solution, bool) {
	m := h.sc.model
	if m.Copies() > fewCopies || m.Stages > 0 {
		return nil, false
	}
	m.Stocks = append([]model.Stock(nil), m.Stocks...)
	var all int64
	for i := range m.Stocks {
		st := &m.Stocks[i]
		if st.Copies == model.Unlimited {
			return nil, false
		}
		st.Cost = st.Area()
		all += st.Cost * int64(st.Copies)
	}
	cover := blocks.NewCover(&m, blocks.CoverOptions{Cost: all})
	for spent, more := int64(0), true; more && spent < budget && ctx.Err() == nil; {
		var n int64
		n, more = cover.Run(min(fillQuantum, budget-spent))
		spent += n
		h.out.Nodes += n
	}
	switch cover.Verdict() {
	case blocks.Yes:
		return cover.Solution(), true
	case blocks.No:
		if h.sc.loose != nil {
			return nil, false
		}
		h.out.Verdict, h.out.ProvedBy = TooLittle, "complete search"
		return nil, true
	}
	return nil, false
}

// dearer is the problem with every stock free and one sheet more, of any number,
// that costs something and holds whatever one of the others does.
func dearer(m *model.Problem) model.Problem {
	dear := model.Stock{Copies: model.Unlimited, Cost: 1}
	with := *m
	with.Stocks = nil
	for _, st := range m.Stocks {
		dear.W, dear.H = max(dear.W, st.W), max(dear.H, st.H)
		st.Cost = 0
		with.Stocks = append(with.Stocks, st)
	}
	with.Stocks = append(with.Stocks, dear)
	return with
}
