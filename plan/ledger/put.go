package ledger

import (
	"context"
	"fmt"
	"strings"

	"pinfold/plan"
	"pinfold/units"
)

// Cloth is what [Book.Put] puts in: pieces of one fabric.
type Cloth struct {
	Fabric string
	Sizes  []Sized
}

// Sized is a number of equal pieces, with what cannot be used of each.
type Sized struct {
	Size  units.Size
	Count int
	Bad   []plan.Bad
}

// ParseCloth reads a line like "navy dot: 5 x 7, 6 x 9 less 2 x 2 corner x3": a
// fabric, then its pieces, each as [plan.ParseScrap] reads it. A comma needs a blank
// after it: without one it is decimal.
func ParseCloth(s string, u units.Unit) (Cloth, error) {
	const form = `write one like "navy dot: 5 x 7, 6 x 9 x3"`
	at := strings.LastIndex(s, ":")
	if at < 0 {
		return Cloth{}, fmt.Errorf("%.60q has no colon after the fabric: %s", s, form)
	}
	c := Cloth{Fabric: plan.Name(strings.Join(strings.Fields(s[:at]), " "))}
	if c.Fabric == "" {
		return Cloth{}, fmt.Errorf("%.60q names no fabric: %s", s, form)
	}
	list := strings.NewReplacer(", ", ";", ",\t", ";").Replace(strings.TrimSpace(s[at+1:]))
	for item := range strings.SplitSeq(strings.TrimRight(list, ",; "), ";") {
		item = strings.TrimSpace(item)
		p, err := plan.ParseScrap(item, u)
		switch {
		case err != nil:
			return Cloth{}, err
		case several(item, u):
			return Cloth{}, fmt.Errorf("%.60q may be one size with a decimal comma or several sizes: write a blank behind a comma between sizes, and a point in a number", item)
		}
		c.Sizes = append(c.Sizes, Sized{Size: p.Size, Count: p.Count, Bad: p.Bad})
	}
	return c, nil
}

// several tells whether a text is a list of sizes as well, if its commas without a
// blank are no decimal ones: "5x7,6x9" is nine of 5 x 7.6, or 5 x 7 and 6 x 9.
func several(item string, u units.Unit) bool {
	parts := strings.Split(item, ",")
	for _, part := range parts {
		if _, err := plan.ParseScrap(part, u); err != nil {
			return false
		}
	}
	return len(parts) > 1
}

// mostCopies is the most equal pieces a row can hold.
const mostCopies = 10_000

// Tag is what is noted of cloth that is put in; all of it may be missing.
type Tag struct {
	ID          string
	Squared     bool
	Where, Note string
}

// Put puts cloth in, a row for each size. The file is begun if it is not there.
func (b *Book) Put(ctx context.Context, cloth []Cloth, tag Tag) (*Entry, error) {
	return b.change(ctx, true, func(s state) (*Entry, error) {
		d, err := b.draft(s)
		if err != nil {
			return nil, err
		}
		if i := d.find(tag.ID); i >= 0 {
			return nil, plan.Errors{{Pos: d.table.Pieces[i].At, Msg: fmt.Sprintf("id %q is taken", tag.ID), Hint: "write another --id, or none to have one made up"}}
		}
		e := &Entry{What: Put}
		for _, c := range cloth {
			for _, p := range c.Sizes {
				e.Put = append(e.Put, d.add(plan.StashPiece{
					ID: tag.ID, Fabric: c.Fabric, Size: p.Size, Count: p.Count, Bad: p.Bad, Squared: tag.Squared, Where: tag.Where, Note: tag.Note,
				}))
			}
		}
		e.Edits, e.Named, err = d.edits()
		return e, err
	})
}
