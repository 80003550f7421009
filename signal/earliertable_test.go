package signal

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Two captures of different shape in one file: the first one is not read, and that is
// said. A long preamble, one with a few numbers, and one capture by itself are none.
func TestEarlierTable(t *testing.T) {
	rows := func(n int, sep string, columns int) string {
		var b strings.Builder
		for i := range n {
			cells := []string{fmt.Sprintf("%.2f", float64(i)/20), fmt.Sprint(12 * (i / 20 % 2)), fmt.Sprintf("%.3f", 1+0.01*float64(i%100)), "0.0"}
			b.WriteString(strings.Join(cells[:columns], sep) + "\n")
		}
		return b.String()
	}
	data := "t (s);Motor (V);Feedback (V)\n" + rows(400, ";", 3)
	var words, few strings.Builder
	for i := range 60 {
		fmt.Fprintf(&words, "Setting %d,%d\n", i, 3*i)
	}
	for i := range 6 {
		fmt.Fprintf(&few, "%d,%d\n", i, 4*i)
	}
	for _, c := range []struct{ name, text, want string }{
		{"two captures", "time_s,lead_A,lead_B,feedback\n" + rows(150, ",", 4) + data, "lines 2 to 151 hold 150 rows"},
		{"behind another preamble", "time_s;drive;feedback\n" + rows(150, ";", 3) + "\nlogger\nrecording: 2\nrig: 3\nnote: -\n\n" + data, "lines 2 to 151 hold 150 rows"},
		{"one capture", data, ""},
		{"preamble", words.String() + data, ""},
		{"few numbers", few.String() + data, ""},
	} {
		tr := mustRead(t, c.text, Options{})
		i := slices.IndexFunc(tr.Notes, func(n Note) bool { return n.Code == "earlier-table" })
		switch {
		case i < 0 && c.want != "":
			t.Errorf("%s: nothing said: %v", c.name, tr.Notes)
		case i >= 0 && (c.want == "" || !strings.Contains(tr.Notes[i].Text, c.want) || !tr.Notes[i].Turns):
			t.Errorf("%s: %+v, want %q", c.name, tr.Notes[i], c.want)
		case tr.Rows != 400:
			t.Errorf("%s: %d rows", c.name, tr.Rows)
		}
	}
}
