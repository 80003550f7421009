package plots

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Note is a hand-written remark with its place.
type Note struct {
	Time  float64 // s
	Volts float64 // V, or the feedback's unit
	Text  string
}

// maxNotes is as many as stay readable on a page.
const maxNotes = 40

// ReadNotes reads a file of notes: one a line, as time in s, feedback in
// volts, and the text, apart by blanks or tabs. Empty lines and lines that
// begin with # are passed over. Errors name the line.
func ReadNotes(r io.Reader, name string) ([]Note, error) {
	var out []Note
	sc := bufio.NewScanner(r)
	for n := 1; sc.Scan(); n++ {
		line := strings.TrimSpace(strings.TrimPrefix(sc.Text(), "\ufeff"))
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if !utf8.ValidString(line) {
			return nil, fmt.Errorf("%s:%d: not UTF-8 text: save the notes as UTF-8", name, n)
		}
		f := strings.Fields(line)
		if len(f) < 3 {
			return nil, fmt.Errorf("%s:%d: found %q, expected: time in s, volts, text (example: 12.5 3.2 jumps here)", name, n, short(line))
		}
		var v [2]float64
		for i := range v {
			x, err := strconv.ParseFloat(strings.Replace(strings.TrimRight(f[i], ","), ",", ".", 1), 64)
			if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
				return nil, fmt.Errorf("%s:%d: found %q as the %s, expected a number (example: 12.5 3.2 jumps here)", name, n, short(f[i]), []string{"time", "volts"}[i])
			}
			v[i] = x
		}
		out = append(out, Note{v[0], v[1], strings.Join(f[2:], " ")})
		if len(out) > maxNotes {
			return nil, fmt.Errorf("%s:%d: more than %d notes do not fit on a page", name, n, maxNotes)
		}
	}
	if err := sc.Err(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return out, nil
}

// short cuts text quoted in a message.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}
