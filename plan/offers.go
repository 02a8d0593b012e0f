package plan

import (
	"cmp"
	"context"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// mostTried bounds how many purchases are solved in search of the next safer one.
const mostTried = 4

// cheaper solves the next cheaper purchases: the one with the most cloth of all
// that cost less, and the dearest that costs less. It returns the one that lacks
// least, or nil when nothing costs less.
func (t *trials) cheaper(ctx context.Context, share int) (*Choice, error) {
	cost := t.f.Solution.Cost
	if cost == 0 || t.f.Solution.Status == pack.Short {
		return nil, nil
	}
	list, _ := t.most(cost - 1)
	candidates := []basket{list}
	if d := t.dearest(cost - 1); !d.equal(list) {
		candidates = append(candidates, d)
	}
	var best *Choice
	for _, b := range candidates {
		c, err := t.try(ctx, b, false, share)
		if err != nil {
			return nil, err
		}
		if best == nil || t.betterThan(c, best) {
			best = c
		}
	}
	return best, nil
}

// betterThan prefers what lacks less cloth's worth of pieces, then costs less.
func (t *trials) betterThan(a, b *Choice) bool {
	return cmp.Or(cmp.Compare(t.lacks(a.Cut.Solution), t.lacks(b.Cut.Solution)), cmp.Compare(a.Cost, b.Cost)) < 0
}

// lacks is the area of the pieces a solution misses.
func (t *trials) lacks(s pack.Solution) units.Area {
	var sum units.Area
	for i, n := range s.Missing {
		sum += units.Area(n) * units.AreaOf(t.p.Pieces[i].W, t.p.Pieces[i].H)
	}
	return sum
}

// dearest is the basket of the highest cost up to limit, of equals the one with
// the most cloth. Of several bolts only the longest length that can be paid is
// looked at, though a shorter one may cost more.
func (t *trials) dearest(limit int64) basket {
	best := basket{cuts: make([]int, len(t.p.Sheets))}
	t.each(limit, func(_ basket, spent int64) (units.Length, bool) {
		return t.lengthFor(limit - spent), true
	}, func(b basket) {
		if c := cmp.Or(cmp.Compare(t.cost(b), t.cost(best)), cmp.Compare(t.cloth(b), t.cloth(best))); c > 0 {
			best = b
		}
	})
	return best
}

// safer solves dearer purchases with more cloth, from the cheapest on, and
// returns the first that holds everything; nil when nothing more can be had.
// The last resort is the answer itself with one thing more, which needs no search.
func (t *trials) safer(ctx context.Context, share int) (*Choice, error) {
	own := t.f.bought()
	sure, ok := t.oneMore(own)
	if !ok || t.f.Solution.Status == pack.Short {
		return nil, nil
	}
	list := t.dearer(own, t.cost(sure))
	for _, b := range list[:min(len(list), mostTried)] {
		if b.equal(sure) {
			break
		}
		c, err := t.try(ctx, b, true, share)
		if err != nil {
			return nil, err
		}
		if c.Verdict == pack.Enough {
			return c, nil
		}
	}
	return t.grown(own, sure)
}

// oneMore is the basket with the cheapest thing added that can be had: one more
// of a cut, or the next length.
func (t *trials) oneMore(own basket) (best basket, ok bool) {
	offer := func(b basket) {
		if !ok || t.cost(b) < t.cost(best) || t.cost(b) == t.cost(best) && t.cloth(b) > t.cloth(best) {
			best, ok = b, true
		}
	}
	for i, sh := range t.p.Sheets {
		if sh.Free || sh.Copies != pack.Unlimited && own.cuts[i] >= sh.Copies {
			continue
		}
		b := basket{slices.Clone(own.cuts), own.length}
		b.cuts[i]++
		offer(b)
	}
	if t.p.Roll != nil {
		cost := t.cost(own)
		for _, r := range t.p.Roll.Bolts() {
			next, has := r.First(own.length)
			if has {
				next, has = t.dearerFrom(r, own.cuts, next, cost)
			}
			if has {
				offer(basket{slices.Clone(own.cuts), next})
			}
		}
	}
	return best, ok
}

// mostSteps bounds how many lengths are passed over that another bolt sells for
// too little to be dearer.
const mostSteps = 64

// dearerFrom is the first length sold on a bolt, from l on, that makes a basket
// cost more than so much, whichever bolt sells it for less.
func (t *trials) dearerFrom(r pack.Roll, cuts []int, l units.Length, cost int64) (units.Length, bool) {
	if len(t.p.Roll.Also) == 0 {
		return l, true
	}
	for range mostSteps {
		if t.cost(basket{cuts, l}) > cost {
			return l, true
		}
		var ok bool
		if l, ok = r.First(l); !ok {
			return 0, false
		}
	}
	return 0, false
}

// dearer lists, by cost, the baskets that cost and hold more than own and cost
// at most limit, without those for which a cheaper one holds as much.
func (t *trials) dearer(own basket, limit int64) []basket {
	var all []basket
	cost, cloth := t.cost(own), t.cloth(own)
	t.each(limit, func(b basket, spent int64) (units.Length, bool) {
		more := func(l units.Length) bool {
			c := basket{b.cuts, l}
			return t.cost(c) > cost && t.cloth(c) > cloth
		}
		if more(0) {
			return 0, true
		}
		var best basket
		for _, r := range t.bolts {
			high := r.last(func(l units.Length) bool { return spent+t.bolted(r, l) <= limit })
			// On one bolt, price and cloth only grow with the length.
			less := r.last(func(l units.Length) bool {
				return spent+t.bolted(r, l) <= cost || t.cloth(basket{b.cuts, l}) <= cloth
			})
			l, ok := r.First(less)
			if ok {
				l, ok = t.dearerFrom(r.Roll, b.cuts, l, cost)
			}
			c := basket{b.cuts, l}
			if !ok || l > high {
				continue
			}
			if best.length == 0 || t.cost(c) < t.cost(best) || t.cost(c) == t.cost(best) && l > best.length {
				best = c
			}
		}
		return best.length, best.length > 0
	}, func(b basket) { all = append(all, b) })
	slices.SortStableFunc(all, func(a, b basket) int {
		return cmp.Or(cmp.Compare(t.cost(a), t.cost(b)), cmp.Compare(t.cloth(b), t.cloth(a)))
	})
	var out []basket
	for _, b := range all {
		if t.cloth(b) > cloth {
			out, cloth = append(out, b), t.cloth(b)
		}
	}
	return out
}

// grown is the answer's own layouts in a larger basket: a longer length keeps
// all its cuts, with one more cut at the end of the old one.
// With a limit of stages that cut may be one too many; then there is none.
func (t *trials) grown(own, sure basket) (*Choice, error) {
	if sure.length > own.length && own.length > 0 && t.p.Rules.Stages > 0 {
		return nil, nil
	}
	s := pack.Solution{Missing: t.f.Solution.Missing}
	roll := len(t.p.Sheets)
	for _, l := range t.f.Solution.Layouts {
		if l.Stock.Sheet == pack.FromRoll {
			l.Stock = pack.Stock{Sheet: roll}
			if sure.length > own.length {
				w, h := t.p.Roll.Usable(sure.length)
				rest := t.untouched(l.Stock, w, h-l.H-t.p.Rules.Kerf, 1).Cuts
				l.Cuts = &pack.Node{Axis: pack.Y, At: []units.Length{l.H}, Parts: []*pack.Node{l.Cuts, rest}}
				l.H = h
			}
		}
		s.Layouts = append(s.Layouts, l)
	}
	return t.choice(sure, s, pack.Enough, true)
}
