package ledger

import (
	"context"
	"fmt"

	"pinfold/plan"
)

// All as a count means every piece of a row.
const All = -1

// Take takes pieces out: count of those with the id, or [All] of them.
func (b *Book) Take(ctx context.Context, id string, count int) (*Entry, error) {
	return b.change(ctx, false, func(s state) (*Entry, error) {
		d, err := b.draft(s)
		if err != nil {
			return nil, err
		}
		i := d.find(id)
		if i < 0 {
			hint := "pinfold stash lists what there is"
			if near, ok := plan.Near(id, d.ids()); ok {
				hint = fmt.Sprintf("did you mean %q?", near)
			}
			return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown}, Msg: fmt.Sprintf("there is no piece %q", id), Hint: hint}}
		}
		p := d.table.Pieces[i]
		if count == All {
			count = p.Count
		}
		if count > p.Count {
			return nil, plan.Errors{{Pos: p.At, Msg: fmt.Sprintf("of %q there are %d, not %d", id, p.Count, count), Hint: "take fewer"}}
		}
		e := &Entry{What: Take, Took: []Moved{d.take(i, count)}}
		e.Edits, e.Named, err = d.edits()
		return e, err
	})
}
