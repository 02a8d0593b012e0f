package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

func completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print what a shell needs to complete commands and flags",
		ArgsUsage: "bash|zsh|fish",
		Description: `Prints a script for the shell named. Load it where your shell starts: in bash with
"source <(pinfold completion bash)", in zsh the same after compinit, in fish by
saving it as ~/.config/fish/completions/pinfold.fish.

` + example("pinfold completion bash", "for bash"),
		Action: func(c *cli.Context) error {
			if c.NArg() != 1 {
				return badInput("one shell is needed, not %d", c.NArg()).with("write bash, zsh or fish")
			}
			switch shell := c.Args().First(); shell {
			case "bash":
				return bashCompletion(c.App)
			case "zsh":
				if _, err := io.WriteString(c.App.Writer, "autoload -U +X bashcompinit && bashcompinit\n"); err != nil {
					return err
				}
				return bashCompletion(c.App)
			case "fish":
				return fishCompletion(c.App)
			default:
				return badInput("no completion for the shell %q", shell).with("write bash, zsh or fish")
			}
		},
	}
}

// ownFlags are a command's flags without the one for help, which the library gives to
// the command that runs and all have.
func ownFlags(c *cli.Command) []cli.Flag {
	return slices.DeleteFunc(slices.Clone(c.Flags), func(f cli.Flag) bool { return f == cli.HelpFlag })
}

// flagWords are flags as they are typed, one-letter names with one dash.
func flagWords(flags []cli.Flag) []string {
	var out []string
	for _, f := range flags {
		for _, name := range f.Names() {
			if len(name) == 1 {
				out = append(out, "-"+name)
			} else {
				out = append(out, "--"+name)
			}
		}
	}
	return out
}

// commandWords are the names of the commands that are shown in the help.
func commandWords(commands []*cli.Command) []string {
	var out []string
	for _, c := range commands {
		if !c.Hidden {
			out = append(out, c.Name)
		}
	}
	return out
}

// bashCompletion completes the command first, then its flags after a dash, its own
// words right behind it, and file names everywhere else: those the shell finds by
// itself where the function finds nothing, with blanks and all.
func bashCompletion(app *cli.App) error {
	var b strings.Builder
	b.WriteString("_pinfold() {\n\tlocal word=${COMP_WORDS[COMP_CWORD]} flags= names=\n\tCOMPREPLY=()\n\tif [ \"$COMP_CWORD\" -eq 1 ]; then\n")
	fmt.Fprintf(&b, "\t\tCOMPREPLY=($(compgen -W %q -- \"$word\"))\n\t\treturn\n\tfi\n", strings.Join(append(commandWords(app.Commands), "--help", "--version"), " "))
	b.WriteString("\tcase ${COMP_WORDS[1]} in\n")
	for _, c := range app.Commands {
		fmt.Fprintf(&b, "\t%s) flags=%q names=%q ;;\n", c.Name, strings.Join(append(flagWords(ownFlags(c)), "--help"), " "), strings.Join(argumentWords(c), " "))
	}
	b.WriteString("\tesac\n\tcase $word in\n\t-*) COMPREPLY=($(compgen -W \"$flags\" -- \"$word\")) ;;\n" +
		"\t*) [ \"$COMP_CWORD\" -ne 2 ] || COMPREPLY=($(compgen -W \"$names\" -- \"$word\")) ;;\n\tesac\n}\n" +
		"complete -o default -F _pinfold pinfold\n")
	_, err := io.WriteString(app.Writer, b.String())
	return err
}

// argumentWords are the words a command takes as they stand: what begins in lower
// case where its usage offers a choice.
func argumentWords(c *cli.Command) []string {
	choices := strings.Split(strings.Trim(c.ArgsUsage, "[]"), "|")
	if len(choices) < 2 {
		return nil
	}
	var out []string
	for _, choice := range choices {
		word, _, _ := strings.Cut(strings.TrimSpace(choice), " ")
		if word != "" && word == strings.ToLower(word) && !strings.ContainsAny(word, "./[") {
			out = append(out, word)
		}
	}
	return out
}

func fishCompletion(app *cli.App) error {
	quote := func(s string) string {
		return "'" + strings.NewReplacer(`\`, `\\`, `'`, `\'`).Replace(s) + "'"
	}
	var b strings.Builder
	b.WriteString("complete -c pinfold -n __fish_use_subcommand -l version -d 'the version and the versions of the files'\n" +
		"complete -c pinfold -l help -d 'show help'\n")
	for _, c := range app.Commands {
		fmt.Fprintf(&b, "complete -c pinfold -n __fish_use_subcommand -f -a %s -d %s\n", c.Name, quote(c.Usage))
		seen := "__fish_seen_subcommand_from " + c.Name
		if words := strings.Join(argumentWords(c), " "); words != "" {
			fmt.Fprintf(&b, "complete -c pinfold -n '%s; and not __fish_seen_subcommand_from %s' -a '%s'\n", seen, words, words)
		}
		for _, f := range ownFlags(c) {
			names := ""
			for _, name := range f.Names() {
				if len(name) == 1 {
					names += " -s " + name
				} else {
					names += " -l " + name
				}
			}
			if _, isSwitch := f.(*cli.BoolFlag); !isSwitch {
				names += " -r" // what follows is its value, which may be a file
			}
			_, text, _ := strings.Cut(f.String(), "\t")
			fmt.Fprintf(&b, "complete -c pinfold -n '%s'%s -d %s\n", seen, names, quote(text))
		}
	}
	_, err := io.WriteString(app.Writer, b.String())
	return err
}
