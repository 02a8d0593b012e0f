package plan

import (
	"cmp"
	"fmt"
	"slices"

	"pinfold/pack"
	"pinfold/units"
)

// Gather collects every piece and band of the whole list by fabric, merges equal
// sizes, adds the spares and totals the supplies. For a fabric whose pieces may
// be turned, 2 x 3 and 3 x 2 are one size, written with the shorter side first.
//
// It fails when a size is wanted more than [pack.MaxDemand] times, a fabric's
// pieces are more than [pack.MaxPieces], or the plan names an ornament, role or
// fabric that it does not define, which [Read] never lets pass.
//
// Where a colourway lists several fabrics for a role, the pieces are divided by
// the areas that the stash and the prices suggest, without cutting anything;
// [Solve] divides them better.
func Gather(p *Plan) (*Gathered, error) {
	d, err := newDivision(p)
	if err != nil {
		return nil, err
	}
	return gather(p, d.byArea(usualUse))
}

// gather is Gather for given splits.
func gather(p *Plan, splits []Split) (*Gathered, error) {
	g := gatherer{plan: p, needs: map[string][]Need{}, sizes: map[sizeOf]int{}, uses: map[useOf]int{}}
	g.out.Splits = splits
	for i := range p.Make {
		if err := g.order(i); err != nil {
			return nil, err
		}
	}
	return g.finish()
}

type gatherer struct {
	plan  *Plan
	needs map[string][]Need // by fabric, in order of first use
	// sizes and uses find what needs holds, by index.
	sizes map[sizeOf]int
	uses  map[useOf]int
	out   Gathered
}

type sizeOf struct {
	fabric string
	size   units.Size
}

type useOf struct {
	sizeOf
	ornament, piece string
}

func (g *gatherer) order(i int) error {
	order := &g.plan.Make[i]
	o := g.plan.Ornament(order.Ornament)
	if o == nil {
		return fmt.Errorf("plan: ornament %q is not defined", order.Ornament)
	}
	g.out.Ornaments += order.Count
	for _, l := range g.plan.lots(i, g.out.Splits) {
		if err := g.add(l, o.Name); err != nil {
			return err
		}
	}
	return g.supplies(o, order.Count)
}

// tooMany is the error of a demand beyond what a fabric can be cut for.
type tooMany struct {
	fabric string
	what   string
}

func (e tooMany) Error() string { return fmt.Sprintf("plan: fabric %q: %s", e.fabric, e.what) }

// add counts the pieces of a lot, which is for the ornament.
func (g *gatherer) add(l lot, ornament string) error {
	fabric, size := l.fabric, l.size
	f := g.plan.Fabric(fabric)
	if f == nil {
		return fmt.Errorf("plan: ornament %q, %s: fabric %q is not defined", ornament, l.piece, fabric)
	}
	turn := f.Direction == AnyWay
	if turn && size.Along > size.Across {
		size.Along, size.Across = size.Across, size.Along
	}
	key := sizeOf{fabric, size}
	i, known := g.sizes[key]
	if !known {
		i = len(g.needs[fabric])
		g.sizes[key] = i
		g.needs[fabric] = append(g.needs[fabric], Need{Size: size, Turn: turn})
	}
	n := &g.needs[fabric][i]
	if l.ornaments > pack.MaxDemand || l.per > pack.MaxDemand || n.Count+l.ornaments*l.per > pack.MaxDemand {
		return tooMany{fabric, fmt.Sprintf("more than %d pieces of %s", pack.MaxDemand, size.Format(g.plan.Unit))}
	}
	count := l.ornaments * l.per
	n.Count += count
	g.out.Pieces += count
	use := useOf{key, ornament, l.piece}
	j, known := g.uses[use]
	if !known {
		j = len(n.Uses)
		g.uses[use] = j
		n.Uses = append(n.Uses, Use{Ornament: ornament, Piece: l.piece})
	}
	n.Uses[j].Count += count
	return nil
}

// supplies adds what n copies of o need. A name that is counted in one place
// and measured in another gives two totals.
func (g *gatherer) supplies(o *Ornament, n int) error {
	for _, s := range o.Supplies {
		length, err := s.Length.Times(n)
		if err != nil {
			return fmt.Errorf("plan: supply %q: %w", s.Name, err)
		}
		i := slices.IndexFunc(g.out.Supplies, func(t Supply) bool {
			return t.Name == s.Name && (t.Length > 0) == (s.Length > 0)
		})
		if i < 0 {
			g.out.Supplies = append(g.out.Supplies, Supply{Name: s.Name, Count: s.Count * n, Length: length})
			continue
		}
		t := &g.out.Supplies[i]
		t.Count += s.Count * n
		if t.Length, err = t.Length.Plus(length); err != nil {
			return fmt.Errorf("plan: supply %q: %w", s.Name, err)
		}
	}
	return nil
}

// finish adds the spares, names the sizes and puts all in order.
func (g *gatherer) finish() (*Gathered, error) {
	var sizes []units.Size
	for i := range g.plan.Fabrics {
		name := g.plan.Fabrics[i].Name
		needs := g.needs[name]
		if len(needs) == 0 {
			continue
		}
		total := 0
		for j := range needs {
			n := &needs[j]
			n.Spare = spares(n.Count, g.plan.Cutting.Spare)
			g.out.Spares += n.Spare
			if n.Count+n.Spare > pack.MaxDemand {
				return nil, tooMany{name, fmt.Sprintf("more than %d pieces of %s with the spares", pack.MaxDemand, n.Size.Format(g.plan.Unit))}
			}
			if total += n.Count + n.Spare; total > pack.MaxPieces {
				return nil, tooMany{name, fmt.Sprintf("more than %d pieces in all", pack.MaxPieces)}
			}
			if !slices.Contains(sizes, n.Size) {
				sizes = append(sizes, n.Size)
			}
		}
		g.out.Fabrics = append(g.out.Fabrics, FabricNeed{name, needs})
	}
	slices.SortFunc(sizes, bySize)
	letter := map[units.Size]string{}
	for i, s := range sizes {
		letter[s] = letters(i)
	}
	for _, f := range g.out.Fabrics {
		for j := range f.Sizes {
			f.Sizes[j].ID = letter[f.Sizes[j].Size]
		}
		slices.SortFunc(f.Sizes, func(a, b Need) int { return bySize(a.Size, b.Size) })
	}
	return &g.out, nil
}

// spares returns how many of n pieces are cut in addition: hundredths of a
// percent of them, rounded up.
func spares(n, hundredths int) int { return (n*hundredths + 9999) / 10000 }

// bySize orders sizes by area, then by their longer extent across, largest
// first.
func bySize(a, b units.Size) int {
	return cmp.Or(cmp.Compare(b.Area(), a.Area()), cmp.Compare(b.Across, a.Across), cmp.Compare(b.Along, a.Along))
}

// letters returns A .. Z, AA .. AZ, BA ... for 0, 1, ...
func letters(i int) string {
	s := ""
	for ; i >= 0; i = i/26 - 1 {
		s = string(rune('A'+i%26)) + s
	}
	return s
}
