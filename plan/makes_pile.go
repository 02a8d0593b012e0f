package plan

import (
	"cmp"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// pile is the stash of one fabric and what is known of it.
type pile struct {
	fabric string
	// problem has the stash alone, and every size that the plan may cut from the
	// fabric as a piece.
	problem pack.Problem
	sizes   []Need
	// area is that of one piece of each size, room the most that the sheets hold; a
	// kerf is part of every side.
	area  []int64
	room  int64
	known []answer
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

// pileUp lists the piles with every size that may be cut from them.
func (m *maker) pileUp() error {
	d, err := newDivision(m.plan)
	if err != nil {
		return err
	}
	needs := map[string][]Need{}
	var sizes []units.Size
	for k := range max(m.lists, 1) {
		g, err := gather(m.plan, d.allTo(k))
		if err != nil {
			return err
		}
		for _, f := range g.Fabrics {
			for _, n := range f.Sizes {
				known := needs[f.Fabric]
				if !slices.ContainsFunc(known, func(o Need) bool { return o.Size == n.Size }) {
					needs[f.Fabric] = append(known, n)
				}
				if !slices.Contains(sizes, n.Size) {
					sizes = append(sizes, n.Size)
				}
			}
		}
	}
	slices.SortFunc(sizes, bySize)
	for _, f := range m.plan.Fabrics {
		need := FabricNeed{f.Name, needs[f.Name]}
		if len(need.Sizes) == 0 {
			continue
		}
		for i := range need.Sizes {
			need.Sizes[i].ID = letters(slices.Index(sizes, need.Sizes[i].Size))
		}
		slices.SortFunc(need.Sizes, func(a, b Need) int { return bySize(a.Size, b.Size) })
		pl := &pile{fabric: f.Name, sizes: need.Sizes}
		if pl.problem, _, err = stashProblem(m.plan, need); err != nil {
			return err
		}
		m.piles = append(m.piles, pl)
	}
	return nil
}

// stashProblem states the cutting of a fabric without anything that is bought.
func stashProblem(p *Plan, need FabricNeed) (pack.Problem, []StockInfo, error) {
	all, stocks, _, err := FabricProblem(p, need)
	all.UseUp = false
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

// demand is what is gathered of the pile's fabric, spares included.
func (pl *pile) demand(g *Gathered) []int {
	d := make([]int, len(pl.sizes))
	for _, f := range g.Fabrics {
		if f.Fabric != pl.fabric {
			continue
		}
		for _, n := range f.Sizes {
			d[slices.IndexFunc(pl.sizes, func(s Need) bool { return s.Size == n.Size })] = n.Count + n.Spare
		}
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

// full is the part of the pile's room that a demand takes up.
func (pl *pile) full(d []int) float64 {
	a := 0.0
	for i, n := range d {
		a += float64(n) * float64(pl.area[i])
	}
	return a / float64(max(pl.room, 1))
}

// overfull tells whether a demand has more area than the sheets hold.
func (pl *pile) overfull(d []int) bool {
	left := pl.room
	for i, n := range d {
		if n > 0 && int64(n) > left/pl.area[i] {
			return true
		}
		left -= int64(n) * pl.area[i]
	}
	return false
}

// tightest orders the piles by how much of them is taken, the fullest first.
func (m *maker) tightest(s takes) []int {
	order := make([]int, len(m.piles))
	full := make([]float64, len(m.piles))
	for i, pl := range m.piles {
		order[i], full[i] = i, pl.full(s.demand[i])
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(full[b], full[a]) })
	return order
}

// ask tells whether a pile is enough for a demand.
func (m *maker) ask(pl *pile, d []int, look int) (answer, error) {
	if a, ok := pl.recall(d, look); ok {
		return a, nil
	}
	if pl.overfull(d) {
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
	if h.Verdict == pack.Enough && m.o.Progress != nil {
		sheets := 0
		for _, l := range h.Solution.Layouts {
			sheets += l.Copies
		}
		m.o.Progress(pl.fabric, pack.Progress{Sheets: sheets})
	}
	return a, nil
}

// recall looks d up: what is enough for more is enough for less, and what is too
// little for less is too little for more. Either counts before a doubt.
func (pl *pile) recall(d []int, look int) (a answer, ok bool) {
	for _, k := range pl.known {
		switch {
		case k.verdict == pack.Enough && covers(k.demand, d),
			k.verdict == pack.TooLittle && covers(d, k.demand):
			return k, true
		case k.verdict == pack.Undecided && k.look >= look && slices.Equal(k.demand, d):
			a, ok = k, true
		}
	}
	return a, ok
}

// likely tells whether no demand that d covers was asked for in vain.
func (pl *pile) likely(d []int) bool {
	if a, ok := pl.recall(d, 0); ok {
		return a.verdict == pack.Enough
	}
	return !slices.ContainsFunc(pl.known, func(a answer) bool { return a.verdict != pack.Enough && covers(d, a.demand) })
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
