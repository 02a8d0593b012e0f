package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"pinfold/plan"
)

// The exit codes.
const (
	exitDone        = 0
	exitShort       = 1   // the plan cannot be cut from what there is
	exitInput       = 2   // bad input, bad usage, or a folder that cannot be written
	exitBug         = 3   // a fault of the program itself
	exitInterrupted = 130 // stopped by the user; the best so far is written
)

// failure is an error that knows its exit code.
//
// The rules of messages, kept here and in [messages.outcome] alone: everything
// but the answer goes to stderr; a message is one line in lower case without a
// full stop, starts with "pinfold: ", quotes what the user wrote and says what to
// write instead; a hint stands on a line of its own. Faults of a file start with
// file:line:column instead, so that editors find the place, all of them in one
// run.
type failure struct {
	code int
	msg  string
	hint string
}

func (f failure) Error() string { return f.msg }

// badInput is the failure of a wrong argument or file.
func badInput(format string, args ...any) failure {
	return failure{code: exitInput, msg: fmt.Sprintf(format, args...)}
}

// with adds the hint, what to do instead.
func (f failure) with(format string, args ...any) failure {
	f.hint = fmt.Sprintf(format, args...)
	return f
}

// listed quotes arguments, for a message that says what else was expected.
func listed(args []string) string {
	if len(args) == 0 {
		return "nothing"
	}
	return fmt.Sprintf("%q", args)
}

var errInterrupted = failure{code: exitInterrupted, msg: "interrupted: the answer is the best found so far"}

// messages prints what is said beside the answer.
type messages struct{ w io.Writer }

// outcome prints err, if any, and returns the exit code it stands for.
func (m messages) outcome(err error) int {
	var f failure
	var faults plan.Errors
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &faults):
		for line := range strings.SplitSeq(err.Error(), "\n") {
			fmt.Fprintln(m.w, harmless(line))
		}
		return exitInput
	case errors.As(err, &f):
		fmt.Fprintf(m.w, "pinfold: %s\n", harmless(f.msg))
		if f.hint != "" {
			fmt.Fprintf(m.w, "pinfold: hint: %s\n", harmless(f.hint))
		}
		return f.code
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(m.w, "pinfold: interrupted before there was an answer")
		return exitInterrupted
	}
	fmt.Fprintf(m.w, "pinfold: %s\n", harmless(err.Error()))
	return exitInput
}

// bug reports what must not happen.
func (m messages) bug(what any, stack []byte) int {
	fmt.Fprintf(m.w, "pinfold: this is a fault of the program, not of your plan: %v\n", what)
	fmt.Fprintf(m.w, "pinfold: hint: nothing was written; keep the plan and these lines for whoever mends it\n%s", stack)
	return exitBug
}

// bugError is an error that only a fault of the program can cause.
func bugError(err error) failure {
	return failure{code: exitBug, msg: "this is a fault of the program, not of your plan: " + err.Error(),
		hint: "nothing was written; keep the plan and this line for whoever mends it"}
}
