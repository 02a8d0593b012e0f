package reports

import (
	"fmt"
	"slices"
)

// thing is what equal outputs have in common.
type thing struct {
	kind         OutputKind
	name, fabric string
	next         int
}

// sum is how much there is of a thing.
type sum struct {
	thing
	first   Output
	count   int
	sheets  []int
	fabrics []string
	of      map[string]int // by fabric
	also    []string       // labels of more offcuts like this
}

// sums counts outputs: pieces by fabric, everything else together.
func sums(list []Output) []*sum {
	var out []*sum
	for _, o := range list {
		k := thing{o.Kind, o.Name, o.Fabric, o.Next}
		if o.Kind != PieceOut {
			k.fabric = ""
		}
		at := slices.IndexFunc(out, func(s *sum) bool { return s.thing == k })
		if at < 0 {
			at = len(out)
			out = append(out, &sum{thing: k, first: o, of: map[string]int{}})
		}
		s := out[at]
		s.count += o.Count
		if !slices.Contains(s.sheets, o.Sheet) {
			s.sheets = append(s.sheets, o.Sheet)
		}
		if s.of[o.Fabric] += o.Count; s.of[o.Fabric] == o.Count {
			s.fabrics = append(s.fabrics, o.Fabric)
		}
	}
	return out
}

// sameOffcuts makes one of offcuts of equal size that lie next to each other in
// the list, by all their labels.
func sameOffcuts(list []*sum) []*sum {
	var out []*sum
	for _, s := range list {
		if n := len(out); n > 0 && s.kind == OffcutOut && out[n-1].kind == OffcutOut && s.first.Size == out[n-1].first.Size && s.count == out[n-1].count {
			out[n-1].also = append(out[n-1].also, s.name)
			continue
		}
		out = append(out, s)
	}
	return out
}

// fabricWords tells how many of a thing are of which fabric.
func (s *sum) fabricWords() string {
	if len(s.fabrics) == 1 {
		return s.fabrics[0]
	}
	words := make([]string, len(s.fabrics))
	for i, f := range s.fabrics {
		words[i] = fmt.Sprintf("%s of %s", thousands(int64(s.of[f])), f)
	}
	return list(words)
}

// sayOutputs words what comes off, one entry for each thing. The fabric of a
// piece is told if the step has several, that of parts if they part ways.
func (st *Step) sayOutputs(list []Output) []string {
	single := !slices.ContainsFunc(st.From, func(f Source) bool { return f.Fabric != st.From[0].Fabric })
	all := sameOffcuts(sums(list))
	forks := 0
	for _, s := range all {
		if s.kind == PartOut {
			forks++
		}
	}
	var out []string
	for _, s := range all {
		out = append(out, st.sayThing(s, single, forks > 1))
	}
	return out
}

func (st *Step) sayThing(s *sum, single, forks bool) string {
	n := thousands(int64(s.count))
	switch s.kind {
	case PieceOut:
		words := fmt.Sprintf("%s %s to pile %s", n, s.name, s.name)
		if !single {
			words += ", " + s.fabric
		}
		return words
	case OffcutOut:
		size := sizeSaid(s.first.Size, st.unit)
		if len(s.also) > 0 {
			size += " each"
		}
		labels := list(append([]string{s.name}, s.also...))
		if s.count > 1 {
			return fmt.Sprintf("keep %s of %s (%s)", n, labels, size)
		}
		return fmt.Sprintf("keep %s (%s)", labels, size)
	case WasteOut:
		return "waste"
	}
	switch {
	case s.first.Letter == "" && forks:
		return fmt.Sprintf("%s, cut on in step %d", numbersOf(s.sheets), s.next)
	case s.first.Letter == "":
		return fmt.Sprintf("cut on in step %d", s.next)
	case forks && !single:
		return fmt.Sprintf("%s (%s), cut in step %d", severalParts(s.count, s.name), s.fabricWords(), s.next)
	}
	return fmt.Sprintf("%s, cut in step %d", severalParts(s.count, s.name), s.next)
}
