package ledger

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"pinfold/plan"
)

// Import is a list of pieces that was kept elsewhere.
type Import struct {
	// Pieces go in as they are; one without an id gets one. At is told where
	// something is wrong.
	Pieces []plan.StashPiece
	// Replace makes them the whole stash: rows that are the same already stay, the
	// others go out.
	Replace bool
	// Renumber gives pieces whose id the stash has already another one.
	Renumber bool
}

// Imported is what an import did or would do.
type Imported struct {
	Entry      *Entry // nil if nothing changes
	Stayed     int    // rows that were the same already
	Renumbered []Renumbered
}

// Renumbered is a piece whose id was taken.
type Renumbered struct{ From, To string }

// Import puts the pieces in, in one change. The file is begun if it is not there.
func (b *Book) Import(ctx context.Context, in Import) (*Imported, error) {
	var out *Imported
	e, err := b.change(ctx, true, func(s state) (*Entry, error) {
		var err error
		if out, err = b.importing(s, in); err != nil {
			return nil, err
		}
		return out.Entry, nil
	})
	if err != nil {
		return nil, err
	}
	out.Entry = e
	return out, nil
}

// TryImport tells what [Book.Import] would do now, and changes nothing.
func (b *Book) TryImport(in Import) (*Imported, error) {
	data, err := os.ReadFile(b.path)
	if errors.Is(err, fs.ErrNotExist) {
		data, err = emptyStash(), nil
	}
	if err != nil {
		return nil, b.fault(err)
	}
	h, err := b.readHistory(hash(data))
	if err != nil {
		return nil, err
	}
	return b.importing(state{data: data, past: h}, in)
}

func emptyStash() []byte { return []byte(strings.Join(plan.StashColumns(), ",") + "\n") }

func (b *Book) importing(s state, in Import) (*Imported, error) {
	d, err := b.draft(s)
	if err != nil {
		return nil, err
	}
	rows := map[string]int{}
	for i, p := range d.table.Pieces {
		rows[p.ID] = i
	}
	out := &Imported{}
	e := &Entry{What: Over}
	stays := make([]bool, len(in.Pieces))
	if in.Replace {
		kept := map[int]bool{}
		for i, p := range in.Pieces {
			if row, ok := rows[p.ID]; ok && p.ID != "" && p.Same(d.table.Pieces[row]) {
				stays[i], kept[row] = true, true
			}
		}
		for i, p := range d.table.Pieces {
			if !kept[i] {
				e.Took = append(e.Took, d.take(i, p.Count))
				delete(rows, p.ID)
			}
		}
		out.Stayed = len(kept)
	}
	var faults plan.Errors
	for i, p := range in.Pieces {
		if _, taken := rows[p.ID]; taken && !stays[i] && p.ID != "" && !in.Renumber {
			faults = append(faults, plan.Fault{Pos: p.At, Msg: fmt.Sprintf("id %q is taken: the stash has a piece of that name", p.ID),
				Hint: "write another id or none, or import with --renumber to have another made up, or with --replace for the whole stash"})
		}
		d.used = append(d.used, p.ID)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	for i, p := range in.Pieces {
		if stays[i] {
			continue
		}
		from := p.ID
		if _, taken := rows[from]; taken {
			p.ID = ""
		}
		m := d.add(p)
		if from != "" && m.ID != from {
			out.Renumbered = append(out.Renumbered, Renumbered{from, m.ID})
		}
		e.Put = append(e.Put, m)
	}
	if len(e.Took)+len(e.Put) == 0 {
		return out, nil
	}
	if e.Edits, e.Named, err = d.edits(); err != nil {
		return nil, err
	}
	out.Entry = e
	return out, nil
}
