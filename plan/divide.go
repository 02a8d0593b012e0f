package plan

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// Decide gathers the pieces of the plan and, where a colourway lists several
// fabrics for a role, decides which of them fills how many.
//
// It starts from the best of a few simple divisions, among them that of [Gather]
// and all to the first, second ... of each list, and then moves pieces, or
// whole ornaments where they are to be of one fabric, from one fabric to another
// as long as that makes the whole cheaper: first fewer pieces missing, then less
// money, then less cloth bought, then less cut from what is bought, so that the
// stash is used up. Each division is judged by cutting its fabrics
// with little effort, so many times as the effort allows. It proves nothing: a
// better division may exist, even when every fabric of it is proved best.
func Decide(ctx context.Context, p *Plan, o Options) (*Gathered, error) {
	d, err := newDivision(p)
	if err != nil {
		return nil, err
	}
	if len(d.bundles) == 0 {
		return gather(p, nil)
	}
	m := mover{division: d, o: o, known: map[string]verdict{}}
	m.left = map[pack.Effort]int{pack.Quick: 40, pack.Normal: 150, pack.Thorough: 1500}[o.Effort]
	if err := m.start(ctx); err != nil {
		return nil, err
	}
	if err := m.improve(ctx); err != nil {
		return nil, err
	}
	return gather(p, m.best)
}

// mover looks for a better division.
type mover struct {
	*division
	o       Options
	known   map[string]verdict // by fabric and demand
	left    int                // how many more fabrics may be cut
	best    []Split
	verdict verdict
	sound   bool // whether best is set
}

// verdict is what a division, or one fabric of it, comes to.
type verdict struct {
	missing int64 // pieces
	price   int64
	area    units.Area // bought
	fresh   units.Area // of the pieces cut from what is bought
}

func (v verdict) plus(w verdict) verdict {
	return verdict{v.missing + w.missing, v.price + w.price, v.area + w.area, v.fresh + w.fresh}
}

func (v verdict) compare(w verdict) int {
	return cmp.Or(cmp.Compare(v.missing, w.missing), cmp.Compare(v.price, w.price), cmp.Compare(v.area, w.area), cmp.Compare(v.fresh, w.fresh))
}

// judgeShare is the part of a quick effort, in percent, that goes into cutting
// one fabric to judge a division.
const judgeShare = 5

// start takes the best of the simple divisions. They are judged whatever the
// effort.
func (m *mover) start(ctx context.Context) error {
	longest := 0
	for _, b := range m.bundles {
		longest = max(longest, len(b.fits))
	}
	starts := [][]Split{m.byArea(usualUse), m.byArea(100), m.byArea(70), m.byArea(0)}
	for k := range longest {
		starts = append(starts, m.allTo(k))
	}
	for _, s := range starts {
		if _, err := m.consider(ctx, s); err != nil {
			return err
		}
	}
	return nil
}

// consider keeps a division if it is the best so far. One with more pieces of a
// fabric than can be cut is no candidate unless there is no other.
func (m *mover) consider(ctx context.Context, splits []Split) (better bool, err error) {
	g, err := gather(m.plan, splits)
	if err != nil {
		if m.best == nil {
			m.best = splits
		}
		return false, nil
	}
	var all verdict
	for _, need := range g.Fabrics {
		v, err := m.judge(ctx, need)
		if err != nil {
			return false, err
		}
		all = all.plus(v)
	}
	if m.sound && all.compare(m.verdict) >= 0 {
		return false, nil
	}
	m.best, m.verdict, m.sound = splits, all, true
	return true, nil
}

// judge cuts one fabric with little effort, or remembers how it was cut.
func (m *mover) judge(ctx context.Context, need FabricNeed) (verdict, error) {
	var key strings.Builder
	key.WriteString(need.Fabric)
	for _, n := range need.Sizes {
		fmt.Fprintf(&key, "|%d %d %d", n.Size.Along, n.Size.Across, n.Count+n.Spare)
	}
	v, ok := m.known[key.String()]
	if ok {
		return v, nil
	}
	problem, _, _, err := FabricProblem(m.plan, need)
	problem.UseUp = false
	if err != nil {
		return verdict{}, err
	}
	m.left--
	s, err := pack.Solve(ctx, problem, pack.Options{Effort: pack.Quick, Seed: m.o.Seed, Workers: m.o.Workers, Share: judgeShare})
	if err != nil {
		return verdict{}, err
	}
	v = verdict{price: s.Price, area: s.Area}
	for _, l := range s.Layouts {
		if l.Stock.Sheet != pack.FromRoll && problem.Sheets[l.Stock.Sheet].Free {
			continue
		}
		for _, q := range l.Placements(problem.Rules.Kerf) {
			v.fresh += units.AreaOf(q.W, q.H) * units.Area(l.Copies)
		}
	}
	for _, n := range s.Missing {
		v.missing += int64(n)
	}
	m.known[key.String()] = v
	return v, nil
}

// improve moves from share to share, many units first, as long as it helps and
// there is work left.
func (m *mover) improve(ctx context.Context) error {
	for again := m.sound; again; {
		again = false
		for i := range m.bundles {
			for from := range m.bundles[i].fits {
				for to, fits := range m.bundles[i].fits {
					if to == from || !fits {
						continue
					}
					moved, err := m.move(ctx, i, from, to)
					if err != nil {
						return err
					}
					again = again || moved
				}
			}
		}
	}
	return nil
}

// move tries to take all units, half of them, a quarter ... down to one from a
// share of the i-th bundle to another, again and again while that helps.
func (m *mover) move(ctx context.Context, i, from, to int) (moved bool, err error) {
	for n := m.best[i].Shares[from].Count; n > 0; n /= 2 {
		for n <= m.best[i].Shares[from].Count {
			if m.left <= 0 || ctx.Err() != nil {
				return false, nil
			}
			next := slices.Clone(m.best)
			next[i].Shares = slices.Clone(next[i].Shares)
			next[i].Shares[from].Count -= n
			next[i].Shares[to].Count += n
			better, err := m.consider(ctx, next)
			if err != nil {
				return false, err
			}
			if !better {
				break
			}
			moved = true
		}
	}
	return moved, nil
}
