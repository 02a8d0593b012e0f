package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"pinfold/pack"
)

// progress tells somebody at a terminal that work goes on, once it takes longer
// than a second. It looks at the clock only to be quiet; nothing depends on it.
type progress struct {
	w     io.Writer // nil when nobody is watching
	since time.Time
	last  time.Time
	shown bool
}

const (
	progressAfter = time.Second
	progressEvery = time.Second / 10
)

func newProgress(w io.Writer) *progress {
	p := &progress{since: time.Now()}
	if isTerminal(w) {
		p.w = w
	}
	return p
}

func (p *progress) progress(fabric string, at pack.Progress) {
	now := time.Now()
	if p.w == nil || now.Sub(p.since) < progressAfter || now.Sub(p.last) < progressEvery {
		return
	}
	p.last, p.shown = now, true
	// Back to the start of the line, and clear to its end.
	fmt.Fprintf(p.w, "\r\x1b[K%.40q: %d sheets so far; ctrl-C stops with the best", fabric, at.Sheets)
}

// done takes the line away.
func (p *progress) done() {
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || f.Name() == os.DevNull {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
