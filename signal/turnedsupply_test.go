package signal

import (
	"fmt"
	"strings"
	"testing"
)

// A channel that is never above 0: a supply with its clips exchanged is turned and noted, one
// at nothing is not, and no lead or supply below 0 ends the reading.
func TestClipsExchanged(t *testing.T) {
	for _, c := range []struct {
		lead, supply float64
		options      Options
		want         float64
		noted        bool
	}{
		{12, 12.6, Options{}, 12.6, false},
		{12, -12.6, Options{}, 12.6, true},
		{-12, -12.6, Options{}, 12.6, true},
		{12, -12.6, Options{Scale: map[Role]float64{Supply: 1}}, -12.6, false},
		{12, -0.01, Options{}, -0.01, false},
	} {
		var s strings.Builder
		s.WriteString("time (s),lead A (V),lead B (V),feedback (V),supply (V)\n")
		for i := range 1000 {
			a, b, v := 0.0, 0.0, 1.0
			switch phase := i % 200; {
			case phase < 80:
				a, v = c.lead, 1+0.03*float64(phase)
			case phase < 100:
				v = 3.4
			case phase < 180:
				b, v = c.lead, 3.4-0.03*float64(phase-100)
			}
			fmt.Fprintf(&s, "%.2f,%.3f,%.3f,%.3f,%.3f\n", float64(i)*0.02, a, b, v, c.supply+0.001*float64(i%3))
		}
		tr := mustRead(t, s.String(), c.options)
		noted := false
		for _, n := range tr.Notes {
			noted = noted || n.Code == "clips-exchanged"
		}
		if got := float64(tr.Supply.Mean[500]); noted != c.noted || got < c.want-0.01 || got > c.want+0.01 {
			t.Errorf("lead %g, supply %g: read as %.3f V, noted %v", c.lead, c.supply, got, noted)
		}
	}
}
