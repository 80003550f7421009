package signal

import (
	"fmt"
	"strings"
	"testing"
)

// A feedback without a unit whose numbers no wiper of a 12 V system has in volts is a share
// of its supply. Volts, volts with a spike, millivolts, counts and a factor that was given
// stay what they are.
func TestPercentWithoutAUnit(t *testing.T) {
	file := func(head string, low, slope, spike float64, form string) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		v := low
		for i := range 2000 {
			d, at := 0.0, 0.0
			switch k := i % 1000; {
			case k >= 50 && k < 450:
				d, v = 12, v+slope
			case k >= 550 && k < 950:
				d, v = -12, v-slope
			}
			if i == 900 {
				at = spike
			}
			fmt.Fprintf(&b, "%.2f,%.3f,"+form+"\n", float64(i)/50, d+0.01*float64(i%3), v+at+slope/5*float64(i%3))
		}
		return b.String()
	}
	const bare, volts = "time (s),drive (V),feedback", "time (s),drive (V),feedback (V)"
	for _, c := range []struct {
		name, text string
		scale      map[Role]float64
		unit       string
		code       string
		turns      bool
	}{
		{"share of the whole", file(bare, 12, 0.19, 0, "%.1f"), nil, "%", "unsaid-percent", false},
		{"a part of it", file(bare, 12, 0.09, 0, "%.1f"), nil, "%", "unsaid-percent", true},
		{"volts of 5", file(bare, 0.6, 0.009, 0, "%.3f"), nil, "V", "", false},
		{"volts of the battery", file(bare, 1, 0.025, 0, "%.3f"), nil, "V", "", false},
		{"volts with a spike", file(bare, 0.6, 0.009, 24, "%.3f"), nil, "V", "", false},
		{"said to be volts", file(volts, 12, 0.19, 0, "%.1f"), nil, "V", "too-high", false},
		{"a factor given", file(bare, 12, 0.19, 0, "%.1f"), map[Role]float64{Feedback: 0.05}, "V", "", false},
		{"millivolts", file(bare, 620, 9.1, 0, "%.1f"), nil, "V", "too-high", true},
		{"counts of 255", file(bare, 30, 0.4, 0, "%.0f"), nil, "counts", "", false},
	} {
		tr := mustRead(t, c.text, Options{Scale: c.scale})
		found := c.code == ""
		for _, n := range tr.Notes {
			if n.Code == "unsaid-percent" && (n.Code != c.code || n.Turns != c.turns) {
				t.Errorf("%s: note %+v", c.name, n)
			}
			found = found || n.Code == c.code
		}
		if tr.Feedback.Unit != c.unit || !found && c.code == "unsaid-percent" {
			t.Errorf("%s: unit %q, notes %+v; want %q, %q", c.name, tr.Feedback.Unit, tr.Notes, c.unit, c.code)
		}
	}
}
