package main

import (
	"os"
	"strconv"

	"github.com/spf13/pflag"
	"golang.org/x/term"
)

// The width of lines of text: usualWidth is one that reads well, and more is never taken;
// leastWidth one below which words would stand alone. helpWidth is that of a terminal
// nobody has made wider.
const usualWidth, leastWidth, helpWidth = 96, 40, 80

// lineWidth is how wide a line of text on standard output may be, in characters, and
// whether anything asks for that width: the variable COLUMNS, else the terminal.
func lineWidth() (width int, asked bool) {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return min(max(n, leastWidth), usualWidth), true
	}
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w > 0 {
		return min(max(w, leastWidth), usualWidth), true
	}
	return usualWidth, false
}

// flagHelp lists the flags of a command.
func flagHelp(fs *pflag.FlagSet) string { return fs.FlagUsagesWrapped(helpWidth) }
