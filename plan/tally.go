package plan

import (
	"fmt"
	"slices"
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
		return units.Grouped(int64(t.ByFabric)) + " pieces counted twice, by fabric and by ornament: equal"
	}
	return fmt.Sprintf("%s pieces counted by fabric, %s by ornament: %s", units.Grouped(int64(t.ByFabric)), units.Grouped(int64(t.ByOrnament)), strings.Join(t.Differences, "; "))
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
	var shared []listed
	// fill takes n pieces of an ornament's place off the fabrics that fill it.
	fill := func(i int, role, piece string, size units.Size, n int) {
		t.ByOrnament += n * p.Make[i].Count
		var f Filling
		for _, one := range p.Make[i].Colourway {
			if one.Role == role {
				f = one
			}
		}
		if len(f.Or) == 0 {
			count(keyOf(f.Fabric, size), -n*p.Make[i].Count)
			return
		}
		at := slices.IndexFunc(shared, func(s listed) bool { return s.order == i && s.role == role && s.piece == piece })
		if at < 0 {
			at = len(shared)
			shared = append(shared, listed{order: i, role: role, piece: piece, filling: f, size: size})
		}
		shared[at].per += n
	}
	for i, o := range p.Make {
		one := p.Ornament(o.Ornament)
		for _, r := range one.Pieces {
			for _, place := range r.places() {
				fill(i, place.Role, r.Name, r.Size, place.Count)
			}
		}
		if one.Band != nil {
			fill(i, one.Band.Role, BandName, bandSize(one, p.Unit), 1)
		}
	}
	for _, s := range shared {
		s.recount(p, g.Splits, func(fabric string, n int) { count(keyOf(fabric, s.size), -n) }, func(format string, args ...any) {
			what := fmt.Sprintf("%s, %s: ", p.Make[s.order].Ornament, s.piece)
			t.Differences = append(t.Differences, what+fmt.Sprintf(format, args...))
		})
	}
	for _, k := range order {
		if d := diff[k]; d != 0 {
			t.Differences = append(t.Differences, fmt.Sprintf("%s, %s: %+d by fabric", k.fabric,
				units.Size{Along: k.short, Across: k.big}.Format(p.Unit), d))
		}
	}
	return t
}

// listed is what several fabrics fill of one round, or the band, of an order.
type listed struct {
	order       int
	role, piece string
	filling     Filling
	size        units.Size
	per         int // on one ornament
}

// recount counts the shares of the split it finds for s, and tells differences:
// shares that are not all pieces, of a fabric that will not do, or in parts of
// ornaments that were to be whole.
func (s listed) recount(p *Plan, splits []Split, count func(fabric string, n int), differ func(format string, args ...any)) {
	found := 0
	order := p.Make[s.order]
	for _, split := range splits {
		if split.Order != s.order || split.Role != s.role || split.Piece != "" && split.Piece != s.piece {
			continue
		}
		found++
		per, all := 1, order.Count*s.per
		if split.Piece == "" {
			per, all = s.per, order.Count
		} else if p.Ornament(order.Ornament).same(s.role) {
			differ("role %q is divided piece by piece", s.role)
		}
		for _, share := range split.Shares {
			if !slices.ContainsFunc(s.filling.Any(), func(n Named) bool { return n.Name == share.Fabric }) {
				differ("fabric %q is not in the list of role %q", share.Fabric, s.role)
			}
			count(share.Fabric, share.Count*per)
			all -= share.Count
		}
		if all != 0 {
			differ("%+d divided among fabrics", -all)
		}
	}
	if found != 1 {
		differ("role %q is divided %d times", s.role, found)
	}
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
