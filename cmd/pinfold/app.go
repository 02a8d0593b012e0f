package main

import (
	"io"
	"regexp"

	"github.com/urfave/cli/v2"

	"pinfold/units"
)

// newApp is the table of commands. Each is told by its own file.
func newApp(stdin io.Reader, stdout, stderr io.Writer) *cli.App {
	app := &cli.App{
		Name:  "pinfold",
		Usage: "cutting plans for pinned, folded fabric ball ornaments",
		Description: `From a list of ornaments and the cloth there is: what to buy, what to take from
the stash, how to cut it with straight cuts, and what is left.

` + example("pinfold layout", "the demo, an invented town's lantern fair, into ./cutting-plan"),
		Version:         versionText(),
		Reader:          stdin,
		Writer:          stdout,
		ErrWriter:       stderr,
		HideHelpCommand: true,
		// A comma is part of "fat quarter, 18 x 21".
		DisableSliceFlagSeparator: true,
		// Exit codes are the business of run.
		ExitErrHandler: func(*cli.Context, error) {},
		OnUsageError:   usageError,
		Commands: []*cli.Command{
			layoutCommand(), checkCommand(), newCommand(), yieldCommand(), ballCommand(),
			costCommand(), compareCommand(), faceCommand(),
			shopCommand(), makesCommand(),
			doneCommand(), stashCommand(),
			completionCommand(), manCommand(),
		},
	}
	for _, c := range app.Commands {
		c.OnUsageError = usageError
		c.HideHelpCommand = true
	}
	return app
}

// unfit is what the library says of a value that is no number, or of one behind a
// flag that has none.
var unfit = regexp.MustCompile(`^invalid (boolean )?value (".*") for (?:flag )?-(\S+): `)

// usageError keeps the library from printing the help on stdout.
func usageError(c *cli.Context, err error, _ bool) error {
	f := badInput("%v", err)
	if m := unfit.FindStringSubmatch(err.Error()); m != nil {
		if m[1] != "" {
			return badInput("--%s takes no value, not %s", m[3], m[2]).with("write --%s alone, or leave it out", m[3])
		}
		return badInput("--%s: %s is not a whole number", m[3], m[2]).with("write one from 0, like: --%s 7", m[3])
	}
	if c.Command != nil && c.Command.Name != "" {
		return f.with("pinfold %s --help shows how", c.Command.Name)
	}
	return f.with("pinfold --help shows how")
}

// example is the worked example that every help text ends with.
func example(command, what string) string {
	return "Example, " + what + ":\n\n    " + command
}

// unitFlag is the flag of the commands that read bare numbers without a plan; otherwise
// says in which unit they are without it.
func unitFlag(otherwise string) cli.Flag {
	return &cli.StringFlag{Name: "unit", Usage: "read bare numbers and print lengths in `UNIT`, in or cm (default: " + otherwise + ")"}
}

// unitOr returns the unit that the flag says, or else u.
func unitOr(c *cli.Context, u units.Unit) (units.Unit, error) {
	if !c.IsSet("unit") {
		return u, nil
	}
	u, err := units.ParseUnit(c.String("unit"))
	if err != nil {
		return u, badInput("--unit: %v", err)
	}
	return u, nil
}
