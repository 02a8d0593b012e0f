// Command pinfold plans the cutting of fabric for pinned, folded ball ornaments.
// See [run] for the way through it and exit.go for what it says when it fails.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

func main() {
	ends := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		// The terminal may go away; under nohup it is to go on all the same.
		ends = append(ends, syscall.SIGHUP)
	}
	ctx, stop := signal.NotifyContext(context.Background(), ends...)
	// The first signal asks for the best so far; after it the default is back, so
	// that a second one ends the program at once.
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program: args are those after its name. Ending ctx is the
// user's wish to stop. The answer goes to stdout, everything said about it to
// stderr, and the exit code is returned.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	say := messages{stderr}
	defer func() {
		if p := recover(); p != nil {
			code = say.bug(p, debug.Stack())
		}
	}()
	app := newApp(stdin, stdout, stderr)
	args, err := reorder(app.Commands, args)
	if err == nil {
		err = app.RunContext(ctx, append([]string{app.Name}, args...))
	}
	return say.outcome(err)
}
