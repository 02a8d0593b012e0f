package pack

import (
	"cmp"
	"context"
	"math"
	"slices"

	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
	"pinfold/units"
)

// A problem with a roll is solved length by length: with the bought length
// fixed, the roll is one more sheet whose cost is sunk, and the rest is a
// problem of fixed stocks. A longer length never needs dearer sheets beside it,
// so proofs of "too short" are found by halving; but that a search fails at one
// length says nothing about others, so every length is searched that its bound
// does not rule out, the more promising ones longer.
type rollSearch struct {
	*solver
	tries []*try
	// end is the first length beyond the tries that was looked at, nil when they
	// reach to the longest.
	end *try
}

// try is the problem with one length bought; length 0 is doing without.
type try struct {
	length units.Length
	sc     *scaled
	sunk   int64 // the length's cost
	low    int64 // bound on the cost of everything, by the bound named
	name   string
	search *search.Search
	found  int64 // the least cost found, math.MaxInt64 for none
}

// try states the problem with length l bought, the roll's stock made free.
func (s *solver) try(l units.Length) (*try, error) {
	t := &try{length: l, found: math.MaxInt64}
	var lengths []units.Length
	if l > 0 {
		lengths = []units.Length{l}
	}
	var err error
	if t.sc, err = s.base.bought(lengths); err != nil {
		return nil, err
	}
	if st := t.roll(); st != nil {
		t.sunk, st.Cost = st.Cost, 0
		if t.sc.loose != nil {
			t.sc.loose.Stocks[len(t.sc.stocks)-1].Cost = 0
		}
	}
	return t, nil
}

// roll is the roll's stock, nil when there is none.
func (t *try) roll() *model.Stock {
	n := len(t.sc.stocks)
	if n == 0 || t.sc.stocks[n-1].Sheet != FromRoll {
		return nil
	}
	return &t.sc.model.Stocks[n-1]
}

// prove sets the bound by the cheap bounds.
func (t *try) prove() {
	t.low, t.name = bounds.Cost(t.sc.limits())
	t.low += t.sunk
}

// roll searches over the lengths.
func (s *solver) roll(ctx context.Context) (bound int64, name string, err error) {
	r := rollSearch{solver: s}
	if r.plain() {
		return r.descend(ctx)
	}
	if err := r.list(); err != nil {
		return 0, "", err
	}
	if len(r.tries) == 0 || r.dearest() == math.MaxInt64 {
		// Perhaps nothing holds everything: cut what the longest length allows.
		t, err := r.try(r.longest())
		if err != nil {
			return 0, "", err
		}
		if len(r.tries) == 0 {
			r.run(ctx, t, s.o.budget())
			return 0, "", nil
		}
		r.run(context.Background(), t, 1)
	}
	r.halve(ctx, r.o.budget()/8)
	if r.open() {
		err := r.slabs(ctx, r.o.budget()*7/8, r.aim, func(t *try, m *model.Solution) error {
			r.consider(t.sc, search.Outcome{Best: m}, t.sunk)
			return nil
		})
		if err != nil {
			return 0, "", err
		}
		r.halve(ctx, r.o.budget()-r.nodes)
	}
	bound, name = math.MaxInt64, ""
	for _, t := range r.tries {
		if t.low < bound {
			bound, name = t.low, t.name
		}
	}
	if low := r.between(); low < bound {
		bound, name = low, "area"
	}
	return bound, name, nil
}

// run works on one length.
func (r *rollSearch) run(ctx context.Context, t *try, budget int64) {
	if t.search == nil {
		o := r.searchOptions()
		t.search = search.New(&t.sc.model, o)
	}
	if r.best != nil && r.best.missing == 0 {
		if r.best.cost <= t.sunk {
			return
		}
		t.search.Aim(r.best.cost - t.sunk)
	}
	before := t.search.Outcome().Work
	t.search.Run(ctx, budget)
	out := t.search.Outcome()
	if low := t.sunk + out.Bound; t.sc.loose == nil && low > t.low {
		t.low, t.name = low, out.ProvedBy
	}
	if t.impossible() {
		t.low = math.MaxInt64
	}
	if out.Best != nil {
		t.found = t.sunk + out.Best.Cost(&t.sc.model)
	}
	r.nodes += out.Work - before
	r.consider(t.sc, out, t.sunk)
}

// impossible tells whether the search proved that the length does not do.
func (t *try) impossible() bool { return t.sc.loose == nil && t.search.Impossible() }

// halve works on all lengths that may be cheaper than the best, then on the
// better half of them for twice as long, and so on, for the given work.
func (r *rollSearch) halve(ctx context.Context, left int64) {
	keep := len(r.tries)
	for left > 0 && ctx.Err() == nil {
		slices.SortStableFunc(r.tries, func(a, b *try) int {
			return cmp.Or(cmp.Compare(a.found, b.found), cmp.Compare(a.low, b.low))
		})
		open := 0
		share := max(left/int64(4*max(keep, 1)), 1)
		for _, t := range r.tries {
			if open == keep || left <= 0 || ctx.Err() != nil {
				break
			}
			if !r.promises(t) {
				continue
			}
			open++
			before := r.nodes
			r.run(ctx, t, share)
			left -= r.nodes - before + 100
		}
		if open == 0 {
			return
		}
		keep = max(2, (open+1)/2)
	}
}

// promises tells whether working on t may lead to something cheaper.
func (r *rollSearch) promises(t *try) bool {
	if r.best != nil && r.best.missing == 0 && t.low >= r.best.cost {
		return false
	}
	return t.search == nil || !t.search.Over()
}

// open tells whether any try promises something.
func (r *rollSearch) open() bool { return slices.ContainsFunc(r.tries, r.promises) }

// everyLength is up to how many lengths each is tried.
const everyLength = 32

// list makes a try of every length whose bound does not rule it out, and of
// doing without.
func (r *rollSearch) list() error {
	none, err := r.try(0)
	if err != nil {
		return err
	}
	if !tooLittle(none.sc.limits()) {
		none.prove()
		r.tries = append(r.tries, none)
	}
	low, err := r.shortest()
	if err != nil {
		return err
	}
	high, step := r.longest(), r.p.Roll.Step
	stride := step
	for l, n := low, 1; l <= high; l, n = l+stride, n+1 {
		t, err := r.try(l)
		if err != nil {
			return err
		}
		t.prove()
		if len(r.tries) > 0 && t.sunk >= r.dearest() {
			r.end = t
			break
		}
		r.tries = append(r.tries, t)
		// Beyond a few dozen lengths only some are tried; see between.
		if n%everyLength == 0 {
			stride *= 2
		}
		if l < high && l+stride > high {
			stride = high - l
		}
	}
	return nil
}

// between is the bound over the lengths that lie between the tries: one costs at
// least a step more than the shorter try, and what it leaves to be bought is at
// least what the longer one leaves.
func (r *rollSearch) between() int64 {
	lengths := slices.Clone(r.tries)
	if r.end != nil {
		lengths = append(lengths, r.end)
	}
	slices.SortFunc(lengths, func(a, b *try) int { return cmp.Compare(a.length, b.length) })
	bound := int64(math.MaxInt64)
	for i := 1; i < len(lengths); i++ {
		a, b := lengths[i-1], lengths[i]
		next := a.length + r.p.Roll.Step
		if a.length == 0 || next >= b.length || b.low == math.MaxInt64 {
			continue // shorter than the first length is proved too short
		}
		bound = min(bound, r.p.lengthCost(next)+b.low-b.sunk)
	}
	return bound
}

// plain tells whether cloth at hand and the roll are all there is.
func (r *rollSearch) plain() bool {
	return !slices.ContainsFunc(r.p.Sheets, func(s Sheet) bool { return !s.Free && s.Copies != 0 })
}

// dearest is what everything costs at most, by the first insertion that cuts
// everything; math.MaxInt64 if there is none. It does not ask the context: there
// is always a first answer.
func (r *rollSearch) dearest() int64 {
	for _, t := range r.tries {
		if t.search == nil {
			r.run(context.Background(), t, 1)
		}
		if t.found < math.MaxInt64 {
			return r.best.cost
		}
	}
	return math.MaxInt64
}

// longest is the longest length worth trying: what all pieces laid end to end
// take, or all there is.
func (r *rollSearch) longest() units.Length {
	roll := r.p.Roll
	var row units.Length
	for _, q := range r.p.Pieces {
		side := q.H
		if q.Turn {
			side = max(q.W, q.H)
		}
		n, err := (side + r.p.Rules.Kerf).Times(q.Demand)
		if err != nil || row+n > units.MaxLength/4 {
			row = units.MaxLength / 4
			break
		}
		row += n
	}
	if l, ok := roll.Length(row); ok {
		return l
	}
	return roll.Most.RoundDown(roll.Step)
}

// shortest is the first length that is not proved too short to hold, with the
// limited sheets, every piece.
func (r *rollSearch) shortest() (units.Length, error) {
	roll := r.p.Roll
	low := max(roll.Least.RoundUp(roll.Step), roll.Step)
	all, err := r.try(r.longest())
	if err != nil {
		return 0, err
	}
	unavoidable := unfit(&all.sc.model)
	from, to := int64(0), int64((r.longest()-low)/roll.Step)+1
	for from < to {
		mid := (from + to) / 2
		t, err := r.try(low + units.Length(mid)*roll.Step)
		if err != nil {
			return 0, err
		}
		if tooLittle(t.sc.limits()) || unfit(&t.sc.model) > unavoidable {
			from = mid + 1
		} else {
			to = mid
		}
	}
	return low + units.Length(max(from, 0))*roll.Step, nil
}

// unfit counts the items that fit no stock.
func unfit(m *model.Problem) int {
	n := 0
	for _, it := range m.Items {
		if !slices.ContainsFunc(m.Stocks, func(s model.Stock) bool {
			return it.Fits(s.W, s.H)
		}) {
			n++
		}
	}
	return n
}

// tooLittle tells whether the stock is proved not to hold every piece: whether
// a dear sheet that holds any of them would have to be bought.
func tooLittle(m *model.Problem) bool {
	if len(m.Stocks) == 0 {
		return len(m.Items) > 0
	}
	if slices.ContainsFunc(m.Stocks, func(st model.Stock) bool { return st.Copies == model.Unlimited }) {
		return false
	}
	with := dearer(m)
	b, _ := bounds.Cost(&with)
	return b > 0
}
