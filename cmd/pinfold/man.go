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

// running is a text that fills the lines of the page, whose own are of no matter.
func running(s string) string {
	const width = 72 // leaves room for what roff puts in
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case len(line)+1+len(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return roff(strings.Join(append(lines, line), "\n")) + "\n"
}

// prose is a help text: its paragraphs run, and what is indented in them, examples
// and tables, stays as it is.
func prose(s string) string {
	var parts []string
	for block := range strings.SplitSeq(strings.Trim(s, "\n"), "\n\n") {
		if strings.HasPrefix(block, "    ") {
			parts = append(parts, ".RS 4\n.nf\n"+roff(strings.ReplaceAll("\n"+block, "\n    ", "\n")[1:])+"\n.fi\n.RE\n")
			continue
		}
		parts = append(parts, running(block))
	}
	return strings.Join(parts, ".PP\n")
}

// manual is the whole manual page in roff. Its date is that of the release, so that
// the same build gives the same page.
func manual(app *cli.App) string {
	var b strings.Builder
	b.WriteString(".TH PINFOLD 1 \"" + day() + "\" \"pinfold " + roff(strings.ReplaceAll(version(), `"`, "")) + "\"\n.nh\n.ad l\n") // no hyphens in file names
	b.WriteString(".SH NAME\npinfold \\- " + roff(app.Usage) + "\n")
	b.WriteString(".SH SYNOPSIS\n.B pinfold\n.I command\n[arguments] [flags]\n")
	b.WriteString(".SH DESCRIPTION\n" + prose(app.Description) + ".SH COMMANDS\n")
	for _, c := range app.Commands {
		if !c.Hidden {
			manCommandText(&b, c)
		}
	}
	return b.String()
}

func manCommandText(b *strings.Builder, c *cli.Command) {
	b.WriteString(".SS " + roff(strings.TrimSpace("pinfold "+c.Name+" "+c.ArgsUsage)) + "\n" + running(c.Usage) + ".PP\n" + prose(c.Description))
	for _, f := range ownFlags(c) {
		head, text, _ := strings.Cut(f.String(), "\t")
		b.WriteString(".TP\n" + roff(head) + "\n" + running(text))
	}
}
