package signal

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// A row that lost characters on a serial line is left out and counted. More than one in a
// hundred of them, four one behind the other, a row of words and a file without times are
// refused at the first such row; a row at the very end is the one that was being written.
func TestTornRows(t *testing.T) {
	lines := func(n int) []string { return strings.Split(strings.TrimSuffix(goodRows(n), "\n"), "\n") }
	with := func(rows []string, at int, odd ...string) []string { return slices.Insert(rows, at, odd...) }
	text := func(rows []string) string { return threeCols + strings.Join(rows, "\n") + "\n" }
	untimed := strings.Split("drive,feedback\n"+strings.Join(lines(400), "\n"), "\n")
	for i := range untimed[1:] {
		_, untimed[i+1], _ = strings.Cut(untimed[i+1], ",")
	}
	for _, c := range []struct {
		name, text string
		code       string // of the note
		line       int64  // of the error; 0 for none
		rows       int64
	}{
		{"one", text(with(lines(400), 200, "64,4")), "torn-rows", 0, 400},
		{"cells run together", text(with(lines(400), 200, "4.0,11.9,14.02,11.9,2.5")), "torn-rows", 0, 400},
		{"a number in pieces", text(with(lines(400), 200, "4.0,1.2.3,2.1")), "torn-rows", 0, 400},
		{"two, far apart", text(with(with(lines(400), 300, "2.5"), 100, "7,.2")), "torn-rows", 0, 400},
		{"too many", text(with(with(lines(400), 300, "6,1.2.3,4", "6,1.2.4,4", "6,1.2.5,4"), 100, "2,1..3,4", "2,1..4,4")), "", 102, 0},
		{"another table", text(with(lines(800), 300, "1,2", "2,2", "3,3", "4,3")), "", 302, 0},
		{"words", text(with(lines(400), 200, "sensor,plug")), "", 202, 0},
		{"at the end", text(append(lines(400), "8.0,1")), "cut-line", 0, 400},
		{"without times", strings.Join(with(untimed, 200, "2.51"), "\n") + "\n", "", 201, 0},
	} {
		tr, err := Read(strings.NewReader(c.text), Options{Rate: 50 * float64(strings.Count(c.name, "without"))})
		var at *SyntaxError
		switch {
		case c.line > 0:
			if !errors.As(err, &at) || at.Line != c.line {
				t.Errorf("%s: error %v, want line %d", c.name, err, c.line)
			}
		case err != nil:
			t.Errorf("%s: %v", c.name, err)
		case tr.Rows != c.rows || !slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == c.code }):
			t.Errorf("%s: %d rows, notes %+v; want %d, %q", c.name, tr.Rows, tr.Notes, c.rows, c.code)
		}
	}
}
