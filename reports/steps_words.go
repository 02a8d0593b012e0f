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
	w.Take = st.sayTake()
	w.From = st.sayFrom()
	if st.Turn {
		w.Turn = "Turn " + st.them() + " a quarter."
	}
	w.Lay = layWords(st.Heights, st.Fold, st.Lays)
	w.Mind = st.sayMind()
	if st.Square {
		w.Lay = ""
		for _, t := range st.Trims {
			w.Off = append(w.Off, t.say(st))
		}
		w.Rest = sayOutputs(st.Rest, st.unit)
		return
	}
	w.Edge = st.Edge.String() + " edge"
	w.Measure = measureWords(st.Measure, st.unit)
	w.Times = often(st.Cuts)
	w.Off = sayOutputs(st.Off, st.unit)
	w.Rest = sayOutputs(st.Rest, st.unit)
	w.Left = "nothing left over"
	if st.Left > 0 {
		w.Left = "left over: " + said(st.Left, st.unit)
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
	if s == "a sliver" || strings.HasSuffix(s, "in") || strings.HasSuffix(s, "cm") {
		return s
	}
	return s + " " + u.String()
}

// measureWords is the measure of a step: exact if a ruler has it in either unit.
func measureWords(l units.Length, u units.Unit) string {
	if strings.HasPrefix(l.Format(u), "about ") {
		return rough(l, u)
	}
	return l.Vulgar(u)
}

// sizeSaid is the size of a part with its unit.
func sizeSaid(s units.Size, u units.Unit) string {
	return rough(s.Along, u) + " × " + said(s.Across, u)
}

func (st *Step) sayTake() string {
	size := " (" + sizeSaid(st.Size, st.unit) + ")"
	switch {
	case st.Letter == "" || st.Count == 1:
		if rest, ok := strings.CutPrefix(st.Name, "the rest of "); ok && st.Count > 1 {
			return fmt.Sprintf("the %s rests of %s", thousands(int64(st.Count)), rest) + size
		}
		return st.Name + size
	}
	word, letter, _ := strings.Cut(st.Name, " ")
	return fmt.Sprintf("the %s %ss %s", thousands(int64(st.Count)), word, letter) + size
}

// sayFrom tells where the cloth comes from, and of which fabrics it is where
// there are several.
func (st *Step) sayFrom() string {
	var from, fabrics []string
	count := map[string]int{}
	cut, left := []int{}, []int{}
	for _, f := range st.From {
		if count[f.Fabric] += f.Count; count[f.Fabric] == f.Count {
			fabrics = append(fabrics, f.Fabric)
		}
		switch {
		case f.Step == 0 || st.Letter == "":
		case f.Rest && !slices.Contains(left, f.Step):
			left = append(left, f.Step)
		case !f.Rest && !slices.Contains(cut, f.Step):
			cut = append(cut, f.Step)
		}
	}
	if len(cut) > 0 {
		from = append(from, "cut in "+stepNumbers(cut))
	}
	if len(left) > 0 {
		from = append(from, "left in "+stepNumbers(left))
	}
	if len(fabrics) > 1 {
		for i, f := range fabrics {
			fabrics[i] = fmt.Sprintf("%s of %s", thousands(int64(count[f])), f)
		}
	}
	return joined("; ", strings.Join(from, ", "), list(fabrics))
}

func stepNumbers(n []int) string {
	slices.Sort(n)
	words := make([]string, len(n))
	for i := range n {
		words[i] = fmt.Sprint(n[i])
	}
	if len(n) == 1 {
		return "step " + words[0]
	}
	return "steps " + list(words)
}

// layWords tells how cloths lie under the cutter.
func layWords(heights []int, fold, lays int) string {
	var parts []string
	each := "it"
	if len(heights) > 1 || heights[0] > 1 {
		each = "each"
	}
	switch fold {
	case 1:
	case 2:
		parts = append(parts, "fold "+each+" once")
	case 4:
		parts = append(parts, "fold "+each+" twice")
	default:
		parts = append(parts, fmt.Sprintf("fold %s to %d layers", each, fold))
	}
	switch {
	case len(heights) == 1 && heights[0] == 1:
	case len(heights) == 1:
		parts = append(parts, fmt.Sprintf("one stack of %d", heights[0]))
	case heights[0] == 1:
		parts = append(parts, "one after the other")
	case heights[0] == heights[len(heights)-1]:
		parts = append(parts, fmt.Sprintf("%d stacks of %d", len(heights), heights[0]))
	default:
		low := slices.Index(heights, heights[len(heights)-1])
		parts = append(parts, fmt.Sprintf("%s of %d, %d of %d", counted(low, "stack"), heights[0], len(heights)-low, heights[low]))
	}
	if lays > 1 {
		parts = append(parts, fmt.Sprintf("lay the ruler %s along each cut", often(lays)))
	}
	if len(parts) == 0 {
		return ""
	}
	s := strings.Join(parts, ", ")
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

func (st *Step) sayMind() []string {
	var out []string
	if st.OneWay && st.Count > 1 {
		out = append(out, "All tops the same way.")
	}
	if st.OneWay && st.Lays > 1 {
		out = append(out, "One-way print: do not fold.")
	}
	return out
}

// say words the cut along one edge.
func (t Trim) say(st *Step) string {
	what := "the selvage"
	if !t.Selvage {
		what = said(t.Width, st.unit)
	}
	return joined(", ", t.Side.String()+" edge: "+what, strings.ToLower(strings.TrimSuffix(layWords(t.Heights, t.Fold, t.Lays), ".")))
}

// sayOutputs words what comes off, one entry for each thing: equal things of one
// fabric together, from whichever sheet.
func sayOutputs(list []Output, u units.Unit) []string {
	type thing struct {
		kind         OutputKind
		name, fabric string
		next         int
	}
	var order []thing
	count, size := map[thing]int{}, map[thing]units.Size{}
	for _, o := range list {
		k := thing{o.Kind, o.Name, o.Fabric, o.Next}
		if o.Kind == WasteOut {
			k.fabric = ""
		}
		if _, ok := count[k]; !ok {
			order = append(order, k)
			size[k] = o.Size
		}
		count[k] += o.Count
	}
	var out []string
	for _, k := range order {
		n := thousands(int64(count[k]))
		switch k.kind {
		case PieceOut:
			out = append(out, fmt.Sprintf("%s %s, %s", n, k.name, k.fabric))
		case OffcutOut:
			out = append(out, fmt.Sprintf("keep %s (%s)", k.name, sizeSaid(size[k], u)))
		case WasteOut:
			out = append(out, "waste")
		default:
			out = append(out, fmt.Sprintf("%s %s, for step %d", n, k.name, k.next))
		}
	}
	return out
}
