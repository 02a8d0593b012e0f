package ledger

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"pinfold/plan"
)

// HistorySchema names the version of the history, which its first line says. A
// history that begins with a change was begun before the versions were written
// down; it is of this one, and stays without.
const HistorySchema = "pinfold/history/1"

// heading is the first line of a history.
type heading struct {
	Schema string `json:"schema"`
}

// Entry is one change of a stash, as it stands in the history.
type Entry struct {
	N    int    `json:"n"`    // counted from 1
	Time string `json:"time"` // when, in UTC
	What Kind   `json:"what"`
	// Took and Put are the pieces that went out and came in. Named lists the ids
	// that were written down for pieces without one.
	Took  []Moved  `json:"took,omitempty"`
	Put   []Moved  `json:"put,omitempty"`
	Named []string `json:"named,omitempty"`
	// Result is the hash of the result whose cutting was booked, Title the plan's,
	// Cut what was booked of it. Again is set when all of it was begun once more.
	Result string   `json:"result,omitempty"`
	Title  string   `json:"title,omitempty"`
	Cut    []Booked `json:"cut,omitempty"`
	Again  bool     `json:"again,omitempty"`
	// Undoes is the number of the change that was undone.
	Undoes int `json:"undoes,omitempty"`
	// Before and After are hashes of the file, Edits lead from one to the other.
	Before string `json:"before"`
	After  string `json:"after"`
	Edits  []Edit `json:"edits"`
	// Temp is the name the new file had until it took the old one's place.
	Temp string `json:"temp,omitempty"`
}

// Kind says what a change was.
type Kind string

// The kinds of changes.
const (
	Put  Kind = "put"
	Take Kind = "take"
	Done Kind = "done"
	Undo Kind = "undo"
	Over Kind = "import" // taken over from a sheet
)

// Moved is cloth that went in or out.
type Moved struct {
	ID     string `json:"id"`
	Fabric string `json:"fabric"`
	Size   string `json:"size"`
	Count  int    `json:"count"`
	Left   int    `json:"left,omitempty"` // of the same row, afterwards
	Note   string `json:"note,omitempty"`
}

// Booked is a number of copies of a result's sheet.
type Booked struct {
	Sheet  int  `json:"sheet"`
	Copies int  `json:"copies"`
	Uncut  bool `json:"uncut,omitempty"` // put into the stash as it was bought
}

// Edit puts New in the place of Old at byte At of the file before.
type Edit struct {
	At  int    `json:"at"`
	Old string `json:"old"`
	New string `json:"new"`
}

// errHistory is the fault of a history that does not fit together.
var errHistory = errors.New("the history does not fit the stash it belongs to")

// forward makes the edits, which do not overlap and go by position.
func forward(data []byte, edits []Edit) ([]byte, error) {
	var out []byte
	at := 0
	for _, e := range edits {
		if e.At < at || e.At > len(data)-len(e.Old) || string(data[e.At:e.At+len(e.Old)]) != e.Old {
			return nil, errHistory
		}
		out = append(append(out, data[at:e.At]...), e.New...)
		at = e.At + len(e.Old)
	}
	return append(out, data[at:]...), nil
}

// reverse returns the edits that take edits back.
func reverse(edits []Edit) []Edit {
	out := make([]Edit, len(edits))
	shift := 0
	for i, e := range edits {
		out[i] = Edit{e.At + shift, e.New, e.Old}
		shift += len(e.New) - len(e.Old)
	}
	return out
}

func hash(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

func (b *Book) historyPath() string { return b.path + ".history" }

// history is what a history file says.
type history struct {
	entries []Entry
	headed  bool  // it says its version
	size    int64 // in bytes, up to the last entry
	torn    bool  // more follows, of a change that was never made
}

// line is where a change stands, counted from 1.
func (h *history) line(n int) int {
	if h.headed {
		n++
	}
	return n
}

// readHistory reads the history of a stash whose content has that hash. A last
// change that was never made is left out.
func (b *Book) readHistory(now string) (history, error) {
	var h history
	data, err := os.ReadFile(b.historyPath())
	if errors.Is(err, fs.ErrNotExist) {
		return h, nil
	}
	if err != nil {
		return h, b.fault(err)
	}
	var last int64
	for line := range bytes.Lines(data) {
		if !bytes.HasSuffix(line, []byte("\n")) {
			h.torn = true
			break
		}
		var first heading
		if h.size == 0 && json.Unmarshal(line, &first) == nil && first.Schema != "" {
			if first.Schema != HistorySchema {
				return h, plan.Errors{{Pos: plan.Pos{File: b.Shown + ".history", Line: 1, Col: 1},
					Msg:  fmt.Sprintf("this history is %.40q, and this program knows %q", first.Schema, HistorySchema),
					Hint: "use the newer program that wrote it, or move the file away to begin a new history"}}
			}
			h.headed, h.size = true, int64(len(line))
			continue
		}
		var e Entry
		if err := json.Unmarshal(line, &e); err != nil || e.N != len(h.entries)+1 {
			return h, plan.Errors{{Pos: plan.Pos{File: b.Shown + ".history", Line: h.line(len(h.entries) + 1), Col: 1},
				Msg: "this line is not as the program wrote it", Hint: "put the file back as it was, or move it away to begin a new history"}}
		}
		last = h.size
		h.size += int64(len(line))
		h.entries = append(h.entries, e)
	}
	if n := len(h.entries); n > 0 {
		e := h.entries[n-1]
		if e.Temp != "" && e.Temp == filepath.Base(e.Temp) && e.After != now {
			if _, err := os.Lstat(filepath.Join(filepath.Dir(b.path), e.Temp)); err == nil {
				h.entries, h.size, h.torn = h.entries[:n-1], last, true
			}
		}
	}
	return h, nil
}

// History returns the changes, first to last. It changes nothing and may be asked
// at any time.
func (b *Book) History() ([]Entry, error) {
	data, err := os.ReadFile(b.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, b.fault(err)
	}
	h, err := b.readHistory(hash(data))
	return h.entries, err
}

// add adds a change to the history, flushed. If that fails the history is as it
// was.
func (b *Book) add(s state, e *Entry) error {
	var lines bytes.Buffer
	out := json.NewEncoder(&lines)
	if s.past.size == 0 {
		if err := out.Encode(heading{HistorySchema}); err != nil {
			return err
		}
	}
	if err := out.Encode(e); err != nil {
		return err
	}
	f, err := os.OpenFile(b.historyPath(), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(lines.Bytes())
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, b.cut(s.past.size))
	}
	return syncFolder(b.path)
}

// cut takes the history back to a size.
func (b *Book) cut(size int64) error {
	f, err := os.OpenFile(b.historyPath(), os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err = f.Truncate(size); err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// standing returns the changes that have not been undone.
func standing(entries []Entry) []Entry {
	var out []Entry
	for _, e := range entries {
		if e.What != Undo {
			out = append(out, e)
			continue
		}
		if n := len(out); n > 0 && out[n-1].N == e.Undoes {
			out = slices.Delete(out, n-1, n)
		}
	}
	return out
}
