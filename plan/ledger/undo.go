package ledger

import (
	"context"
	"fmt"
	"slices"

	"pinfold/plan"
)

// Undo takes the last change back that has not been taken back yet, and returns
// the entry of doing so with the change it undid. It gives the very same file back
// that the change found, and refuses where the file is no longer the one the change
// left: then somebody has changed it by hand, and that would be lost.
func (b *Book) Undo(ctx context.Context) (e, undone *Entry, err error) {
	e, err = b.change(ctx, false, func(s state) (*Entry, error) {
		live := standing(s.past.entries)
		if len(live) == 0 {
			return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown}, Msg: "there is nothing to undo", Hint: "only what pinfold changed can be undone"}}
		}
		last := live[len(live)-1]
		if s.hash != last.After {
			return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown},
				Msg:  fmt.Sprintf("is not as change %d left it: it was changed by hand since, and undoing would lose that", last.N),
				Hint: "take the change back by hand, it " + last.Words()}}
		}
		edits := reverse(last.Edits)
		before, err := forward(s.data, edits)
		if err != nil || hash(before) != last.Before {
			return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown + ".history", Line: s.past.line(last.N), Col: 1}, Msg: errHistory.Error(), Hint: "take the change back by hand, it " + last.Words()}}
		}
		undone = &last
		back := slices.Clone(last.Took)
		for i := range back {
			back[i].Left = 0 // of then
		}
		return &Entry{What: Undo, Undoes: last.N, Took: last.Put, Put: back, Edits: edits}, nil
	})
	return e, undone, err
}

// Words says in one line what a change did.
func (e *Entry) Words() string {
	s := ""
	for _, side := range []struct {
		verb  string
		moved []Moved
	}{{"took out", e.Took}, {"put in", e.Put}} {
		for i, m := range side.moved {
			switch {
			case i == 0 && s != "":
				s += " and " + side.verb + " "
			case i == 0:
				s = side.verb + " "
			default:
				s += ", "
			}
			s += fmt.Sprintf("%q (%s, %s)", m.ID, m.Fabric, m.Size)
			if m.Count > 1 {
				s += fmt.Sprintf(" x%d", m.Count)
			}
		}
	}
	if s == "" {
		return "changed no piece"
	}
	return s
}
