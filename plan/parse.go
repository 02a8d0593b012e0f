package plan

import (
	"cmp"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

// Parse reads a plan from memory. name is the file's name for messages; stash
// fetches the stash file the plan may name and may be nil when there is none.
// What is wrong comes back as [Errors], sorted by position.
func Parse(name string, data []byte, stash StashFile) (*Plan, error) {
	r := &reader{file: name, plan: &Plan{}, broken: map[string]bool{}}
	if len(data) > maxPlanBytes {
		return nil, Errors{{Pos{File: name}, "is too large", "the most is 1024 KiB"}}
	}
	if root := r.document(data); root != nil {
		r.readPlan(root, stash)
	}
	if len(r.faults) > 0 {
		r.faults.sort(name)
		if r.more > 0 {
			r.faults = append(r.faults, Fault{Pos{File: name}, fmt.Sprintf("%d more faults are not listed", r.more), "mend these first"})
		}
		return nil, r.faults
	}
	return r.plan, nil
}

func (r *reader) readPlan(root *yaml.Node, stash StashFile) {
	m, ok := r.mapping(root, Pos{r.file, 1, 1}, "the plan",
		"title", "unit", "money", "budget", "ornaments", "make", "fabrics", "stash", "cutting")
	if !ok {
		return
	}
	p := r.plan
	p.Title = strings.TrimSuffix(path.Base(filepath.ToSlash(r.file)), path.Ext(r.file))
	if t, ok := r.name(m.get("title"), "title"); ok {
		p.Title = t
	}
	if n := m.get("unit"); n != nil {
		if c, ok := r.scalar(n, "unit"); ok {
			u, err := units.ParseUnit(c.text)
			if err != nil {
				r.fault(c.at, "write in or cm", "unknown unit %s", quoted(c.text))
			}
			p.Unit = u
		}
	}
	if n := m.get("money"); n != nil {
		if c, ok := r.scalar(n, "money"); ok {
			if _, ok := r.named(c, "money"); ok {
				p.Money = c.text // with a blank, if one is wanted before the amount
			}
		}
	}
	if n := m.get("budget"); n != nil {
		p.Budget = r.price(n, "budget")
	}
	before := len(r.faults)
	r.readCutting(m.get("cutting"))
	r.torn = len(r.faults) > before
	before = len(r.faults)
	n := m.require("fabrics", "a name for each fabric, with what it is indented below")
	if n != nil {
		r.readFabrics(n)
	}
	r.noFabrics = len(p.Fabrics) == 0 && (n == nil || len(r.faults) > before)
	before = len(r.faults)
	n = m.require("ornaments", "a name for each ornament, with what it is indented below")
	if n != nil {
		r.readOrnaments(n)
	}
	r.noOrnaments = len(p.Ornaments) == 0 && (n == nil || len(r.faults) > before)
	if n := m.get("stash"); n != nil {
		before := len(r.faults)
		r.readStash(n, stash)
		r.torn = r.torn || len(r.faults) > before
	}
	if n := m.require("make", "a list like - {ornament: harbour star, count: 12, colourway: {ground: navy dot}}"); n != nil {
		r.readMake(n)
	}
	r.cross()
}

// readMake reads the orders and holds them against ornaments and fabrics.
func (r *reader) readMake(n *yaml.Node) {
	items := r.items(n, "make", "- {ornament: harbour star, count: 12, colourway: {ground: navy dot}}", maxOrders)
	if len(items) == 0 && n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.fault(r.pos(n), "list at least one ornament", "there is nothing to make")
	}
	for _, item := range items {
		m, ok := r.mapping(item, r.pos(item), "an entry of make", "ornament", "count", "colourway")
		if !ok {
			continue
		}
		o := Order{At: m.at}
		name := m.require("ornament", "one of the names under ornaments")
		if name != nil {
			o.Ornament, _ = r.name(name, "ornament")
			o.At = r.pos(name)
		}
		o.Count, _ = r.count(m.require("count", "how many to make"), "count", 1, maxDemand)
		if n := m.get("colourway"); n != nil {
			for _, e := range r.entries(n, "colourway", "role", maxAround) {
				o.Colourway = append(o.Colourway, r.readFilling(e))
			}
		}
		r.plan.Make = append(r.plan.Make, o)
	}
}

// readFilling reads the fabric of a role, or the list of those that will do. One
// that cannot be read has no name, so that nothing is concluded from it.
func (r *reader) readFilling(e entry) Filling {
	what := "the fabric of role " + quoted(e.name)
	f := Filling{At: r.pos(e.value), Role: e.name}
	if e.value.Kind != yaml.SequenceNode {
		f.Fabric, _ = r.name(e.value, what)
		return f
	}
	seen := map[string]bool{}
	for _, n := range r.items(e.value, what, "[navy dot, storm grey]", maxFabrics) {
		name, ok := r.name(n, what)
		switch {
		case !ok:
		case seen[name]:
			r.fault(r.pos(n), "leave one of them out", "fabric %q stands twice in the list of role %q", name, e.name)
		case f.Fabric == "":
			f.At, f.Fabric = r.pos(n), name
		default:
			f.Or = append(f.Or, Named{r.pos(n), name})
		}
		seen[name] = true
	}
	if len(e.value.Content) == 0 {
		r.fault(f.At, "write the fabrics that will do, like [navy dot, storm grey]", "the list of role %q is empty", e.name)
	}
	return f
}

func (r *reader) readCutting(n *yaml.Node) {
	c := &r.plan.Cutting
	*c = Cutting{
		Squaring: units.Inch / 4,
		Keep:     units.Size{Along: 2 * units.Inch, Across: 3 * units.Inch},
		Ruler:    24 * units.Inch,
		Layers:   4,
		Pace:     defaultPace,
	}
	if r.plan.Unit == units.Centimetres {
		c.Squaring = 5 * units.Millimetre
		c.Keep = units.Size{Along: 5 * units.Centimetre, Across: 8 * units.Centimetre}
		c.Ruler = 60 * units.Centimetre
	}
	if n == nil {
		return
	}
	m, ok := r.mapping(n, r.pos(n), "cutting",
		"squaring", "keep", "spare", "ruler", "layers", "prefer", "kerf", "stages", "keep sizes", "seconds a pass", "bin first")
	if !ok {
		return
	}
	if l, ok := r.length(m.get("squaring"), "squaring", units.Up); ok {
		if l > 10*units.Inch {
			r.fault(r.pos(m.get("squaring")), "write what is trimmed off a raw edge, like 1/4 in", "squaring of %s is too much", l.Format(r.plan.Unit))
		}
		c.Squaring = l
	}
	if s, ok := r.size(m.get("keep"), "keep", units.Up); ok {
		c.Keep = s
	}
	r.readKeepSizes(m.get("keep sizes"))
	c.Spare = r.percent(m.get("spare"), "spare", maxSpare)
	if l, ok := r.positive(m.get("ruler"), "ruler", units.Down, maxBall); ok {
		c.Ruler = l
	}
	if v, ok := r.count(m.get("layers"), "layers", 1, maxLayers); ok {
		c.Layers = v
	}
	if l, ok := r.length(m.get("kerf"), "kerf", units.Up); ok {
		if l > units.Inch {
			r.fault(r.pos(m.get("kerf")), "write 0 for a rotary cutter", "kerf of %s is too much", l.Format(r.plan.Unit))
		}
		c.Kerf = l
	}
	c.Stages, _ = r.count(m.get("stages"), "stages", 0, maxStages)
	if v, ok := r.count(m.get("seconds a pass"), "seconds a pass", 1, maxPace); ok {
		c.Pace = v
	}
	if v, ok := r.word(m.get("bin first"), "answer to bin first", "no", "yes"); ok {
		c.BinFirst = v == 1
	}
	if v, ok := r.word(m.get("prefer"), "preference", "thrift", "fewer passes", "balanced"); ok {
		c.Prefer = Preference(v)
	}
}

// readKeepSizes reads the widths of the strips that offcuts are cut down to.
func (r *reader) readKeepSizes(n *yaml.Node) {
	if n == nil {
		return
	}
	c := &r.plan.Cutting
	for _, item := range r.items(n, "keep sizes", "[5, 3 1/2, 2 1/2]", maxKeepSizes) {
		l, ok := r.positive(item, "a size to keep", units.Up, maxBall)
		switch {
		case !ok:
		case slices.Contains(c.KeepSizes, l):
			r.fault(r.pos(item), "leave one of them out", "a size to keep of %s stands twice", l.Format(r.plan.Unit))
		default:
			c.KeepSizes = append(c.KeepSizes, l)
		}
	}
	slices.SortFunc(c.KeepSizes, func(a, b units.Length) int { return cmp.Compare(b, a) })
}
