package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
)

// reorder puts a command's flags before its arguments, so that they work
// anywhere: the library reads flags up to the first argument only and takes the
// rest for arguments without a word. What it cannot make sense of it refuses,
// naming what was probably meant.
func reorder(commands []*cli.Command, args []string) ([]string, error) {
	if len(args) == 0 {
		return nil, nil
	}
	first := args[0]
	switch first {
	case "--help", "-h", "--version", "-v":
		return args[:1], nil
	case "help":
		if len(args) == 1 {
			return []string{"--help"}, nil
		}
		args = []string{args[1], "--help"}
		first = args[0]
	}
	if strings.HasPrefix(first, "-") {
		first, rest := "layout", args
		if at := slices.IndexFunc(args, func(a string) bool { return named(commands, a) >= 0 }); at >= 0 {
			first, rest = args[at], slices.Concat(args[:at], args[at+1:])
		}
		return nil, badInput("%q stands before the command", args[0]).with("write the command first, like: pinfold %s %s", first, strings.Join(rest, " "))
	}
	i := named(commands, first)
	if i < 0 {
		return nil, unknownCommand(commands, first)
	}
	flags, rest, err := split(commands[i], args[1:])
	if err != nil {
		return nil, err
	}
	return slices.Concat([]string{first}, flags, []string{"--"}, rest), nil
}

// named is the index of the command of that name, -1 if there is none.
func named(commands []*cli.Command, name string) int {
	return slices.IndexFunc(commands, func(c *cli.Command) bool { return c.Name == name })
}

func unknownCommand(commands []*cli.Command, word string) error {
	var names []string
	for _, c := range commands {
		names = append(names, c.Name)
	}
	f := badInput("there is no command %q", word)
	if near, ok := plan.Near(word, names); ok {
		return f.with("did you mean: pinfold %s", near)
	}
	if strings.HasSuffix(word, ".yaml") || strings.HasSuffix(word, ".yml") {
		return f.with("write the command first, like: pinfold layout %s", word)
	}
	return f.with("the commands are %s", strings.Join(names, ", "))
}

// split parts a command's flags, each with its value, from its arguments.
func split(c *cli.Command, args []string) (flags, rest []string, err error) {
	known := map[string]bool{"help": false, "h": false}
	names := []string{"--help"}
	for _, f := range c.Flags {
		_, isSwitch := f.(*cli.BoolFlag)
		for _, n := range f.Names() {
			known[n] = !isSwitch
			names = append(names, "--"+n)
		}
	}
	for i := 0; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			return flags, append(rest, args[i+1:]...), nil
		}
		if !isFlag(a) {
			rest = append(rest, a)
			continue
		}
		name, _, joined := strings.Cut(strings.TrimLeft(a, "-"), "=")
		valued, ok := known[name]
		if !ok {
			f := badInput("%s has no flag %q", c.Name, a)
			if near, ok := plan.Near("--"+name, names); ok {
				return nil, nil, f.with("did you mean %s", near)
			}
			return nil, nil, f.with("pinfold %s --help lists them", c.Name)
		}
		if name == "help" || name == "h" {
			return []string{"--help"}, nil, nil
		}
		flags = append(flags, a)
		if !valued || joined {
			continue
		}
		if i+1 == len(args) || isFlag(args[i+1]) {
			return nil, nil, badInput("flag %s needs a value", a).with("pinfold %s --help tells which", c.Name)
		}
		i++
		flags = append(flags, args[i])
	}
	return flags, rest, nil
}

// isFlag tells a flag from an argument: a lone dash and a negative number are
// arguments, the latter to be refused by name.
func isFlag(a string) bool {
	return len(a) > 1 && a[0] == '-' && !strings.ContainsRune("0123456789.", rune(a[1]))
}
