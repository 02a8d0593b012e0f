package plan

import (
	"pinfold/pack"
)

// runOut lists the fabrics of which n ornaments find too little, in the order of
// the plan, and what is missing.
func (m *maker) runOut(n []int) ([]RunOut, error) {
	var out []RunOut
	for _, pl := range m.piles {
		a, err := m.ask(pl, n, firstLook)
		if err != nil {
			return nil, err
		}
		if a.verdict == pack.Enough {
			continue
		}
		r := RunOut{Fabric: pl.fabric, None: len(pl.problem.Sheets) == 0, ProvedBy: a.by}
		if r.Missing, err = m.missing(pl, pl.demand(n)); err != nil {
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
	p := pl.asked(d)
	s, err := pack.Solve(m.ctx, p, pack.Options{Effort: m.o.Effort, Seed: m.o.Seed, Workers: m.o.Workers, Share: firstLook})
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
