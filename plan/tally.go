package plan

import (
	"fmt"
	"strings"

	"pinfold/units"
)

// Tally is the pieces of a plan counted twice: as gathered by fabric, and again
// ornament by ornament from the plan alone.
type Tally struct {
	ByFabric, ByOrnament int
	// Differences lists fabrics and sizes whose two counts differ.
	Differences []string
}

// Equal tells whether both counts agree, in all and size by size.
func (t Tally) Equal() bool { return t.ByFabric == t.ByOrnament && len(t.Differences) == 0 }

// String returns the cross-check line.
func (t Tally) String() string {
	if t.Equal() {
		return fmt.Sprintf("%d pieces counted twice, by fabric and by ornament: equal", t.ByFabric)
	}
	return fmt.Sprintf("%d pieces counted by fabric, %d by ornament: %s", t.ByFabric, t.ByOrnament, strings.Join(t.Differences, "; "))
}

// Recount holds g against a count of its own that shares nothing with [Gather]:
// it goes from ornament to ornament, place by place where the places around the
// pole are listed. Spares are no part of either count.
func Recount(p *Plan, g *Gathered) Tally {
	type key struct {
		fabric     string
		short, big units.Length
		upright    bool // for fabrics that may not be turned: along is the short side
	}
	keyOf := func(fabric string, s units.Size) key {
		k := key{fabric: fabric, short: min(s.Along, s.Across), big: max(s.Along, s.Across)}
		if f := p.Fabric(fabric); f != nil && f.Direction != AnyWay {
			k.upright = s.Along < s.Across
		}
		return k
	}
	var t Tally
	var order []key
	diff := map[key]int{}
	count := func(k key, n int) {
		if _, ok := diff[k]; !ok {
			order = append(order, k)
		}
		diff[k] += n
	}
	for _, f := range g.Fabrics {
		for _, n := range f.Sizes {
			t.ByFabric += n.Count
			count(keyOf(f.Fabric, n.Size), n.Count)
		}
	}
	for _, o := range p.Make {
		fills := func(role string) string {
			for _, f := range o.Colourway {
				if f.Role == role {
					return f.Fabric
				}
			}
			return ""
		}
		one := p.Ornament(o.Ornament)
		for _, r := range one.Pieces {
			for _, place := range r.places() {
				t.ByOrnament += place.Count * o.Count
				count(keyOf(fills(place.Role), r.Size), -place.Count*o.Count)
			}
		}
		if one.Band != nil {
			t.ByOrnament += o.Count
			count(keyOf(fills(one.Band.Role), BandSize(one, p.Unit)), -o.Count)
		}
	}
	for _, k := range order {
		if d := diff[k]; d != 0 {
			t.Differences = append(t.Differences, fmt.Sprintf("%s, %s: %+d by fabric", k.fabric,
				units.Size{Along: k.short, Across: k.big}.Format(p.Unit), d))
		}
	}
	return t
}

// places returns the round place by place, each as often as it has sides, or
// its one role with its count.
func (r Round) places() []RoleCount {
	if r.Around == nil {
		return r.Roles
	}
	sides := 1
	if r.Side == Both {
		sides = 2
	}
	out := make([]RoleCount, len(r.Around))
	for i, role := range r.Around {
		out[i] = RoleCount{role, sides}
	}
	return out
}
