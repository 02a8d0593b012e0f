package plan

import (
	"cmp"
	"context"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// The parts of the effort, in percent, that one question may take: at first, and
// when everything turns on it.
const (
	firstLook = 2
	longLook  = 20
)

// maker asks what can be cut from the stash alone. Numbers of ornaments are
// vectors with an entry a line.
type maker struct {
	ctx   context.Context
	plan  *Plan
	o     MakesOptions
	lines []MakesLine
	piles []*pile
	spent int64 // work
}

// pile is the stash of one fabric and what every line takes of it.
type pile struct {
	fabric string
	// problem has the stash alone, and every size of the plan as a piece.
	problem pack.Problem
	sizes   []Need
	spare   int     // as in Cutting
	per     [][]int // per[line][size] pieces in one ornament
	// weight is the area of one ornament of each line with its spares, room the
	// most that the sheets hold; a kerf is part of every side.
	weight []int64
	room   int64
	known  []answer
}

// answer is what is known of one demand.
type answer struct {
	demand  []int
	verdict pack.Verdict
	by      string
	look    int
	// solution cuts the demand, if it can be cut.
	solution pack.Solution
}

func newMaker(ctx context.Context, p *Plan, o MakesOptions) (*maker, error) {
	m := &maker{ctx: ctx, plan: p, o: o, lines: linesOf(p)}
	g, err := Gather(p)
	if err != nil {
		return nil, err
	}
	for _, need := range g.Fabrics {
		pl := &pile{fabric: need.Fabric, sizes: need.Sizes, spare: p.Cutting.Spare}
		if pl.problem, _, err = stashProblem(p, need); err != nil {
			return nil, err
		}
		m.piles = append(m.piles, pl)
	}
	for i := range m.lines {
		one := make([]int, len(m.lines))
		one[i] = 1
		if err := m.addLine(one); err != nil {
			return nil, err
		}
	}
	for _, pl := range m.piles {
		if err := pl.weigh(ctx, o); err != nil {
			return nil, err
		}
	}
	return m, nil
}

// linesOf lists the plan's orders, equal ones together.
func linesOf(p *Plan) []MakesLine {
	var out []MakesLine
	for _, order := range p.Make {
		at := slices.IndexFunc(out, func(l MakesLine) bool {
			return l.Ornament == order.Ornament && sameColourway(l.Colourway, order.Colourway)
		})
		if at >= 0 {
			out[at].Count += order.Count
			continue
		}
		out = append(out, MakesLine{Order: order})
	}
	return out
}

func sameColourway(a, b []Filling) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(f Filling) bool {
		return !slices.ContainsFunc(b, func(g Filling) bool { return f.Role == g.Role && f.Fabric == g.Fabric })
	})
}

// only is the plan with other counts.
func (m *maker) only(n []int) *Plan {
	p := *m.plan
	p.Make = nil
	for i, l := range m.lines {
		if n[i] > 0 {
			order := l.Order
			order.Count = n[i]
			p.Make = append(p.Make, order)
		}
	}
	return &p
}

// addLine adds what one ornament of the next line takes of each pile.
func (m *maker) addLine(one []int) error {
	g, err := Gather(m.only(one))
	if err != nil {
		return err
	}
	for _, pl := range m.piles {
		per := make([]int, len(pl.sizes))
		for _, need := range g.Fabrics {
			if need.Fabric != pl.fabric {
				continue
			}
			for i, s := range pl.sizes {
				for _, n := range need.Sizes {
					if n.Size == s.Size {
						per[i] = n.Count
					}
				}
			}
		}
		pl.per = append(pl.per, per)
	}
	return nil
}

// stashProblem states the cutting of a fabric without anything that is bought.
func stashProblem(p *Plan, need FabricNeed) (pack.Problem, []StockInfo, error) {
	all, stocks, _, err := FabricProblem(p, need)
	if err != nil {
		return pack.Problem{}, nil, err
	}
	problem := all
	problem.Sheets, problem.Roll, problem.Goal = nil, nil, pack.LeastArea
	var infos []StockInfo
	for i, s := range stocks {
		if s.Stash != nil {
			problem.Sheets, infos = append(problem.Sheets, all.Sheets[i]), append(infos, s)
		}
	}
	return problem, infos, nil
}

// demand is what n ornaments take of each size, spares included.
func (pl *pile) demand(n []int) []int {
	d := make([]int, len(pl.sizes))
	for i, per := range pl.per {
		for j, k := range per {
			d[j] += n[i] * k
		}
	}
	for j := range d {
		d[j] += spares(d[j], pl.spare)
	}
	return d
}

// asked is the problem with another demand.
func (pl *pile) asked(d []int) pack.Problem {
	p := pl.problem
	p.Pieces = slices.Clone(p.Pieces)
	for i := range p.Pieces {
		p.Pieces[i].Demand = d[i]
	}
	return p
}

// holds tells whether the stash makes n ornaments of each line: enough if there
// is a layout for every fabric, too little if one fabric is proved to be.
func (m *maker) holds(n []int, look int) (pack.Verdict, error) {
	verdict := pack.Enough
	for _, pl := range m.tightest(n) {
		a, err := m.ask(pl, n, look)
		switch {
		case err != nil:
			return pack.Undecided, err
		case a.verdict == pack.TooLittle:
			return pack.TooLittle, nil
		case a.verdict == pack.Undecided:
			verdict = pack.Undecided
		}
	}
	return verdict, nil
}

// tightest orders the piles by the part of them that n ornaments take, the
// fullest first: what is short shows soonest.
func (m *maker) tightest(n []int) []*pile {
	full := map[*pile]float64{}
	for _, pl := range m.piles {
		for i, k := range n {
			full[pl] += float64(k) * float64(pl.weight[i]) / float64(max(pl.room, 1))
		}
	}
	out := slices.Clone(m.piles)
	slices.SortStableFunc(out, func(a, b *pile) int { return cmp.Compare(full[b], full[a]) })
	return out
}

// ask tells whether one fabric is enough for n ornaments.
func (m *maker) ask(pl *pile, n []int, look int) (answer, error) {
	d := pl.demand(n)
	if a, ok := pl.recall(d, look); ok {
		return a, nil
	}
	if pl.overfull(n) {
		a := answer{demand: d, verdict: pack.TooLittle, by: "area"}
		pl.known = append(pl.known, a)
		return a, nil
	}
	h, err := pack.Holds(m.ctx, pl.asked(d), pack.Options{Effort: m.o.Effort, Seed: m.o.Seed, Workers: m.o.Workers, Share: look})
	if err != nil {
		return answer{}, err
	}
	m.spent += h.Nodes
	a := answer{demand: d, verdict: h.Verdict, by: h.ProvedBy, look: look, solution: h.Solution}
	if !h.Stopped || h.Verdict != pack.Undecided {
		pl.known = append(pl.known, a)
	}
	return a, nil
}

// recall looks d up: what is enough for more is enough for less, and what is too
// little for less is too little for more.
func (pl *pile) recall(d []int, look int) (answer, bool) {
	for _, a := range pl.known {
		switch {
		case a.verdict == pack.Enough && covers(a.demand, d),
			a.verdict == pack.TooLittle && covers(d, a.demand),
			a.verdict == pack.Undecided && a.look >= look && slices.Equal(a.demand, d):
			return a, true
		}
	}
	return answer{}, false
}

// covers tells whether no entry of a is less than that of b.
func covers(a, b []int) bool {
	for i := range a {
		if a[i] < b[i] {
			return false
		}
	}
	return true
}

// overfull tells whether n ornaments have more area than the sheets hold.
func (pl *pile) overfull(n []int) bool {
	left := pl.room
	for i, k := range n {
		w := pl.weight[i]
		if w > 0 && int64(k) > left/w {
			return true
		}
		left -= int64(k) * w
	}
	return false
}

// ceiling is the most of one line that areas and the limits of a plan allow.
func (m *maker) ceiling(line int) int {
	most := int64(pack.MaxDemand)
	for _, pl := range m.piles {
		if w := pl.weight[line]; w > 0 {
			most = min(most, pl.room/w)
		}
		all := 0
		for _, k := range pl.per[line] {
			// With spares it is at most twice as many.
			most = min(most, int64(pack.MaxDemand/2/max(k, 1)))
			all += k
		}
		most = min(most, int64(pack.MaxPieces/2/max(all, 1)))
	}
	return int(most)
}

// area is what a rectangle takes up with a kerf at two of its sides.
func area(w, h, kerf units.Length) int64 { return int64(w+kerf) * int64(h+kerf) }
