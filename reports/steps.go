package reports

import (
	"fmt"

	"pinfold/pack"
	"pinfold/units"
)

// Step is one setting of the ruler: one measure, cut as often as it says.
type Step struct {
	Number int
	Take   string // the cloth that lies on the mat
	// Axis is the axis the cut divides: a cut that divides y runs across the
	// bolt and is measured from the bottom edge of what lies there, one that
	// divides x runs along the selvage and is measured from its left edge.
	Axis    pack.Axis
	Squares bool         // makes an edge straight; else it takes a part off
	Edge    Side         // the edge made straight
	Measure units.Length // the width that comes off; 0 for a selvage
	Cuts    int          // how often in each region
	Times   int          // how many equal regions are cut this way
	Gives   string       // what comes off, "3 strips 2½ × 20½"
	Left    units.Length // the width that must remain in each region
	LeftIs  string       // what that is
	// Line is where the step's first cut lies.
	Line Line
}

// Line is a cut from one end to the other, in the sheet's measures.
type Line struct {
	X1, Y1, X2, Y2 units.Length
}

// walker lists the steps of a sheet in cutting order: the edges first, then
// every region's cuts from its left or bottom edge before its parts are cut.
type walker struct {
	sheet  *Sheet
	pieces []pack.Piece
	steps  []Step
	label  map[pack.Rect]string // of the offcuts
}

func steps(s *Sheet, pieces []pack.Piece) []Step {
	w := &walker{sheet: s, pieces: pieces, label: map[pack.Rect]string{}}
	for _, o := range s.Offcuts {
		w.label[o.Rect] = o.Label
	}
	w.square()
	w.cut([]region{{s.layout.Cuts, pack.Rect{W: s.W, H: s.H}}}, "the sheet")
	return w.steps
}

// square lists the cuts that make the edges straight. The bottom comes first:
// all later measures start from it and from the left edge.
func (w *walker) square() {
	s := w.sheet
	for _, side := range []Side{Bottom, Left, Top, Right} {
		e := s.Edges[side]
		if e.Trim == 0 && !e.Selvage {
			continue
		}
		st := Step{Take: "the whole cloth", Squares: true, Edge: side, Measure: e.Trim, Cuts: 1, Times: 1, Gives: "the raw edge"}
		if e.Selvage {
			st.Gives = "the selvage"
		}
		switch side {
		case Left:
			st.Line = Line{0, 0, 0, s.H}
		case Right:
			st.Line = Line{s.W, 0, s.W, s.H}
			st.Left = s.W
		case Bottom:
			st.Line, st.Axis = Line{0, 0, s.W, 0}, pack.Y
		case Top:
			st.Line, st.Axis = Line{0, s.H, s.W, s.H}, pack.Y
			st.Left = s.H
		}
		w.add(st)
	}
}

func (w *walker) add(s Step) int {
	s.Number = len(w.steps) + 1
	w.steps = append(w.steps, s)
	return s.Number
}

// cut lists the steps of congruent regions, which are cut alike: first all cuts
// that part them, then what the parts need, parts that are congruent and come
// from one step together.
func (w *walker) cut(regions []region, take string) {
	if regions[0].node.Leaf != pack.NoLeaf {
		return
	}
	parts := make([][]region, len(regions))
	for i, r := range regions {
		parts[i] = r.parts(w.sheet.kerf)
	}
	axis, last := regions[0].node.Axis, 0
	type stretch struct{ from, to, step int }
	var runs []stretch
	for from := 0; from < len(parts[0]); {
		to := from + 1
		for to < len(parts[0]) && parts[0][to].width(axis) == parts[0][from].width(axis) {
			to++
		}
		if to < len(parts[0]) || to-from > 1 {
			if from > 0 {
				take = "the rest of it"
			}
			last = w.add(w.run(parts, axis, take, from, to))
			runs = append(runs, stretch{from, to, last})
		} else {
			runs = append(runs, stretch{from, to, 0})
		}
		from = to
	}
	for _, r := range runs {
		for _, group := range congruentParts(parts[0], r.from, r.to) {
			var next []region
			for _, ps := range parts {
				for _, i := range group {
					next = append(next, ps[i])
				}
			}
			w.cut(next, origin(r.step, last, r.to-r.from, group, r.from, len(parts)))
		}
	}
}

// run is the step that takes the parts from..to-1, all of one width, off each of
// the regions. The last part of a region needs no cut: it is what remains.
func (w *walker) run(parts [][]region, axis pack.Axis, take string, from, to int) Step {
	one := parts[0]
	st := Step{Take: take, Axis: axis, Measure: one[from].width(axis), Cuts: to - from, Times: len(parts)}
	var off []region
	for _, ps := range parts {
		off = append(off, ps[from:to]...)
	}
	st.Gives = w.contents(off)
	if to < len(one) {
		st.Left, st.LeftIs = one[len(one)-1].end(axis)-one[to].start(axis), w.rest(parts, to)
	} else {
		st.Cuts--
		st.Left, st.LeftIs = st.Measure, "the last one"
	}
	r := one[from].Rect
	st.Line = Line{r.X + r.W, r.Y, r.X + r.W, r.Y + r.H}
	if axis == pack.Y {
		st.Line = Line{r.X, r.Y + r.H, r.X + r.W, r.Y + r.H}
	}
	return st
}

// contents words what comes off, equal things counted together in the order in
// which they first appear.
func (w *walker) contents(parts []region) string {
	var names []string
	count := map[string]int{}
	var keep []string
	for _, p := range parts {
		name := ""
		switch p.node.Leaf {
		case pack.PieceLeaf:
			name = w.pieces[p.node.Piece].ID
		case pack.OffcutLeaf:
			keep = append(keep, w.label[p.Rect])
			continue
		case pack.WasteLeaf:
			name = "waste"
		default:
			name = "strip " + roughSize(p.size(), w.sheet.unit)
		}
		if count[name]++; count[name] == 1 {
			names = append(names, name)
		}
	}
	for i, name := range names {
		switch n := count[name]; {
		case name == "waste":
		case n > 1 && len(name) > 5 && name[:6] == "strip ":
			names[i] = fmt.Sprintf("%d strips %s", n, name[6:])
		default:
			names[i] = fmt.Sprintf("%d %s", n, name)
		}
	}
	if len(keep) > 0 {
		names = append(names, "keep "+list(keep))
	}
	return list(names)
}

// rest words what remains of each region after its part number to has been
// reached.
func (w *walker) rest(parts [][]region, to int) string {
	one := parts[0][to:]
	if len(one) > 1 {
		return "still to cut"
	}
	switch n := one[0].node; n.Leaf {
	case pack.PieceLeaf:
		return w.pieces[n.Piece].ID
	case pack.OffcutLeaf:
		labels := make([]string, len(parts))
		for i, ps := range parts {
			labels[i] = w.label[ps[to].Rect]
		}
		return "keep " + list(labels)
	case pack.WasteLeaf:
		return "waste"
	}
	return "still to cut"
}

// origin words where the parts of a group come from: step is the one that cut
// them off, or 0 for what remained after the step last; of its n parts, the
// first being number first, the group holds some, in each of times regions.
func origin(step, last, n int, group []int, first, times int) string {
	total := len(group) * times
	switch {
	case step == 0 && total == 1:
		return fmt.Sprintf("what is left of step %d", last)
	case step == 0:
		return fmt.Sprintf("the %d left of step %d", total, last)
	case total == 1 && n == 1:
		return fmt.Sprintf("the strip of step %d", step)
	case len(group) == n:
		return fmt.Sprintf("the %d strips of step %d", total, step)
	}
	nth := ordinals(group, first)
	word := "strip"
	if len(group) > 1 {
		word = "strips"
	}
	if times > 1 {
		return fmt.Sprintf("%s %s of each in step %d", word, nth, step)
	}
	return fmt.Sprintf("%s %s of step %d", word, nth, step)
}

// ordinals lists the places of a group's parts in their run, neighbours together:
// "1 to 4 and 7".
func ordinals(group []int, first int) string {
	var words []string
	for from := 0; from < len(group); {
		to := from + 1
		for to < len(group) && group[to] == group[to-1]+1 {
			to++
		}
		a, b := group[from]-first+1, group[to-1]-first+1
		switch to - from {
		case 1:
			words = append(words, fmt.Sprint(a))
		case 2:
			words = append(words, fmt.Sprint(a), fmt.Sprint(b))
		default:
			words = append(words, fmt.Sprintf("%d to %d", a, b))
		}
		from = to
	}
	return list(words)
}
