package reports

import (
	"fmt"
	"slices"
	"strings"
)

// pieces sets the chapter that counts what is cut from what.
func (b *book) pieces() {
	b.shortChapter("All pieces", func(b *book) {
		b.tally()
		b.glance()
	})
}

// glance compares the fabrics and says how good each answer is.
func (b *book) glance() {
	if len(b.r.Fabrics) == 0 {
		return
	}
	b.heading("How the cloth is used", 44*point)
	rows := make([][]string, len(b.r.Fabrics))
	for i, f := range b.r.Fabrics {
		rows[i] = []string{
			b.say(f.Name), fmt.Sprint(f.Sheets), fmt.Sprintf("%.1f%%", f.Use), fmt.Sprintf("%.1f%%", f.Kept),
			fmt.Sprintf("%.1f%%", f.Waste), thousands(int64(f.Passes)), b.say(f.Standing),
		}
	}
	b.table([]column{
		{head: "fabric", share: 20, font: strong(Start), lines: 3},
		{head: "sheets", share: 8, font: body(End)},
		{head: "used", share: 9, font: body(End)},
		{head: "kept", share: 9, font: body(End)},
		{head: "waste", share: 9, font: body(End)},
		{head: "passes", share: 9, font: body(End)},
		{head: "how good it is", share: 36, font: body(Start), lines: 4},
	}, rows)
	b.y += 4 * point
	f := body(Start)
	f.Colour = soft
	b.paragraph(fmt.Sprintf("%s on %s; %s in all, each fabric's counted alone. Used, kept and waste are parts of all cloth cut into, before squaring.",
		counted(len(b.r.Sheets), "layout"), counted(b.r.sheetCount(), "sheet"), passes(b.r.Passes)), f)
}

// tally lists all pieces by fabric and letter.
func (b *book) tally() {
	if len(b.r.Fabrics) == 0 {
		return
	}
	b.heading("Pieces", 60*point)
	for i, f := range b.r.Fabrics {
		if i > 0 {
			b.y += 8 * point
		}
		rows := make([][]string, len(f.Tally))
		for j, t := range f.Tally {
			total := thousands(int64(t.Total()))
			if t.Missing > 0 {
				total += fmt.Sprintf(" (%d missing)", t.Missing)
			}
			rows[j] = []string{
				b.say(t.Letter), vulgarSize(t.Size, b.r.Unit) + unitAfter(t.Size, b.r.Unit), thousands(int64(t.Count)), thousands(int64(t.Spare)),
				total, b.say(t.Uses), t.Sheets(),
			}
		}
		cols := []column{
			{head: "", share: 5, font: strong(Start)},
			{head: "size", share: 16, font: strong(Start), lines: 2},
			{head: "needed", share: 9, font: body(End)},
			{head: "spare", share: 8, font: body(End)},
			{head: "to cut", share: 10, font: strong(End), lines: 2},
			{head: "for", share: 30, font: body(Start), lines: 6},
			{head: "from sheet (pieces)", share: 22, font: body(Start), lines: 8},
		}
		if slices.ContainsFunc(rows, func(row []string) bool { return len(row[6]) > 120 }) {
			// Pieces of many scraps: their list needs the room.
			cols[5].share, cols[6].share, cols[6].lines = 18, 34, 24
		}
		name := strong(Start)
		name.Size = 10 * point
		// The name stays with the first two rows.
		b.need(20*point + b.tableHeight(cols, rows[:min(len(rows), 2)]))
		turn := map[bool]string{true: "  may be turned", false: "  not turned"}[f.Direction == 0]
		b.y += name.Size + 2*point
		label := fit(b.say(f.Name), name, b.width()*7/10)
		b.page().text(b.left(), b.y, label, name)
		b.page().text(b.left()+name.width(label), b.y, turn, Font{Size: 8 * point, Colour: soft})
		b.y += 4 * point
		b.table(cols, rows)
	}
	b.y += 4 * point
	f := body(Start)
	f.Colour = soft
	b.need(lead(f) * 4)
	b.paragraph("Sizes are written along the selvage × across.", f)
	b.paragraph("Cross-check: "+strings.Join(b.r.CrossCheck, "; ")+".", f)
}
