package main

import (
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

func manCommand() *cli.Command {
	return &cli.Command{
		Name:  "man",
		Usage: "print the manual page, made from these help texts",
		Description: `Prints a page for man(1). Read it with "pinfold man | man -l -", or save it as
pinfold.1 where man looks.

` + example("pinfold man", "the page on the screen, unformatted"),
		Action: func(c *cli.Context) error {
			if c.NArg() != 0 {
				return badInput("man takes no argument, not %q", c.Args().First()).with("write pinfold man")
			}
			_, err := io.WriteString(c.App.Writer, manual(c.App))
			return err
		},
	}
}

// roff spells a text so that no line of it is a request and nothing in it an escape.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	lines := strings.Split(s, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}

// asIs is a text whose lines and columns stay as they are.
func asIs(s string) string { return ".nf\n" + roff(strings.Trim(s, "\n")) + "\n.fi\n" }

// manual is the whole manual page in roff. It carries no date, so that the same
// build gives the same page.
func manual(app *cli.App) string {
	var b strings.Builder
	b.WriteString(".TH PINFOLD 1 \"\" \"pinfold " + roff(strings.ReplaceAll(version(), `"`, "")) + "\"\n")
	b.WriteString(".SH NAME\npinfold \\- " + roff(app.Usage) + "\n")
	b.WriteString(".SH SYNOPSIS\n.B pinfold\n.I command\n[arguments] [flags]\n")
	b.WriteString(".SH DESCRIPTION\n" + asIs(app.Description) + ".SH COMMANDS\n")
	for _, c := range app.Commands {
		if !c.Hidden {
			manCommandText(&b, c)
		}
	}
	return b.String()
}

func manCommandText(b *strings.Builder, c *cli.Command) {
	b.WriteString(".SS " + roff(strings.TrimSpace("pinfold "+c.Name+" "+c.ArgsUsage)) + "\n" + roff(c.Usage) + "\n.PP\n" + asIs(c.Description))
	for _, f := range c.Flags {
		head, text, _ := strings.Cut(f.String(), "\t")
		b.WriteString(".TP\n" + roff(head) + "\n" + roff(text) + "\n")
	}
}
