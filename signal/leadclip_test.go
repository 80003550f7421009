package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// brakedLeads drives to and fro with brakes between, both leads high; lead B ends at
// end volts, or drops so much at a start, and the shaft runs at rest if it says so.
func brakedLeads(end, drops float64, runs bool) string {
	var s strings.Builder
	s.WriteString("time (s),lead A (V),lead B (V),feedback (V)\n")
	v := 1.0
	for i := range 1000 {
		full := 13 + 0.02*float64(i%3)
		x, y := full, full
		switch phase := i % 200; {
		case phase < 80:
			y, v = 0, v+0.03
		case phase >= 100 && phase < 180:
			x, v = 0, v-0.03
			y -= drops
		case runs:
			v += 0.02
		}
		fmt.Fprintf(&s, "%.2f,%.3f,%.3f,%.3f\n", float64(i)*0.02, x, math.Min(y, end), v)
	}
	return s.String()
}

// A lead that reads the same value driven and at rest, both leads high, went through a
// channel that ends there; what a leg drops it drops under load only, and where the
// shaft runs meanwhile the difference is a drive.
func TestLeadClipped(t *testing.T) {
	for _, c := range []struct {
		name       string
		end, drops float64
		runs       bool
		noted      bool
		low, rest  float64
	}{
		{"the channel ends", 8, 0, false, true, -8, 0},
		{"it does not", 20, 0, false, false, -13, 0},
		{"a weak leg", 20, 5, false, false, -8, 0},
		{"the shaft runs at rest", 8, 0, true, false, -8, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := mustRead(t, brakedLeads(c.end, c.drops, c.runs), Options{})
			noted := false
			for _, n := range tr.Notes {
				noted = noted || n.Code == "lead-clipped"
			}
			if noted != c.noted || noted != (tr.Drive.Stats.Over > 0) {
				t.Errorf("noted %v, %d rows over the range", noted, tr.Drive.Stats.Over)
			}
			if low, rest := tr.Drive.Stats.Min, float64(tr.Drive.Mean[90]); math.Abs(low-c.low) > 0.1 || math.Abs(rest-c.rest) > 0.1 {
				t.Errorf("lowest drive %.2f V, at rest %.2f V; want %.2f and %.2f", low, rest, c.low, c.rest)
			}
		})
	}
}

// Channels that are set alike end alike: a lead that reads one value whenever it is high,
// and scatters where it is low under the same current, went through one. A steady supply
// reads one value both ways, and above an empty battery nothing is hidden.
func TestBothLeadsClipped(t *testing.T) {
	for _, c := range []struct {
		name    string
		end     float64 // V, of both channels
		high    float64 // V of the motor
		scatter float64 // V
		over    bool
	}{
		{"both end", 5, 13, 0.04, true},
		{"neither does", 20, 13, 0.04, false},
		{"a steady bench supply of few volts", 20, 5, 0, false},
		{"a weak supply that scatters", 20, 5, 0.04, false},
		{"both end above a battery", 12, 13, 0.04, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s strings.Builder
			s.WriteString("time (s),lead A (V),lead B (V),feedback (V)\n")
			v := 1.0
			for i := range 1000 {
				noise := c.scatter * float64(i*7%11-5) / 5
				x, y := 0.1+noise, 0.1-noise
				switch phase := i % 200; {
				case phase < 80:
					x, v = c.high+noise, v+0.03
				case phase >= 100 && phase < 180:
					y, v = c.high+noise, v-0.03
				}
				fmt.Fprintf(&s, "%.2f,%.3f,%.3f,%.3f\n", float64(i)*0.02, math.Min(x, c.end), math.Min(y, c.end), v)
			}
			if tr := mustRead(t, s.String(), Options{}); (tr.Drive.Stats.Over > 0) != c.over {
				t.Errorf("%d rows over the range", tr.Drive.Stats.Over)
			}
		})
	}
}
