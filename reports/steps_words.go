package reports

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// say puts the step in words.
func (st *Step) say() {
	w := &st.Words
	w.Take, w.From, w.Cloth = st.sayTake(), st.sayFrom(), st.sayCloth()
	if st.Turn {
		w.Turn = "Turn " + st.them() + " a quarter."
	}
	w.Mind = st.sayMind()
	w.Rest = st.sayOutputs(st.Rest)
	if st.Square {
		st.saySquare()
		return
	}
	w.Lay = lay{st.Heights, st.Fold, st.Lays, st.Long, st.Edge}.say(st.unit)
	w.Edge = st.sayEdge()
	w.Measure, w.Unit = measureWords(st.Measure, st.unit)
	w.Times = often(st.Cuts)
	w.Off = st.sayOutputs(st.Off)
	w.Left = "nothing left over"
	if st.Far {
		w.Measure, w.Unit = measureWords(st.Left, st.unit)
		w.Left = "left over: " + said(st.Measure, st.unit)
		w.Off, w.Rest = w.Rest, w.Off
		return
	}
	if st.Left > 0 {
		w.Left = "left over: " + said(st.Left, st.unit)
	}
	if len(st.Rest) > 0 && slices.ContainsFunc(st.Rest, func(o Output) bool { return o.Kind == PieceOut }) {
		w.Rest[0] = "the last: " + w.Rest[0]
	}
}

func (st *Step) them() string {
	if st.Count == 1 {
		return "it"
	}
	return "them"
}

func often(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

// said is a length that remains, with its unit.
func said(l units.Length, u units.Unit) string {
	s := rough(l, u)
	if s == "a sliver" || hasUnit(s) {
		return s
	}
	return s + " " + u.String()
}

func hasUnit(s string) bool { return strings.HasSuffix(s, "in") || strings.HasSuffix(s, "cm") }

// measureWords is the measure of a step and its unit: exact if a ruler has it in
// either unit.
func measureWords(l units.Length, u units.Unit) (number, unit string) {
	if strings.HasPrefix(l.Format(u), "about ") {
		return rough(l, u), u.String()
	}
	s := l.Vulgar(u)
	if hasUnit(s) {
		return s, ""
	}
	return s, u.String()
}

// sizeSaid is the size of a part with its unit.
func sizeSaid(s units.Size, u units.Unit) string {
	return rough(s.Along, u) + " × " + said(s.Across, u)
}

func (st *Step) sayTake() string {
	size := " (" + sizeSaid(st.Size, st.unit) + ")"
	rest, isRest := strings.CutPrefix(st.Name, "the rest of ")
	switch {
	case st.Count == 1:
		return st.Name + size
	case isRest:
		return fmt.Sprintf("the %s rests of %s", thousands(int64(st.Count)), rest) + size
	case st.Letter == "":
		return st.Name + size
	}
	return "the " + severalParts(st.Count, st.Name) + size
}

// severalParts is "24 strips b", or "strip b".
func severalParts(n int, name string) string {
	word, letter, _ := strings.Cut(name, " ")
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%s %ss %s", thousands(int64(n)), word, letter)
}

// sayFrom tells which steps made the cloth, where it does not lie on the mat.
func (st *Step) sayFrom() string {
	if st.Letter == "" {
		return ""
	}
	var steps []int
	var sheets []string
	for _, f := range st.From {
		switch {
		case f.Whole:
			sheets = append(sheets, fmt.Sprintf("sheet %d as it lies", f.Sheet))
		case !slices.Contains(steps, f.Step):
			steps = append(steps, f.Step)
		}
	}
	if len(steps) > 0 {
		sheets = append([]string{stepNumbers(steps)}, sheets...)
	}
	return "from " + list(sheets)
}

// sayCloth lists the fabrics, with counts where there are several.
func (st *Step) sayCloth() string {
	var fabrics []string
	count := map[string]int{}
	for _, f := range st.From {
		if count[f.Fabric] += f.Count; count[f.Fabric] == f.Count {
			fabrics = append(fabrics, f.Fabric)
		}
	}
	if len(fabrics) > 1 {
		for i, f := range fabrics {
			fabrics[i] = fmt.Sprintf("%s of %s", thousands(int64(count[f])), f)
		}
	}
	return list(fabrics)
}

// stepNumbers lists steps in words: "step 3", "steps 1, 2 and 5".
func stepNumbers(n []int) string {
	slices.Sort(n)
	if len(n) == 1 {
		return fmt.Sprint("step ", n[0])
	}
	return "steps " + list(ranges(n))
}

// sayEdge names the edge the measure is taken from, told by its length where the
// cloth is clearly longer one way.
func (st *Step) sayEdge() string {
	along, across := st.Size.Along, st.Size.Across
	edge, side := along, st.Edge
	if st.Edge == Bottom {
		edge = across
	}
	if st.Far {
		side = map[Side]Side{Left: Right, Bottom: Top}[side]
	}
	switch name := side.String() + " edge"; {
	case 4*edge <= 3*max(along, across):
		return "short " + name
	case 4*min(along, across) <= 3*edge:
		return "long " + name
	default:
		return name
	}
}

func (st *Step) sayMind() []string {
	var out []string
	if st.Spoiled {
		out = append(out, "Lay the bad place as the diagram shows it.")
	}
	if st.Crooked {
		out = append(out, "Lay the crooked edge as the diagram shows it, and measure where the diagram does.")
		out = append(out, st.Ends...)
	}
	if st.Square && st.Count > 1 && slices.ContainsFunc(st.From, func(f Source) bool { return f.Sheet != st.From[0].Sheet }) {
		out = append(out, "Mark each cloth with the number of its sheet.")
	}
	if st.OneWay && st.Count > 1 {
		out = append(out, "All tops the same way.")
	}
	if st.OneWay && (st.Lays > 1 || slices.ContainsFunc(st.Trims, func(t Trim) bool { return t.Lays > 1 })) {
		out = append(out, "A print with a top is not folded.")
	}
	return out
}
