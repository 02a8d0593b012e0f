package reports

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// left is offcuts of one size and fabric.
type left struct {
	size   units.Size
	count  int
	labels []string // "K3", or "K3 (2 of them)" where a sheet is cut twice
	sheets []string
}

// leftOf lists the offcuts of one fabric's sheets, the largest first.
func leftOf(sheets []Sheet) []left {
	var out []left
	for i := range sheets {
		s := &sheets[i]
		for _, o := range s.Offcuts {
			at := slices.IndexFunc(out, func(l left) bool { return l.size == o.Size() })
			if at < 0 {
				at = len(out)
				out = append(out, left{size: o.Size()})
			}
			l := &out[at]
			l.count += s.Copies
			label, from := o.Label, fmt.Sprintf("sheet %d, %s", s.Number, s.Cloth)
			if s.Copies > 1 {
				label += fmt.Sprintf(" (× %d)", s.Copies)
			}
			l.labels = append(l.labels, label)
			if !slices.Contains(l.sheets, from) {
				l.sheets = append(l.sheets, from)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b left) int {
		switch x, y := a.size.Area(), b.size.Area(); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// strippedDown says in what widths offcuts are kept, if the plan does.
func (b *book) strippedDown() string {
	var widths []string
	for _, w := range b.r.result.Plan.Cutting.KeepSizes {
		widths = append(widths, typeset(w.Format(b.r.Unit)))
	}
	if len(widths) == 0 {
		return ""
	}
	return fmt.Sprintf(" Cut it into strips of %s, the widest first and as long as it is: so pinfold done puts it into the stash.",
		list(widths))
}

// leftovers sets what is left of each fabric when all is cut.
func (b *book) leftovers() {
	b.chapter("What will be left")
	f := Font{Size: 10 * point, Colour: soft}
	keep := b.r.result.Plan.Cutting.Keep
	b.paragraph(fmt.Sprintf("Offcuts of at least %s are worth keeping in this plan. Write the label on a slip and pin it to the cloth as it comes off.",
		typeset(keep.Format(b.r.Unit)))+b.strippedDown(), f)
	large := strong(Start)
	large.Size = 11 * point
	cols := []column{
		{share: 4, tick: true},
		{head: "", share: 8, font: strong(End)},
		{head: "along × across, in " + unitName(b.r.Unit), share: 24, font: large, lines: 2},
		{head: "label", share: 24, font: body(Start), lines: 6},
		{head: "from", share: 40, font: body(Start), lines: 6},
	}
	var none []string
	first := 0
	for _, fabric := range b.r.Fabrics {
		all := leftOf(b.r.Sheets[first : first+fabric.layouts])
		first += fabric.layouts
		if len(all) == 0 {
			none = append(none, b.say(fabric.Name))
			continue
		}
		n := 0
		rows := make([][]string, len(all))
		for i, l := range all {
			n += l.count
			rows[i] = []string{"", thousands(int64(l.count)) + " ×", roughSize(l.size, b.r.Unit),
				strings.Join(l.labels, ", "), typeset(b.say(strings.Join(l.sheets, "; ")))}
		}
		head := Font{Size: 12 * point, Bold: true}
		b.heading(fit(b.say(fabric.Name)+": "+counted(n, "offcut"), head, b.width()), min(b.tableHeight(cols, rows), 100*point))
		b.table(cols, rows)
	}
	if len(none) > 0 {
		b.y += 8 * point
		b.paragraph("Nothing worth keeping is left of "+list(none)+".", body(Start))
	}
}
