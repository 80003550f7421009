package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"
)

// Exit codes of every command.
const (
	exitNoFault    = 0
	exitFault      = 1
	exitUsage      = 2 // wrong use, or input that cannot be read
	exitCannotTell = 3
)

// command is one word after the program's name.
type command struct {
	name, help string
	run        func(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int
}

// commands lists them in the order of the help text.
func commands() []command {
	return []command{
		{"plan", "how to take a capture that tells most, before connecting", plan},
		{"check", "judge one actuator from its captures", check},
		{"batch", "judge a shelf of captures: one table, resumable", batch},
		{"draw", "draw a capture with what was found in it (PNG, SVG, PDF)", draw},
		{"profile", "make a profile of a known good actuator, for check --profile", profile},
		{"simulate", "make a capture with a known fault, for teaching", simulate},
		{"serve", "open the local page: drop a capture, read the verdict", serve},
		{"columns", "show how a capture file is read, before any judgement", columns},
	}
}

const usageHead = `threewire reads logged voltage traces of a three-wire actuator (two motor leads
and a position wiper) and says what is broken: feedback sensor, motor, door
mechanism, wiring or control, nothing, or "cannot tell" and the test that would.

Usage: threewire COMMAND [flags] FILE...

Commands:
`

const usageTail = `
Example: threewire check left-temperature-door.csv
Each command has its own --help.
Exit codes: 0 no fault found, 1 fault found, 2 wrong use or unreadable input,
3 cannot tell.
`

// run picks the command. Nothing below it ends the process.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	if len(args) == 0 {
		usage(stderr)
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "--help":
		usage(stdout)
		return 0
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(ctx, args[1:], stdin, stdout, stderr)
		}
	}
	if _, err := os.Stat(args[0]); err == nil {
		fmt.Fprintf(stderr, "threewire: %q is a file, not a command; did you mean: threewire check %s\n", args[0], args[0])
		return exitUsage
	}
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	if near := nearest(args[0], names); len(near) > 0 {
		fmt.Fprintf(stderr, "threewire: %q is no command; did you mean %s? (see threewire --help)\n", args[0], strings.Join(near, " or "))
		return exitUsage
	}
	fmt.Fprintf(stderr, "threewire: %q is no command; expected one of %s (see threewire --help)\n", args[0], strings.Join(names, ", "))
	return exitUsage
}

func usage(w io.Writer) {
	fmt.Fprint(w, usageHead)
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-9s %s\n", c.name, c.help)
	}
	fmt.Fprint(w, usageTail)
}
