package main

import (
	"io"
)

// show writes the whole answer at once.
func show(w io.Writer, answer []byte) error {
	if _, err := w.Write(answer); err != nil {
		return badInput("cannot write the answer: %v", cause(err))
	}
	return nil
}
