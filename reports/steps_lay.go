package reports

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// lay is how cloths lie under the cutter for cuts of a length that are measured
// from an edge.
type lay struct {
	heights    []int
	fold, lays int
	long       units.Length
	edge       Side
}

// say words the lay in sentences; one cloth that lies flat needs none.
func (l lay) say(u units.Unit) string {
	var out []string
	if s := l.folds(); s != "" {
		out = append(out, s)
	}
	if l.lays > 1 {
		out = append(out, fmt.Sprintf("Lay the ruler %s along each cut", often(l.lays)))
	}
	if len(out) > 0 {
		out[len(out)-1] += ": " + said(l.long, u) + " is longer than the ruler"
	}
	if s := stackWords(l.heights); s != "" {
		out = append(out, s)
	}
	if len(out) == 0 {
		return ""
	}
	return strings.Join(out, ". ") + "."
}

// folds tells how each cloth is folded: so that the ends of the cut meet.
func (l lay) folds() string {
	each := ""
	if len(l.heights) > 1 || l.heights[0] > 1 {
		each = " each"
	}
	onto := "left edge onto right"
	if l.edge == Left || l.edge == Right {
		onto = "bottom edge onto top"
	}
	switch l.fold {
	case 1:
		return ""
	case 2:
		return "Fold" + each + " once, " + onto
	case 4:
		return "Fold" + each + " twice, " + onto + " and fold onto edges"
	}
	return fmt.Sprintf("Fold%s to %d layers, %s and fold onto edges", each, l.fold, onto)
}

// stackWords tells the layers of every stack.
func stackWords(heights []int) string {
	n := len(heights)
	switch {
	case n == 1 && heights[0] == 1:
		return ""
	case n == 1:
		return fmt.Sprintf("One stack of %d", heights[0])
	case heights[0] == 1:
		return "One after the other"
	case heights[0] == heights[n-1]:
		return fmt.Sprintf("%d stacks of %d", n, heights[0])
	case n == 2:
		return fmt.Sprintf("2 stacks: %d + %d", heights[0], heights[1])
	}
	low := slices.Index(heights, heights[n-1])
	return fmt.Sprintf("%d stacks: %d of %d and %d of %d", n, low, heights[0], n-low, heights[low])
}

// saySquare words a step that makes edges straight: edges that are cut alike
// together.
func (st *Step) saySquare() {
	w := &st.Words
	var done []Trim
	for _, t := range st.Trims {
		if slices.ContainsFunc(done, t.alike) {
			continue
		}
		done = append(done, t)
		var sides []string
		for _, o := range st.Trims {
			if t.alike(o) {
				sides = append(sides, o.Side.String())
			}
		}
		edges := list(sides) + " edge"
		if len(sides) > 1 {
			edges += "s"
		}
		if len(sides) == 4 {
			edges = "all four edges"
		}
		what := "the selvage off"
		if !t.Selvage {
			what = said(t.Width, st.unit) + " off"
		}
		if len(sides) > 1 {
			what += " each"
		}
		w.Off = append(w.Off, edges+": "+what)
		if s := (lay{[]int{1}, t.Fold, t.Lays, t.Long, edgeOf(t.Side)}).say(st.unit); s != "" {
			w.Off[len(w.Off)-1] += ". " + strings.TrimSuffix(s, ".")
		}
	}
	same := func(t Trim) bool { return slices.Equal(t.Heights, st.Trims[0].Heights) }
	if s := stackWords(st.Trims[0].Heights); s != "" && !slices.ContainsFunc(st.Trims, func(t Trim) bool { return !same(t) }) {
		w.Lay = s + "."
	} else if s != "" {
		w.Lay = "At most " + fmt.Sprint(st.Trims[0].Heights[0]) + " in a stack."
	}
	if len(done) == 1 && !done[0].Selvage {
		w.Measure, w.Unit = measureWords(done[0].Width, st.unit)
	}
	w.Times = counted(len(st.Trims), "edge")
}

// alike tells whether two edges are cut in the same way.
func (t Trim) alike(o Trim) bool {
	same := t.Fold == o.Fold && t.Lays == o.Lays && (t.Fold*t.Lays == 1 || t.Long == o.Long)
	return same && t.Selvage == o.Selvage && t.Width == o.Width && slices.Equal(t.Heights, o.Heights)
}

// edgeOf is the edge of the pair that measures are taken from.
func edgeOf(s Side) Side {
	if s == Right {
		return Left
	}
	if s == Top {
		return Bottom
	}
	return s
}
