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

// Sized is a number of equal pieces.
type Sized struct {
	Size  units.Size
	Count int
}

// mostCopies is the most equal pieces a row can hold.
const mostCopies = 10_000

// ParseCloth reads a line like "navy dot: 5 x 7, 6 x 9 x3": a fabric, then its
// pieces, each with how many there are unless it is one. Sizes that are not exact
// are rounded down. A comma needs a blank after it: without one it is decimal.
func ParseCloth(s string, u units.Unit) (Cloth, error) {
	const form = `write one like "navy dot: 5 x 7, 6 x 9 x3"`
	at := strings.LastIndex(s, ":")
	if at < 0 {
		return Cloth{}, fmt.Errorf("%.60q has no colon after the fabric: %s", s, form)
	}
	c := Cloth{Fabric: strings.Join(strings.Fields(s[:at]), " ")}
	if c.Fabric == "" {
		return Cloth{}, fmt.Errorf("%.60q names no fabric: %s", s, form)
	}
	list := strings.NewReplacer(", ", ";", ",\t", ";").Replace(strings.TrimSpace(s[at+1:]))
	for item := range strings.SplitSeq(strings.TrimRight(list, ",; "), ";") {
		p, err := parseSized(strings.TrimSpace(item), u)
		if err != nil {
			return Cloth{}, err
		}
		c.Sizes = append(c.Sizes, p)
	}
	return c, nil
}

func parseSized(s string, u units.Unit) (Sized, error) {
	p := Sized{Count: 1}
	parts := strings.Split(strings.NewReplacer("X", "x", "×", "x").Replace(s), "x")
	if len(parts) == 3 {
		word := strings.TrimSpace(parts[2])
		n := 0
		for _, r := range word {
			if r < '0' || r > '9' || n > mostCopies {
				n = -1
				break
			}
			n = n*10 + int(r-'0')
		}
		if word == "" || n < 1 || n > mostCopies {
			return p, fmt.Errorf("cannot read %q in %.60q as how many: write a whole number from 1 to %d, like 6 x 9 x3", word, s, mostCopies)
		}
		p.Count, parts = n, parts[:2]
	}
	var err error
	p.Size, err = units.ParseSizeRounded(strings.Join(parts, "x"), u, units.Down)
	if err == nil && (p.Size.Along == 0 || p.Size.Across == 0) {
		err = fmt.Errorf("size %q has a side of 0", s)
	}
	return p, err
}

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
					ID: tag.ID, Fabric: c.Fabric, Size: p.Size, Count: p.Count, Squared: tag.Squared, Where: tag.Where, Note: tag.Note,
				}))
			}
		}
		e.Edits, e.Named, err = d.edits()
		return e, err
	})
}
