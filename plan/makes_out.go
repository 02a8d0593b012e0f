package plan

import "pinfold/pack"

// runOut lists the fabrics of which n ornaments find too little, in the order of
// the plan, and what is missing: by the division that leaves the least out, if
// there is something to divide. Nothing is listed if n ornaments can be cut after
// all.
func (m *maker) runOut(n []int) ([]RunOut, error) {
	all, err := m.sharings(n)
	if err != nil {
		return nil, err
	}
	var best []RunOut
	for i, s := range all {
		out, err := m.shortages(s)
		if err != nil {
			return nil, err
		}
		if i == 0 || lacks(out) < lacks(best) {
			best = out
		}
	}
	if m.lists > 0 {
		// One division proves nothing about the others.
		for i := range best {
			best[i].ProvedBy = ""
		}
	}
	return best, nil
}

// lacks is the area that is missing, in square ticks; a float, as it is only compared.
func lacks(out []RunOut) float64 {
	a := 0.0
	for _, o := range out {
		for _, q := range o.Missing {
			a += float64(q.Count) * float64(q.Size.Area())
		}
	}
	return a
}

func (m *maker) shortages(s takes) ([]RunOut, error) {
	var out []RunOut
	for i, pl := range m.piles {
		a, err := m.ask(pl, s.demand[i], firstLook)
		if err != nil {
			return nil, err
		}
		if a.verdict == pack.Enough {
			continue
		}
		r := RunOut{Fabric: pl.fabric, None: len(pl.problem.Sheets) == 0, ProvedBy: a.by}
		if r.Missing, err = m.missing(pl, s.demand[i]); err != nil {
			return nil, err
		}
		if len(r.Missing) > 0 {
			out = append(out, r)
		}
	}
	return out, nil
}

// missing cuts as much of a demand as there is cloth for and lists the rest.
func (m *maker) missing(pl *pile, d []int) ([]MissingPiece, error) {
	s, err := pack.Solve(m.ctx, pl.asked(d), pack.Options{Effort: m.o.Effort, Seed: m.o.Seed, Workers: m.o.Workers, Share: firstLook})
	if err != nil {
		return nil, err
	}
	m.spent += s.Nodes
	if s.Status != pack.Short {
		pl.known = append(pl.known, answer{demand: d, verdict: pack.Enough, solution: s})
		return nil, nil
	}
	var out []MissingPiece
	for i, n := range s.Missing {
		if n > 0 {
			out = append(out, MissingPiece{ID: pl.sizes[i].ID, Size: pl.sizes[i].Size, Count: n, Of: d[i]})
		}
	}
	return out, nil
}
