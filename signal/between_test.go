package signal

import (
	"fmt"
	"strings"
	"testing"
)

// pieces writes strokes with a line put in after each 300 rows; above stands on top.
func pieces(above, between string) string {
	var b strings.Builder
	b.WriteString(above + "t (s),Motor (V),Feedback (V)\n")
	strokes(func(i int, d, v float64) {
		if i%300 == 299 {
			b.WriteString(between + "\n")
		}
		fmt.Fprintf(&b, "%.2f,%.1f,%.3f\n", float64(i)*0.05, 12*d, v)
	})
	return b.String()
}

// Between the rows stand remarks, page numbers and headings of the next piece; a line of
// other text is refused where it stands.
func TestLinesBetweenRows(t *testing.T) {
	for _, c := range []struct{ above, between string }{
		{"", "\nPage 2\n\nt (s),Motor (V),Feedback (V)"},
		{"", "Seite 2 von 3"},
		{"Segment 1 of 3\n", "Segment 2 of 3\nt (s),Motor (V),Feedback (V)"},
		{"Frame,1\nTrigger time,14:03:05.000\n", "Frame,2\nTrigger time,14:04:05.000\nt (s),Motor (V),Feedback (V)"},
		{"", "; the operator pressed a key"},
		{"", "-- clip moved"},
		{"", "* pause"},
	} {
		tr := mustRead(t, pieces(c.above, c.between), Options{})
		said := ""
		for _, n := range tr.Notes {
			if n.Code == "lines-between" {
				said = n.Text
			}
		}
		if tr.Rows != 800 || said == "" {
			t.Errorf("%q: %d rows, note %q", c.between, tr.Rows, said)
		}
	}
	for _, between := range []string{"Channel 2", "[Feedback (V)]", "the operator left", "t (s),Wiper (V),Motor (V)", "*12.5,3,4"} {
		if _, err := Read(strings.NewReader(pieces("Channel 1\n", between)), Options{}); err == nil {
			t.Errorf("%q is left out between the rows", between)
		}
	}
	// Without times nobody knows how long the pause before the next piece was.
	counted := strings.NewReplacer("t (s),", "").Replace(pieces("rate: 20 Hz\nFrame 1\n", "Frame 2"))
	var b strings.Builder
	for line := range strings.Lines(counted) {
		if f := strings.SplitN(line, ",", 2); len(f) == 2 && strings.Count(line, ",") == 2 {
			line = f[1]
		}
		b.WriteString(line)
	}
	if _, err := Read(strings.NewReader(b.String()), Options{}); err == nil {
		t.Error("pieces without times are read as one")
	}
}
