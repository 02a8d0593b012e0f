package pack

import (
	"cmp"
	"slices"

	"pinfold/units"
)

// Cloth is one fabric with its layouts, as a session sees it.
type Cloth struct {
	Problem Problem
	Layouts []Layout
}

// Session is the work at the table: every pass of the cutter that the layouts
// of all fabrics take, in an order in which it can be done.
//
// The rule of stacking: regions of cloth of equal measures, of one fabric or of
// several, lie on each other, none turned, as many as the table's layers, and are
// cut together as long as their cuts are at the same places. A cut longer than
// the ruler is made through folded cloth, which doubles the layers, or by laying
// the ruler again along the cut, whichever takes fewer passes.
type Session struct {
	Jobs   []Job
	Passes int
	// Settings is how often the ruler is set to a measure: once a job, more often
	// for a measure longer than the ruler from either edge.
	Settings int
	// AtLeast is a lower bound on the passes that the same layouts take in
	// whatever order their cuts are made and however equal regions are stacked.
	AtLeast int
}

// Job is one setting of the ruler: the same measure taken off all of its lots.
type Job struct {
	// Square marks a job that trims raw edges: Margins of each side, and
	// Selvages woven edges. It takes no measure off.
	Square   bool
	Margins  Margins
	Selvages int

	// W and H are what lies on the mat: the raw cloth of a Square job, else the
	// region. Axis is what its cuts divide, Measure the width of what comes off
	// from the left or bottom edge, Cuts how often in each region.
	W, H    units.Length
	Axis    Axis
	Measure units.Length
	Cuts    int

	Lots  []Lot
	Count int // how many regions are cut like this, copies included
	// Fold is in how many layers each region lies (1 is flat), Lays how often
	// the ruler is laid along one cut, Stacks in how many stacks they all lie.
	Fold, Lays, Stacks int
	Passes             int
}

// Lot is a region of a layout, in as many copies as the layout has.
type Lot struct {
	Cloth, Layout int
	// Node is the region's node of the cut tree, From the first of its cuts that
	// is not yet made; Rect is where the region lies on its sheet.
	Node   *Node
	From   int
	Rect   Rect
	Copies int
}

// Left returns the width that remains of each region after the job.
func (j Job) Left(kerf units.Length) units.Length {
	side := Rect{W: j.W, H: j.H}.along(j.Axis)
	return max(0, side-units.Length(j.Cuts)*(j.Measure+kerf))
}

func (j Job) settings(t Rules) int {
	if j.Square {
		return 0
	}
	return t.settings(j.Measure, j.Left(t.Kerf))
}

// NewSession works out the passes of the layouts as their trees stand.
// [Arrange] puts the trees in the order that shares most. The rules on layers and
// ruler are those of the first cloth.
func NewSession(cloths []Cloth) Session {
	if len(cloths) == 0 {
		return Session{}
	}
	s := gatherer{cloths: cloths, table: cloths[0].Problem.Rules, waiting: newGroups[Lot](), needs: map[line]need{}}
	s.square()
	for g := s.waiting.next(); g != nil; g = s.waiting.next() {
		s.cut(g)
	}
	out := Session{Jobs: inOrder(s.jobs, cloths), AtLeast: s.atLeast()}
	for _, j := range out.Jobs {
		out.Passes += j.Passes
		out.Settings += j.settings(cloths[j.Lots[0].Cloth].Problem.Rules)
	}
	return out
}

// Passes counts the runs of the cutter for the layouts of one problem.
func (p Problem) Passes(layouts []Layout) int {
	return NewSession([]Cloth{{p, layouts}}).Passes
}

// gatherer cuts the groups of regions that may lie in one stack, the largest
// first.
type gatherer struct {
	cloths  []Cloth
	table   Rules
	waiting *groups[Lot]
	jobs    []Job
	trims   int // least passes for the raw edges
	needs   map[line]need
}

// line is what cuts have in common that may ever share a pass: whatever is cut off
// on the way, regions in one stack are cut along the same axis and as far.
type line struct {
	axis Axis
	cut  units.Length
}

// need is how many cuts of a line the regions need in all and one of them alone.
type need struct {
	all, most int
}

// atLeast bounds the passes from below, line by line.
func (s *gatherer) atLeast() int {
	sum := s.trims
	for l, n := range s.needs {
		sum += max(n.most*s.table.least(1, l.cut), s.table.least(n.all, l.cut))
	}
	return sum
}

type groupKey struct {
	w, h units.Length
	axis Axis
	// flat regions may not be folded; told apart only where a fold would be used.
	flat bool
	kerf units.Length
	// own is for a region of an outline with an edge in it: that lies in one stack
	// only with the same region of like cloths, and is not folded.
	own crooked
}

// crooked is where a region with an edge of an outline in it comes from.
type crooked struct {
	cloth, sheet int // both from 1
	x, y         units.Length
}

// add puts a region where it waits to be cut; a leaf needs nothing.
func (s *gatherer) add(l Lot) {
	if l.Node.Leaf != NoLeaf {
		return
	}
	c := s.cloths[l.Cloth]
	k := groupKey{w: l.Rect.W, h: l.Rect.H, axis: l.Node.Axis, kerf: c.Problem.Rules.Kerf}
	if sheet := c.Layouts[l.Layout].Stock.Sheet; sheet != FromRoll {
		if o := c.Problem.Sheets[sheet].Outline; o != nil && !o.Holds(l.Rect) {
			k.own = crooked{l.Cloth + 1, sheet + 1, l.Rect.X, l.Rect.Y}
		}
	}
	k.flat = (c.Problem.Rules.Flat || k.own != crooked{}) && s.long(k.cut())
	g := s.waiting.at(k)
	g.lots = append(g.lots, l)
}

// cut is the length of a cut through the region.
func (k groupKey) cut() units.Length {
	return Rect{W: k.w, H: k.h}.along(1 - k.axis)
}

// along is the measure that the region's cuts divide.
func (k groupKey) along() units.Length {
	return Rect{W: k.w, H: k.h}.along(k.axis)
}

func (s *gatherer) long(cut units.Length) bool { return s.table.Ruler > 0 && cut > s.table.Ruler }

// square trims the raw edges, equal cloths together.
func (s *gatherer) square() {
	type raw struct {
		w, h     units.Length
		m        Margins
		selvages int
		flat     bool
	}
	at := map[raw]int{}
	for ci, c := range s.cloths {
		for li, l := range c.Layouts {
			if l.Copies <= 0 {
				continue
			}
			w, h, m, selvages := c.Problem.raw(l)
			lot := Lot{Cloth: ci, Layout: li, Node: l.Cuts, Rect: Rect{W: l.W, H: l.H}, Copies: l.Copies}
			s.add(lot)
			if m == (Margins{}) && selvages == 0 {
				continue
			}
			k := raw{w, h, m, selvages, c.Problem.Rules.Flat && (s.long(w) || s.long(h))}
			i, ok := at[k]
			if !ok {
				i = len(s.jobs)
				at[k] = i
				s.jobs = append(s.jobs, Job{Square: true, Margins: m, Selvages: selvages, W: w, H: h, Fold: 1, Lays: 1})
			}
			s.jobs[i].Lots = append(s.jobs[i].Lots, lot)
			s.jobs[i].Count += l.Copies
		}
	}
	for i := range s.jobs {
		j := &s.jobs[i]
		flat := s.cloths[j.Lots[0].Cloth].Problem.Rules.Flat
		along, across := j.Selvages+sides(j.Margins.Left, j.Margins.Right), sides(j.Margins.Bottom, j.Margins.Top)
		ways := [2]way{s.table.way(j.Count, j.H, flat), s.table.way(j.Count, j.W, flat)}
		j.Cuts = along + across
		j.Passes = along*ways[0].passes() + across*ways[1].passes()
		// The lay is told for the longer edge.
		longer := ways[0]
		if j.W > j.H {
			longer = ways[1]
		}
		j.Fold, j.Lays, j.Stacks = longer.fold, longer.lays, longer.stacks
		s.trims += along*s.table.least(j.Count, j.H) + across*s.table.least(j.Count, j.W)
	}
}

func sides(trims ...units.Length) int {
	n := 0
	for _, t := range trims {
		if t > 0 {
			n++
		}
	}
	return n
}

// raw returns a layout's cloth before squaring.
func (p Problem) raw(l Layout) (w, h units.Length, m Margins, selvages int) {
	if l.Stock.Sheet == FromRoll {
		m = p.Roll.Squared
		return p.Roll.W, l.H + m.Bottom + m.Top, m, p.Roll.Selvages
	}
	of := p.Sheets[l.Stock.Sheet]
	return of.W, of.H, of.Squared, of.Selvages
}

// cut makes the jobs of a group: what has the same measure next to come off is
// cut together, as often as all of it needs.
func (s *gatherer) cut(g *group[Lot]) {
	var order []units.Length
	by := map[units.Length][]Lot{}
	for _, l := range g.lots {
		m := l.measure(l.From, g.key.kerf)
		if by[m] == nil {
			order = append(order, m)
		}
		by[m] = append(by[m], l)
		if l.From == 0 {
			k, n := line{g.key.axis, g.key.cut()}, len(l.Node.At)
			was := s.needs[k]
			s.needs[k] = need{was.all + n*l.Copies, max(was.most, n)}
		}
	}
	slices.SortFunc(order, func(a, b units.Length) int { return cmp.Compare(b, a) })
	for _, m := range order {
		s.job(g.key, m, by[m])
	}
}

// job makes one job and passes on what it leaves.
func (s *gatherer) job(k groupKey, measure units.Length, lots []Lot) {
	j := Job{W: k.w, H: k.h, Axis: k.axis, Measure: measure, Lots: lots}
	for i, l := range lots {
		n := l.run(k.kerf)
		if i == 0 || n < j.Cuts {
			j.Cuts = n
		}
		j.Count += l.Copies
	}
	w := s.table.way(j.Count, k.cut(), k.flat)
	j.Fold, j.Lays, j.Stacks = w.fold, w.lays, w.stacks
	j.Passes = j.Cuts * w.passes()
	s.jobs = append(s.jobs, j)
	for _, l := range lots {
		for i := l.From; i < l.From+j.Cuts; i++ {
			s.add(l.part(i, k.kerf))
		}
		s.add(l.rest(l.From+j.Cuts, k.kerf))
	}
}

// measure is the width of the part that cut i takes off.
func (l Lot) measure(i int, kerf units.Length) units.Length {
	return l.part(i, kerf).Rect.along(l.Node.Axis)
}

// run is how many of the next cuts take off the same measure.
func (l Lot) run(kerf units.Length) int {
	n := 1
	for l.From+n < len(l.Node.At) && l.measure(l.From+n, kerf) == l.measure(l.From, kerf) {
		n++
	}
	return n
}

// part is the i-th part of the lot's node as a region.
func (l Lot) part(i int, kerf units.Length) Lot {
	p := l
	p.Node, p.From, p.Rect = l.Node.Parts[i], 0, l.Node.part(i, l.Rect, kerf)
	return p
}

// rest is what remains when the cuts before the from-th are made.
func (l Lot) rest(from int, kerf units.Length) Lot {
	if from == len(l.Node.At) {
		return l.part(from, kerf)
	}
	p := l
	first, _ := l.Node.part(from, l.Rect, kerf).span(l.Node.Axis)
	_, end := l.Rect.span(l.Node.Axis)
	p.Rect, p.From = l.Rect.slice(l.Node.Axis, first, end), from
	return p
}
