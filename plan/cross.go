package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

func (r *reader) warn(format string, args ...any) {
	r.plan.Warnings = append(r.plan.Warnings, fmt.Sprintf(format, args...))
}

func (r *reader) note(format string, args ...any) {
	r.plan.Notes = append(r.plan.Notes, fmt.Sprintf(format, args...))
}

// cross holds the parts of the plan against each other. What could not be read
// is not held against anything.
func (r *reader) cross() {
	r.checkStashNames()
	r.checkStashWidths()
	r.checkFabrics()
	for i := range r.plan.Make {
		r.checkOrder(&r.plan.Make[i])
	}
	if len(r.faults) > 0 {
		return
	}
	r.checkFits()
	g, err := Gather(r.plan)
	if err != nil {
		at := Pos{File: r.file}
		var many tooMany
		if errors.As(err, &many) {
			at = r.plan.Fabric(many.fabric).At
		}
		r.fault(at, "split the plan, or make fewer", "%s", strings.TrimPrefix(err.Error(), "plan: "))
		return
	}
	r.checkCountable(g)
	r.checkReaches()
	r.checkSmall()
	r.checkSupplyPrices()
}

func (p *Plan) fabricNames() []string {
	var out []string
	for _, f := range p.Fabrics {
		out = append(out, f.Name)
	}
	return out
}

// checkStashNames warns of stash that a slip of the finger keeps from a fabric
// of the plan. Fabrics the plan does not use are no mistake: a stash is larger
// than one plan.
func (r *reader) checkStashNames() {
	names := r.plan.fabricNames()
	told := map[string]bool{}
	for _, s := range r.plan.Stash {
		if s.KeptWhole() && r.plan.Fabric(s.Fabric) != nil {
			r.note("stash piece %q of %s is kept whole, as its note asks", s.ID, s.Fabric)
		}
		if s.Fabric == "" || told[s.Fabric] || slices.Contains(names, s.Fabric) {
			continue
		}
		told[s.Fabric] = true
		if k, ok := near(s.Fabric, names); ok {
			r.warn("stash piece %q is of fabric %q, which the plan does not have and which is left out: did you mean %q?", s.ID, s.Fabric, k)
		}
	}
}

// checkStashWidths warns of stash that is wider than its fabric's bolt: its size was
// most likely written across first. One piece of each fabric is named.
func (r *reader) checkStashWidths() {
	told := map[string]bool{}
	for _, s := range r.plan.Stash {
		f := r.plan.Fabric(s.Fabric)
		if f == nil || told[s.Fabric] || f.Bolt == 0 || s.Size.Across <= f.Bolt {
			continue
		}
		told[s.Fabric] = true
		r.warn("stash piece %q is %s across, but a bolt of %s is only %s wide: sizes are along the selvage x across",
			s.ID, s.Size.Across.Format(r.plan.Unit), s.Fabric, f.Bolt.Format(r.plan.Unit))
	}
}

// checkFabrics reports fabrics that cannot be had at all.
func (r *reader) checkFabrics() {
	for i := range r.plan.Fabrics {
		f := &r.plan.Fabrics[i]
		if r.broken[fabricKey(f.Name)] {
			continue
		}
		stashed := slices.ContainsFunc(r.plan.Stash, func(s StashPiece) bool { return s.Fabric == f.Name && !s.KeptWhole() })
		if len(f.Buy) == 0 && !stashed && !r.torn {
			r.fault(f.At, "write buy: and a list like - {fat quarter: 3.25}, or add it to the stash", "fabric %q can neither be bought nor is any in the stash", f.Name)
		}
	}
}

// checkOrder holds one order against the ornament it names and the fabrics.
func (r *reader) checkOrder(o *Order) {
	if o.Ornament == "" {
		return
	}
	names := r.plan.fabricNames()
	for _, f := range o.Colourway {
		for _, one := range f.Any() {
			if one.Name != "" && !r.noFabrics && !slices.Contains(names, one.Name) {
				r.fault(one.At, r.meant(one.Name, "write one of", names), "fabric %q of role %q is not defined", one.Name, f.Role)
			}
		}
	}
	ornament := r.plan.Ornament(o.Ornament)
	if ornament == nil && r.noOrnaments {
		return
	}
	if ornament == nil {
		var known []string
		for _, k := range r.plan.Ornaments {
			known = append(known, k.Name)
		}
		r.fault(o.At, r.meant(o.Ornament, "write one of", known), "ornament %q is not defined", o.Ornament)
		return
	}
	roles := ornament.roles()
	for _, role := range roles {
		if !slices.ContainsFunc(o.Colourway, func(f Filling) bool { return f.Role == role }) {
			r.fault(o.At, fmt.Sprintf("write colourway: {%s: and a fabric}", bare(role)), "the colourway names no fabric for role %q of ornament %q", role, o.Ornament)
		}
	}
	if r.broken[ornamentKey(o.Ornament)] {
		return
	}
	for _, f := range o.Colourway {
		if !slices.Contains(roles, f.Role) {
			r.fault(f.At, r.meant(f.Role, "its roles are", roles), "ornament %q has no role %q", o.Ornament, f.Role)
		}
	}
}

// roles lists the fabric roles of the ornament in order of first use.
func (o *Ornament) roles() []string {
	var out []string
	seen := map[string]bool{"": true} // a role that could not be read is none
	add := func(role string) {
		if !seen[role] {
			seen[role] = true
			out = append(out, role)
		}
	}
	for _, p := range o.Pieces {
		for _, rc := range p.Roles {
			add(rc.Role)
		}
	}
	if o.Band != nil {
		add(o.Band.Role)
	}
	return out
}

// checkReaches tells where foam stays bare and where pieces pass the middle.
func (r *reader) checkReaches() {
	u := r.plan.Unit
	in := func(l units.Length) string { return Decimals(l, u, 2) + " " + u.String() }
	for i := range r.plan.Ornaments {
		o := &r.plan.Ornaments[i]
		edge := "the middle"
		if o.Band != nil {
			edge = "the band"
		}
		for _, reach := range o.Reaches() {
			switch {
			case reach.Bare > 0:
				r.warn("ornament %q%s: piece %q reaches %s from the pole and leaves %s of bare foam up to %s",
					o.Name, onSide(reach.Side), reach.Round, in(reach.Length), in(reach.Bare), edge)
			case reach.Past:
				r.note("ornament %q%s: piece %q reaches %s from the pole, past the middle at %s: what is over is trimmed or hidden under the band",
					o.Name, onSide(reach.Side), reach.Round, in(reach.Length), in(Sphere{o.Ball}.PoleToEquator()))
			}
		}
	}
}

func onSide(s Side) string { return [...]string{"", ", on the front", ", on the back"}[s] }

// checkSmall warns of pieces under 1 in (2.5 cm): the ruler tips on strips that
// narrow. 3/4 in is the narrowest seen in print.
func (r *reader) checkSmall() {
	least := units.Inch
	if r.plan.Unit == units.Centimetres {
		least = 25 * units.Millimetre
	}
	for _, o := range r.plan.Ornaments {
		for _, p := range o.Pieces {
			if min(p.Size.Along, p.Size.Across) < least {
				r.warn("ornament %q: piece %q is cut narrower than %s, where the ruler tips easily", o.Name, p.Name, least.Format(r.plan.Unit))
			}
		}
	}
	if r.plan.Cutting.Layers > 8 {
		r.warn("%d layers at once are more than a 45 mm blade cuts: 4 are usual", r.plan.Cutting.Layers)
	}
}

// checkSupplyPrices warns of a supply that has a price in one ornament and
// another or none elsewhere.
func (r *reader) checkSupplyPrices() {
	type thing struct {
		name     string
		measured bool
	}
	first := map[thing]Supply{}
	told := map[thing]bool{}
	for _, o := range r.plan.Ornaments {
		for _, s := range o.Supplies {
			k := thing{s.Name, s.Length > 0}
			f, known := first[k]
			if !known {
				first[k] = s
				continue
			}
			same := (f.Price == nil) == (s.Price == nil) && f.Per == s.Per && (f.Price == nil || *f.Price == *s.Price)
			if !same && !told[k] {
				told[k] = true
				r.warn("supply %q has not the same price in every ornament", s.Name)
			}
		}
	}
}
