package pack

import (
	"context"
	"math"

	"pinfold/pack/internal/bounds"
	"pinfold/pack/internal/insert"
	"pinfold/pack/internal/model"
	"pinfold/pack/internal/search"
	"pinfold/units"
)

// A problem with a roll is solved length by length: with the bought length
// fixed, the roll is one more sheet whose cost is sunk, and the rest is a
// problem of fixed stocks. A longer length never needs dearer sheets beside it,
// so proofs of "too short" are found by halving; but that a search fails at one
// length says nothing about others, so lengths are searched one by one.
type rollSearch struct {
	*solver
	// low is the shortest length that is not proved too short, high the longest
	// worth trying; both can be bought. low > high when no length is of use.
	low, high units.Length
	bound     int64
	name      string
}

// maxLengths bounds how many lengths are searched.
const maxLengths = 64

// sunkModel is the problem with a length bought, the roll's stock made free, and
// the length's cost. Length 0 is doing without.
func (s *solver) sunkModel(l units.Length) (sc *scaled, cost int64, err error) {
	if l == 0 {
		sc, err = newScaled(s.p, nil)
		return sc, 0, err
	}
	sc, err = newScaled(s.p, []units.Length{l})
	if err != nil {
		return nil, 0, err
	}
	n := len(sc.model.Stocks)
	if n > 0 && sc.stocks[n-1].Sheet == FromRoll {
		cost = sc.model.Stocks[n-1].Cost
		sc.model.Stocks[n-1].Cost = 0
	}
	return sc, cost, nil
}

// taken keeps what a search with a sunk length found.
func (s *solver) taken(sc *scaled, out search.Outcome, sunk int64) {
	if n := len(sc.model.Stocks); n > 0 && sc.stocks[n-1].Sheet == FromRoll {
		sc.model.Stocks[n-1].Cost = sunk
	}
	s.take(sc, out)
}

// roll searches over the lengths.
func (s *solver) roll(ctx context.Context) (bound int64, name string, stopped bool, err error) {
	r := rollSearch{solver: s}
	if err := r.rangeOfLengths(); err != nil {
		return 0, "", false, err
	}
	if err := r.prove(); err != nil {
		return 0, "", false, err
	}
	o := s.searchOptions(0)
	o.Budget /= 8
	sc, _, err := s.sunkModel(0)
	if err != nil {
		return 0, "", false, err
	}
	s.take(sc, search.Run(ctx, &sc.model, o))
	if err := r.first(); err != nil {
		return 0, "", false, err
	}
	if err := r.each(ctx); err != nil {
		return 0, "", false, err
	}
	return r.bound, r.name, ctx.Err() != nil, nil
}

// rangeOfLengths sets low and high from what can be bought alone: at most what
// all pieces laid end to end would take.
func (r *rollSearch) rangeOfLengths() error {
	roll := r.p.Roll
	r.low = max(roll.Least.RoundUp(roll.Step), roll.Step)
	var row units.Length
	for _, q := range r.p.Pieces {
		side := q.H
		if q.Turn {
			side = max(q.W, q.H)
		}
		n, err := (side + r.p.Rules.Kerf).Times(q.Demand)
		if err != nil {
			return err
		}
		if row, err = row.Plus(n); err != nil {
			return err
		}
	}
	ok := false
	if row < units.MaxLength/4 {
		r.high, ok = roll.Length(row)
	}
	if !ok {
		r.high = roll.Most.RoundDown(roll.Step)
		if roll.Most == 0 {
			r.high = (units.MaxLength / 2).RoundDown(roll.Step)
		}
	}
	return nil
}

// prove raises low to the first length not proved too short, and finds the
// least of length's cost and bound on the rest over all lengths.
func (r *rollSearch) prove() error {
	step := r.p.Roll.Step
	if r.low <= r.high {
		steps := int64((r.high - r.low) / step)
		from, to := int64(0), steps+1
		for from < to {
			mid := (from + to) / 2
			sc, _, err := r.sunkModel(r.low + units.Length(mid)*step)
			if err != nil {
				return err
			}
			if tooLittle(&sc.model) {
				from = mid + 1
			} else {
				to = mid
			}
		}
		r.low += units.Length(from) * step
	}
	r.bound, r.name = math.MaxInt64, "area"
	sc, _, err := r.sunkModel(0)
	if err != nil {
		return err
	}
	if !tooLittle(&sc.model) {
		r.bound, r.name = bounds.Cost(&sc.model)
	}
	for l := r.low; l <= r.high; l += step {
		sc, sunk, err := r.sunkModel(l)
		if err != nil {
			return err
		}
		if sunk >= r.bound {
			break
		}
		b, name := bounds.Cost(&sc.model)
		if sunk+b < r.bound {
			r.bound, r.name = sunk+b, name
		}
		if b == 0 {
			break
		}
	}
	return nil
}

// tooLittle tells whether the stock is proved not to hold every piece: whether
// a dear sheet as large as any would have to be bought.
func tooLittle(m *model.Problem) bool {
	dear := model.Stock{Copies: model.Unlimited, Cost: 1}
	with := *m
	with.Stocks = nil
	for _, st := range m.Stocks {
		if st.Copies == model.Unlimited {
			return false
		}
		dear.W, dear.H = max(dear.W, st.W), max(dear.H, st.H)
		st.Cost = 0
		with.Stocks = append(with.Stocks, st)
	}
	if len(m.Stocks) == 0 {
		return len(m.Items) > 0
	}
	with.Stocks = append(with.Stocks, dear)
	b, _ := bounds.Cost(&with)
	return b > 0
}

// first finds a length from which insertion cuts everything, going up from low
// in growing strides, and lowers high to it. It does not stop for a context: it
// is soon done, and without it there is no answer at all.
func (r *rollSearch) first() error {
	stride := r.p.Roll.Step
	for l, n := r.low, 1; l <= r.high; n++ {
		sc, sunk, err := r.sunkModel(l)
		if err != nil {
			return err
		}
		for _, rule := range insert.Rules() {
			m, work := insert.Repeated(&sc.model, rule)
			if complete(&sc.model, m) {
				r.taken(sc, search.Outcome{Best: m, Work: work}, sunk)
				r.high = l
				return nil
			}
		}
		if n%8 == 0 {
			stride *= 2
		}
		if l < r.high {
			l = min(l+stride, r.high)
		} else {
			break
		}
	}
	return nil
}

// each searches the lengths that may still be cheaper, the shortest first.
func (r *rollSearch) each(ctx context.Context) error {
	step := r.p.Roll.Step
	tries := min((int64(r.high-r.low))/int64(step)+1, maxLengths)
	for l, n := r.low, 0; l <= r.high && n < maxLengths && ctx.Err() == nil; l += step {
		if r.best.missing == 0 && r.best.cost <= r.bound {
			return nil
		}
		sc, sunk, err := r.sunkModel(l)
		if err != nil {
			return err
		}
		aim := int64(0)
		if r.best.missing == 0 {
			if aim = r.best.cost - sunk; aim <= 0 {
				return nil
			}
		}
		o := r.searchOptions(aim)
		o.Budget /= max(tries, 1)
		r.taken(sc, search.Run(ctx, &sc.model, o), sunk)
		n++
	}
	return nil
}

func complete(pr *model.Problem, m *model.Solution) bool {
	for _, n := range m.Missing(pr) {
		if n > 0 {
			return false
		}
	}
	return true
}
