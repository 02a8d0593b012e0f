package reports

import (
	"fmt"
	"slices"

	"pinfold/plan"
	"pinfold/units"
)

// bagGroup is bags with the same pieces for the same ornament, whichever order
// they are for.
type bagGroup struct {
	ornament *plan.Ornament
	colours  string // the colourway
	count    int
	bag      plan.Bag
}

// groupBags puts equal bags together, in the order in which they come.
func groupBags(p *plan.Plan, bags []plan.Bag) []bagGroup {
	var out []bagGroup
	at := map[string]int{}
	for _, b := range bags {
		o := p.Ornament(p.Make[b.Order].Ornament)
		key := fmt.Sprintf("%q %+q", o.Name, fmt.Sprint(b.Parts))
		if i, ok := at[key]; ok {
			out[i].count += b.Count
			continue
		}
		at[key] = len(out)
		out = append(out, bagGroup{o, colourway(b), b.Count, b})
	}
	return out
}

// groupTitle is "harbour star: 3 bags", or "harbour star, kind 2 of 3: 3 bags"
// where its bags differ; a name too long for the line is shortened.
func (b *book) groupTitle(g bagGroup, kinds kinds) string {
	f := Font{Size: 12 * point, Bold: true}
	after := ": " + counted(g.count, "bag")
	if n := kinds.of[g.ornament]; n > 1 {
		kinds.told[g.ornament]++
		after = fmt.Sprintf(", kind %d of %d%s", kinds.told[g.ornament], n, after)
	}
	return fit(b.say(plain(g.ornament.Name)), f, b.width()-f.width(after)) + after
}

// kinds counts the kinds of bags of each ornament, and how many are told.
type kinds struct{ of, told map[*plan.Ornament]int }

func countKinds(groups []bagGroup) kinds {
	k := kinds{map[*plan.Ornament]int{}, map[*plan.Ornament]int{}}
	for _, g := range groups {
		k.of[g.ornament]++
	}
	return k
}

// sorting sets which pieces go into which bag.
func (b *book) sorting(groups []bagGroup) {
	b.chapter("Sorting into bags")
	bags, pieces := 0, 0
	for _, g := range groups {
		bags += g.count
		for _, q := range g.bag.Parts {
			pieces += q.Each * g.count
		}
	}
	f := Font{Size: 10 * point, Colour: soft}
	b.paragraph(fmt.Sprintf("One bag for each ornament: %s for %s. Lay out the piles by letter and fabric, deal them into the bags line by line, and tick each line off.",
		counted(bags, "bag"), counted(pieces, "piece")), f)
	text, number := body(Start), strong(End)
	letter := strong(Start)
	letter.Size = 12 * point
	cols := []column{
		{share: 4, tick: true},
		{head: "round", share: 21, font: text, lines: 2},
		{head: "piece", share: 7, font: letter},
		{head: "size", share: 18, font: text, lines: 2},
		{head: "fabric", share: 26, font: strong(Start), lines: 3},
		{head: "in each bag", share: 12, font: number},
		{head: "in all", share: 12, font: body(End)},
	}
	kinds := countKinds(groups)
	for _, g := range groups {
		var rows [][]string
		for _, q := range g.bag.Parts {
			rows = append(rows, []string{"", b.say(roundOf(q)), q.ID, vulgarSize(q.Size, b.r.Unit) + unitAfter(q.Size, b.r.Unit),
				b.say(plain(q.Fabric)), thousands(int64(q.Each)), thousands(int64(q.Each) * int64(g.count))})
		}
		colours := wrap(b.say(g.colours), f, b.width(), 2)
		follows := units.Length(len(colours))*f.Size*13/10 + b.tableHeight(cols, rows)
		if follows > b.paper.H/2 {
			follows = 90 * point // it breaks somewhere in any case
		}
		b.heading(b.groupTitle(g, kinds), follows)
		for _, l := range colours {
			b.line(l, f)
		}
		b.table(cols, rows)
	}
	b.spares()
}

// roundOf names the round of a part, with its role where that says more.
func roundOf(q plan.BagPart) string {
	if q.Piece == q.Role {
		return plain(q.Piece)
	}
	return fmt.Sprintf("%s (%s)", plain(q.Piece), plain(q.Role))
}

// spares says what is over when all bags are full.
func (b *book) spares() {
	var lines []string
	for _, f := range b.r.Fabrics {
		var parts []string
		for _, t := range f.Tally {
			if n := t.Spare - t.Missing; n > 0 {
				parts = append(parts, fmt.Sprintf("%s %s", thousands(int64(n)), t.Letter))
			}
		}
		if len(parts) > 0 {
			lines = append(lines, fmt.Sprintf("%s: %s", f.Name, list(parts)))
		}
	}
	if len(lines) == 0 {
		b.y += 8 * point
		b.paragraph("The plan has no spares: every pile must come out even.", body(Start))
		return
	}
	b.notes("Spares, in a bag of their own", slices.Concat(lines, []string{"They replace a piece that was cut wrong or got lost, and say so if a pile does not come out even."}))
}
