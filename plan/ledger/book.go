package ledger

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"time"

	"github.com/gofrs/flock"

	"pinfold/plan"
	"pinfold/units"
)

// Book is a stash file that is kept.
type Book struct {
	// Shown is the file's name in messages; Unit is how its bare numbers are read.
	Shown string
	Unit  units.Unit
	// Now tells the time that the history notes; nothing depends on it.
	Now func() time.Time

	path string // with symbolic links followed
}

// lockTime is how long a change waits for another program to finish its own.
const lockTime = 15 * time.Second

// Open names a stash file. The file need not be there yet. Of a symbolic link it
// is the file it leads to that is kept, so that the link stays one.
func Open(file string, u units.Unit) (*Book, error) {
	b := &Book{Shown: file, Unit: u, Now: time.Now}
	path, err := filepath.EvalSymlinks(file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if info, err := os.Lstat(file); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return nil, plan.Errors{{Pos: plan.Pos{File: file}, Msg: "is a link that leads nowhere", Hint: "mend the link, or write the name of a file"}}
		}
		path = file
	case err != nil:
		return nil, b.fault(err)
	}
	if b.path, err = filepath.Abs(path); err != nil {
		return nil, b.fault(err)
	}
	if info, err := os.Stat(b.path); err == nil && !info.Mode().IsRegular() {
		return nil, plan.Errors{{Pos: plan.Pos{File: file}, Msg: "is no file", Hint: "write the name of a file, such as " + filepath.Join(file, "stash.csv")}}
	}
	return b, nil
}

// Stash returns the pieces there are.
func (b *Book) Stash() ([]plan.StashPiece, error) {
	data, err := os.ReadFile(b.path)
	if err != nil {
		return nil, b.fault(err)
	}
	t, err := plan.ReadStash(b.Shown, data, b.Unit)
	if err != nil {
		return nil, err
	}
	return t.Pieces, nil
}

// fault is an error about the file as a whole.
func (b *Book) fault(err error) plan.Errors {
	f := plan.Fault{Pos: plan.Pos{File: b.Shown}}
	var p *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.Msg, f.Hint = "no such file", "write the name of a stash file; pinfold stash put starts one"
	case errors.Is(err, fs.ErrPermission):
		f.Msg, f.Hint = "may not be read or written", "change the permissions of the file and its folder"
	case errors.As(err, &p):
		f.Msg = "cannot be kept: " + p.Err.Error()
	default:
		f.Msg = "cannot be kept: " + err.Error()
	}
	return plan.Errors{f}
}

// lock holds the stash until the function it returns is called.
func (b *Book) lock(ctx context.Context) (unlock func(), err error) {
	l := flock.New(filepath.Join(filepath.Dir(b.path), "."+filepath.Base(b.path)+".lock"), flock.SetPermissions(0o666))
	limited, cancel := context.WithTimeout(ctx, lockTime)
	defer cancel()
	_, err = l.TryLockContext(limited, 5*time.Millisecond)
	switch {
	case err == nil:
		return func() { _ = l.Close() }, nil // the lock ends with the program anyway
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case limited.Err() != nil:
		return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown}, Msg: "another program has held the stash for too long", Hint: "wait for it to end, then try again"}}
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown}, Msg: fmt.Sprintf("cannot write into its folder: %v", err), Hint: "make the folder and make it writable, or move the stash to another one"}}
}

// state is what a change starts from.
type state struct {
	data []byte
	hash string
	past history
}

// change makes one change: decide draws it up from what there is. When it draws up
// none, or fails, nothing is changed. begin allows a stash file that is not there.
func (b *Book) change(ctx context.Context, begin bool, decide func(state) (*Entry, error)) (*Entry, error) {
	unlock, err := b.lock(ctx)
	if err != nil {
		return nil, err
	}
	defer unlock()
	s, err := b.repair()
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(b.path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && begin:
		header := emptyStash()
		if err := b.replace(header); err != nil {
			return nil, b.fault(err)
		}
		s.data, s.hash = header, hash(header)
	case err != nil:
		return nil, b.fault(err)
	case info.Mode().Perm()&0o222 == 0:
		return nil, plan.Errors{{Pos: plan.Pos{File: b.Shown}, Msg: "is marked as not to be written", Hint: "change its permissions first"}}
	}
	e, err := decide(s)
	if err != nil || e == nil {
		return nil, err
	}
	e.N, e.Time, e.Before = len(s.past.entries)+1, b.Now().UTC().Format(time.RFC3339), s.hash
	after, err := forward(s.data, e.Edits)
	if err != nil {
		return nil, err
	}
	e.After = hash(after)
	if err := b.commit(s, e, after); err != nil {
		return nil, b.fault(err)
	}
	return e, nil
}

// commit makes the change e, which leaves the content after.
func (b *Book) commit(s state, e *Entry, after []byte) error {
	if e.After == e.Before {
		return b.add(s, e)
	}
	t, err := b.pend(after)
	if err != nil {
		return err
	}
	e.Temp = filepath.Base(t.Name())
	if err := b.add(s, e); err != nil {
		return errors.Join(err, t.Cleanup())
	}
	if err := t.CloseAtomicallyReplace(); err != nil {
		// As long as the temporary file is there, the entry does not count.
		if cut := b.cut(s.past.size); cut != nil {
			return errors.Join(err, cut)
		}
		return errors.Join(err, t.Cleanup())
	}
	return syncFolder(b.path)
}

// replace gives the stash other content without a change in the history.
func (b *Book) replace(content []byte) error {
	t, err := b.pend(content)
	if err != nil {
		return err
	}
	if err := t.CloseAtomicallyReplace(); err != nil {
		return errors.Join(err, t.Cleanup())
	}
	return syncFolder(b.path)
}

// pend writes content beside the stash, flushed, to take its place.
func (b *Book) pend(content []byte) (pending, error) {
	t, err := newPending(b.path)
	if err != nil {
		return nil, err
	}
	if _, err = t.Write(content); err == nil {
		err = t.Sync()
	}
	if err != nil {
		return nil, errors.Join(err, t.Cleanup())
	}
	return t, nil
}

// pending is a file under a temporary name.
type pending interface {
	Name() string
	Write([]byte) (int, error)
	Sync() error
	CloseAtomicallyReplace() error
	Cleanup() error
}

// repair puts right what a kill may have left behind and returns what there is.
func (b *Book) repair() (state, error) {
	var s state
	data, err := os.ReadFile(b.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return s, b.fault(err)
	}
	s.data, s.hash = data, hash(data)
	if s.past, err = b.readHistory(s.hash); err != nil {
		return s, err
	}
	if s.past.torn {
		if err := b.cut(s.past.size); err != nil {
			return s, b.fault(err)
		}
	}
	return s, b.sweep()
}

// sweep removes temporary files of changes that were killed: whoever holds the
// lock knows that nobody is writing them. Files that may be those of a stash whose
// name goes on with digits are left.
func (b *Book) sweep() error {
	dir, base := filepath.Split(b.path)
	old, err := os.ReadDir(dir)
	if err != nil {
		return b.fault(err)
	}
	ours := regexp.MustCompile(`^\.` + regexp.QuoteMeta(base) + `([0-9]+)$`)
next:
	for _, f := range old {
		m := ours.FindStringSubmatch(f.Name())
		if m == nil || !f.Type().IsRegular() {
			continue
		}
		for i := range m[1] {
			if _, err := os.Lstat(b.path + m[1][:i+1]); err == nil {
				continue next
			}
		}
		if err := os.Remove(filepath.Join(dir, f.Name())); err != nil {
			return b.fault(err)
		}
	}
	return nil
}

// syncFolder flushes the folder a file lies in, so that its new name outlives a
// loss of power. Some file systems cannot; the name is then as safe as theirs are.
func syncFolder(path string) error {
	d, err := os.Open(filepath.Dir(path))
	if err != nil {
		return nil
	}
	_ = d.Sync()
	return d.Close()
}
