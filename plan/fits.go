package plan

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// checkFits reports pieces that are larger than every cloth of every fabric that
// may fill their role.
func (r *reader) checkFits() {
	type use struct {
		at     Pos // of the piece's size
		fabric string
	}
	seen := map[use]bool{}
	stocks := stocks{plan: r.plan}
	for _, order := range r.plan.Make {
		o := r.plan.Ornament(order.Ornament)
		for _, f := range order.Colourway {
			parts := o.partsOf(f.Role, r.plan.Unit)
			fit := func(fabric Named, parts ...part) bool {
				return !slices.ContainsFunc(parts, func(q part) bool { return !stocks.fits(fabric.Name, q.size) })
			}
			together := true
			for _, q := range parts {
				if seen[use{q.at, f.Fabric}] || slices.ContainsFunc(f.Any(), func(n Named) bool { return fit(n, q) }) {
					continue
				}
				seen[use{q.at, f.Fabric}] = true
				together = false
				r.unfit(q, f, &stocks)
			}
			if len(f.Or) > 0 && together && o.same(f.Role) && !slices.ContainsFunc(f.Any(), func(n Named) bool { return fit(n, parts...) }) {
				r.fault(f.At, "add a fabric that holds them all, or take the role out of same fabric",
					"no fabric of the list holds every piece of role %q of ornament %q, which are to be of one", f.Role, o.Name)
			}
		}
	}
}

// checkCountable reports fabrics of which there is more than can be reckoned with.
func (r *reader) checkCountable(g *Gathered) {
	for _, need := range g.Fabrics {
		if _, _, _, err := FabricProblem(r.plan, need); err != nil {
			_, what, _ := strings.Cut(err.Error(), "pack: ")
			r.fault(r.plan.Fabric(need.Fabric).At, "write smaller sizes or counts of it", "fabric %q: %s", need.Fabric, what)
		}
	}
}

// unfit reports a piece that fits no fabric of its role.
func (r *reader) unfit(q part, f Filling, stocks *stocks) {
	what := "the band"
	if q.name != BandName {
		what = fmt.Sprintf("piece %q", q.name)
	}
	if len(f.Or) > 0 {
		var names []string
		for _, n := range f.Any() {
			names = append(names, fmt.Sprintf("%q", n.Name))
		}
		r.fault(q.at, "add a larger cut or a length to one of them, add another one to the list, or make the piece smaller",
			"%s of %s fits no cloth of fabrics %s", what, q.size.Format(r.plan.Unit), strings.Join(names, ", "))
		return
	}
	turned := ""
	if r.plan.Fabric(f.Fabric).Direction != AnyWay {
		turned = ", which may not be turned"
	}
	r.fault(q.at, "add a larger cut or a length to the fabric, fill the role with another one, or make the piece smaller",
		"%s of %s fits no cloth of fabric %q%s: %s", what, q.size.Format(r.plan.Unit), f.Fabric, turned, stocks.of(f.Fabric).largest(r.plan.Unit))
}

// largest says what the largest cloth of a stock leaves to cut from.
func (s stock) largest(u units.Unit) string {
	var best units.Size
	for _, sheet := range s.sheets {
		w, h := sheet.Usable()
		if size := (units.Size{Along: h, Across: w}); size.Area() > best.Area() {
			best = size
		}
	}
	switch {
	case s.roll != nil && s.roll.Most > 0:
		w, h := s.roll.Usable(s.roll.Most)
		return "the most that can be bought leaves " + units.Size{Along: h, Across: w}.Format(u)
	case s.roll != nil:
		w, _ := s.roll.Usable(0)
		return "it is " + w.Format(u) + " wide"
	case best.Along > 0:
		return "the largest leaves " + best.Format(u)
	case s.soldOut:
		return "none of it is available"
	}
	return "squaring leaves nothing of it"
}
