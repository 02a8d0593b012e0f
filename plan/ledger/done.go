package ledger

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"pinfold/plan"
	"pinfold/units"
)

// Session is a result as the stash sees it, once it is cut.
type Session struct {
	Result string // its hash
	Title  string
	Unit   units.Unit
	Widths []units.Length // to which offcuts are trimmed, widest first
	Keep   units.Size
	Sheets []Sheet
}

// Sheet is one layout of a session, cut Copies times.
type Sheet struct {
	Number int
	Fabric string
	Piece  string     // the stash piece it is cut from; "" for bought cloth
	Cloth  string     // what was bought, in words
	Size   units.Size // of the cloth, before squaring
	Copies int
	// Whole is set when nothing is cut from it.
	Whole   bool
	Kerf    units.Length
	Offcuts []units.Size
}

// Progress says how far a session has come.
type Progress struct {
	// Cut is how many copies of each sheet have been cut in all, by number; nil
	// when everything has been.
	Cut map[int]int
	// Over is set when nothing more will be cut: cloth that was bought for the
	// other sheets goes into the stash as it is.
	Over bool
	// Again is set when everything was bought and cut once more.
	Again bool
}

// Done books what has been cut: stash pieces go out, offcuts come in. Progress says
// how far things are, not what was added to it, so that saying it twice changes
// nothing; then it returns nil. A session that does not fit the stash is refused,
// with everything that does not.
func (b *Book) Done(ctx context.Context, s Session, p Progress) (*Entry, error) {
	uses := slices.ContainsFunc(s.Sheets, func(sh Sheet) bool { return sh.Piece != "" })
	return b.change(ctx, !uses, func(st state) (*Entry, error) {
		e := &Entry{What: Done, Result: s.Result, Title: s.Title, Again: p.Again}
		before := map[int]int{}
		if !p.Again {
			before = booked(standing(st.past.entries), s.Result)
		}
		for _, sh := range s.Sheets {
			upTo := sh.Copies
			if p.Cut != nil {
				upTo = p.Cut[sh.Number]
			}
			was := before[sh.Number]
			if n := upTo - was; n > 0 {
				e.Cut = append(e.Cut, Booked{Sheet: sh.Number, Copies: n})
				was = upTo
			}
			if n := sh.Copies - was; n > 0 && p.Over && sh.Piece == "" {
				e.Cut = append(e.Cut, Booked{Sheet: sh.Number, Copies: n, Uncut: true})
			}
		}
		if len(e.Cut) == 0 {
			return nil, nil
		}
		d, err := b.draft(st)
		if err != nil {
			return nil, err
		}
		if err := d.takeOut(s, e); err != nil {
			return nil, err
		}
		d.putIn(s, e)
		e.Edits, e.Named, err = d.edits()
		return e, err
	})
}

// Booked returns how many copies of each sheet of a result have been booked.
func (b *Book) Booked(result string) (map[int]int, error) {
	entries, err := b.History()
	return booked(standing(entries), result), err
}

func booked(entries []Entry, result string) map[int]int {
	out := map[int]int{}
	for _, e := range entries {
		if e.Result != result {
			continue
		}
		if e.Again {
			clear(out)
		}
		for _, c := range e.Cut {
			out[c.Sheet] += c.Copies
		}
	}
	return out
}

// sheet returns the sheet of a number, which is there.
func (s *Session) sheet(number int) *Sheet {
	i := slices.IndexFunc(s.Sheets, func(sh Sheet) bool { return sh.Number == number })
	return &s.Sheets[i]
}

// takeOut takes the cloth out that was cut, or says why it cannot be.
func (d *draft) takeOut(s Session, e *Entry) error {
	type used struct {
		sheet  *Sheet
		copies int
	}
	var pieces []used
	for _, c := range e.Cut {
		sh := s.sheet(c.Sheet)
		if sh.Piece == "" || sh.Whole {
			continue
		}
		i := slices.IndexFunc(pieces, func(u used) bool { return u.sheet.Piece == sh.Piece && u.sheet.Fabric == sh.Fabric })
		if i < 0 {
			i, pieces = len(pieces), append(pieces, used{sheet: sh})
		}
		pieces[i].copies += c.Copies
	}
	var faults plan.Errors
	for _, u := range pieces {
		row := d.find(u.sheet.Piece)
		if row < 0 {
			faults = append(faults, plan.Fault{Pos: plan.Pos{File: d.shown}, Hint: "the result is of another stash, or the piece was taken out before",
				Msg: fmt.Sprintf("piece %q, from which sheet %d is cut, is gone", u.sheet.Piece, u.sheet.Number)})
			continue
		}
		p := d.table.Pieces[row]
		fault := func(hint, format string, args ...any) {
			faults = append(faults, plan.Fault{Pos: p.At, Msg: fmt.Sprintf("piece %q ", p.ID) + fmt.Sprintf(format, args...), Hint: hint})
		}
		switch {
		case p.Fabric != u.sheet.Fabric:
			fault("the result is of another stash", "is of fabric %q, sheet %d is cut from %q", p.Fabric, u.sheet.Number, u.sheet.Fabric)
		case p.Size != u.sheet.Size:
			fault("the result is of another piece, or the row was changed since", "is %s, sheet %d is cut from %s", p.Size.Format(d.unit), u.sheet.Number, u.sheet.Size.Format(d.unit))
		case p.Count < u.copies:
			fault("some were taken out before", "is there %s, the result cuts %s", times(p.Count), times(u.copies))
		default:
			e.Took = append(e.Took, d.take(row, u.copies))
		}
	}
	if len(faults) > 0 {
		slices.SortStableFunc(faults, func(a, b plan.Fault) int { return cmp.Compare(a.Line, b.Line) })
		return faults
	}
	return nil
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// putIn puts the offcuts in, and bought cloth that was not cut.
func (d *draft) putIn(s Session, e *Entry) {
	for _, c := range e.Cut {
		sh := s.sheet(c.Sheet)
		from := sh.Piece
		if from == "" {
			from = "bought " + sh.Cloth
		}
		where := fmt.Sprintf("sheet %d of %s", sh.Number, s.Title)
		if c.Uncut || sh.Whole {
			if sh.Piece == "" {
				e.Put = append(e.Put, d.add(plan.StashPiece{
					Fabric: sh.Fabric, Size: rounded(sh.Size, s.Unit), Count: c.Copies, Note: d.note("not cut: "+from, where, sh.Number),
				}))
			}
			continue
		}
		trim := Trim{Widths: s.Widths, Keep: s.Keep, Kerf: sh.Kerf}
		var kept []Kept
		for _, o := range sh.Offcuts {
			for _, k := range trim.Apply(o, s.Unit) {
				if i := slices.IndexFunc(kept, func(q Kept) bool { return q.Size == k.Size }); i >= 0 {
					kept[i].Count += k.Count
				} else {
					kept = append(kept, k)
				}
			}
		}
		for _, k := range kept {
			for left := k.Count * c.Copies; left > 0; left -= mostCopies {
				e.Put = append(e.Put, d.add(plan.StashPiece{
					Fabric: sh.Fabric, Size: k.Size, Count: min(left, mostCopies), Squared: true, Note: d.note("offcut of "+from, where, sh.Number),
				}))
			}
		}
	}
}

// note says where cloth came from, in names of the user's own, which must not read
// as the wish to keep the cloth whole.
func (d *draft) note(from, where string, sheet int) string {
	for _, n := range []string{from + ", " + where, from} {
		if p := (plan.StashPiece{Note: n}); !p.KeptWhole() {
			return n
		}
	}
	return fmt.Sprintf("from sheet %d", sheet)
}
