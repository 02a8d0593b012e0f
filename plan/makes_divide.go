package plan

import (
	"slices"

	"pinfold/pack"
)

// takes is what n ornaments of each line take of every pile, one way to divide
// what several fabrics may fill.
type takes struct {
	splits []Split
	demand [][]int // by pile and size
}

// shared works out what p takes of every pile under a division.
func (m *maker) shared(p *Plan, splits []Split) (takes, error) {
	g, err := gather(p, splits)
	if err != nil {
		return takes{}, err
	}
	s := takes{splits: splits}
	for _, pl := range m.piles {
		s.demand = append(s.demand, pl.demand(g))
	}
	return s, nil
}

// sure is what n ornaments take whatever the division: everything, if there is
// nothing to divide.
func (m *maker) sure(n []int) (takes, error) {
	p := m.only(n)
	if m.lists == 0 {
		return m.shared(p, nil)
	}
	d, err := newDivision(p)
	if err != nil {
		return takes{}, err
	}
	return m.shared(p, d.divide(func(*bundle, []Share) {}))
}

// sharings lists the divisions that are tried: by the areas at hand, from boldly
// to carefully, and all to the first, second ... fabric of each list.
func (m *maker) sharings(n []int) ([]takes, error) {
	p := m.only(n)
	if m.lists == 0 {
		s, err := m.shared(p, nil)
		return []takes{s}, err
	}
	d, err := newDivision(p)
	if err != nil {
		return nil, err
	}
	var out []takes
	add := func(splits []Split) error {
		s, err := m.shared(p, splits)
		if err == nil && !slices.ContainsFunc(out, func(t takes) bool { return slices.EqualFunc(t.demand, s.demand, slices.Equal) }) {
			out = append(out, s)
		}
		return err
	}
	for _, percent := range []int{85, 95, 75, 90, 100, 80, 70} {
		if err := add(d.byArea(percent)); err != nil {
			return nil, err
		}
	}
	for k := range m.lists {
		if err := add(d.allTo(k)); err != nil {
			return nil, err
		}
	}
	for _, backward := range []bool{false, true} {
		splits, err := m.poured(p, d, backward)
		if err == nil {
			err = add(splits)
		}
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// poured divides by cutting: each fabric of a list in turn takes the most that it
// is found to hold beside what it holds already.
func (m *maker) poured(p *Plan, d *division, backward bool) ([]Split, error) {
	splits := d.divide(func(*bundle, []Share) {})
	for i := range d.bundles {
		b, shares := &d.bundles[i], splits[i].Shares
		left, last := b.units, max(slices.Index(b.fits, true), 0)
		for j := range shares {
			k := j
			if backward {
				k = len(shares) - 1 - j
			}
			if !b.fits[k] {
				continue
			}
			last = k
			low, high := 0, left+1
			for high-low > 1 {
				mid := low + (high-low)/2
				shares[k].Count = mid
				ok, err := m.takesFrom(p, splits, shares[k].Fabric)
				if err != nil {
					return nil, err
				}
				if ok {
					low = mid
				} else {
					high = mid
				}
			}
			shares[k].Count = low
			left -= low
		}
		shares[last].Count += left
	}
	return splits, nil
}

// takesFrom tells whether one fabric is found to hold its part of a division.
func (m *maker) takesFrom(p *Plan, splits []Split, fabric string) (bool, error) {
	i := slices.IndexFunc(m.piles, func(pl *pile) bool { return pl.fabric == fabric })
	s, err := m.shared(p, splits)
	if err != nil || i < 0 {
		return false, err
	}
	a, err := m.ask(m.piles[i], s.demand[i], firstLook)
	return a.verdict == pack.Enough, err
}
