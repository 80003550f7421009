package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"
)

// flagError words what is wrong with the flags of a command: with the name of
// the flag that was probably meant, and where all of them are listed.
func flagError(flags *pflag.FlagSet, err error) error {
	help := fmt.Sprintf("see threewire %s --help", flags.Name())
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return fmt.Errorf("%w (%s)", err, help)
	}
	given, dashes := unknown.GetSpecifiedName(), "--"
	if s := unknown.GetSpecifiedShortnames(); s != "" {
		given, dashes = s, "-"
	}
	given, _, _ = strings.Cut(given, "=")
	var names []string
	flags.VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	// The word of the texts for a flag of another name.
	if given == "uncoupled" && slices.Contains(names, "free") {
		return fmt.Errorf("unknown flag %s%s; did you mean --free? (%s)", dashes, given, help)
	}
	if near := nearest(given, names); len(near) > 0 {
		return fmt.Errorf("unknown flag %s%s; did you mean --%s? (%s)", dashes, given, strings.Join(near, " or --"), help)
	}
	return fmt.Errorf("unknown flag %s%s (%s)", dashes, given, help)
}

// nearest returns the words that one could have meant by another, at most
// three: those that it begins or that begin it, else those with the fewest
// slips of the keyboard, up to one in three letters. One letter is too little to guess
// a word by.
func nearest(given string, words []string) []string {
	if len([]rune(given)) < 2 {
		return nil
	}
	given = strings.ToLower(given)
	var out []string
	best := max(1, len(given)/3)
	for _, w := range words {
		if strings.HasPrefix(w, given) || strings.HasPrefix(given, w) {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		for _, w := range words {
			switch d := slips(given, w); {
			case d < best:
				best, out = d, []string{w}
			case d == best:
				out = append(out, w)
			}
		}
	}
	slices.Sort(out)
	return out[:min(len(out), 3)]
}

// slips is the number of single slips (a letter missing, too many, wrong, or
// two letters swapped) that make one word of another: the optimal string
// alignment distance. F. J. Damerau, "A technique for computer detection and
// correction of spelling errors", Comm. ACM 7 (1964): these four are nearly
// all the slips that people make (from memory).
func slips(a, b string) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			wrong := 1
			if a[i-1] == b[j-1] {
				wrong = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+wrong)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}

// noSuchFile names, where a file is not there, the one in its folder that was probably
// meant.
func noSuchFile(path string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return toRead(err)
	}
	entries, e := os.ReadDir(filepath.Dir(path))
	if e != nil {
		return err
	}
	meant := make(map[string]string)
	var names []string
	for _, f := range entries {
		if low := strings.ToLower(f.Name()); !f.IsDir() {
			meant[low] = filepath.Join(filepath.Dir(path), f.Name())
			names = append(names, low)
		}
	}
	near := nearest(filepath.Base(path), names)
	if len(near) == 0 {
		return err
	}
	for i := range near {
		near[i] = meant[near[i]]
	}
	return fmt.Errorf("%w; did you mean %s?", err, strings.Join(near, " or "))
}
