package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestVoltsPerCount(t *testing.T) {
	for text, want := range map[string]float64{"0.02 V per count": 0.02, "5 mV/LSB": 0.005, " 1023 = 5.115 V": 0.005} {
		if v, ok := voltsPerCount(text); !ok || math.Abs(v/want-1) > 1e-9 {
			t.Errorf("%q: %g %v, want %g", text, v, ok, want)
		}
	}
	for _, text := range []string{"5 V", "1 = 5 V", "open = 5 V", "10 bit", "0 counts per V", "100 mV/A", "1023 = full", "per count", ""} {
		if v, ok := voltsPerCount(text); ok {
			t.Errorf("%q was read as %g V", text, v)
		}
	}
}

// The volts of a count that the head tells are taken for columns in counts, and for no
// column that is in volts.
func TestCountsWithTheirVolts(t *testing.T) {
	for _, tt := range []struct {
		head           string
		drive, wiper   float64 // counts, or volts, of 12 V and 1 V
		wantD, wantTop float64
	}{
		{"# Motor: 0.02 V per count\n# Wiper: 0.005 V per count\nTime (s),Motor (counts),Wiper (counts)\n", 600, 200, 12, 4},
		{"scale,s,0.02,0.005\ntime,motor,wiper\ns,counts,counts\n", 600, 200, 12, 4},
		{"scale,0.02,0.005\ntime,motor,wiper\ns,counts,counts\n", 600, 200, 12, 4},
		{"# Wiper: 10 bit, 1023 = 5.115 V\nTime (s),Motor (V),Wiper (counts)\n", 12, 200, 12, 4},
		{"# 10 bit, 1023 = 5.115 V\nTime (s),Motor (V),Wiper (counts)\n", 12, 200, 12, 4},
		// already in volts
		{"# Motor: 0.02 V per count\n# Wiper: 0.005 V per count\nTime (s),Motor (V),Wiper (V)\n", 12, 1, 12, 4},
		{"scale,s,0.02,0.005\ntime,motor,wiper\ns,V,V\n", 12, 1, 12, 4},
	} {
		var b strings.Builder
		b.WriteString(tt.head)
		strokes(func(i int, d, v float64) {
			digits := 3
			if tt.wiper > 1 {
				digits = 0
			}
			fmt.Fprintf(&b, "%.2f,%.0f,%.*f\n", float64(i)*0.02, d*tt.drive, digits, v*tt.wiper)
		})
		tr := mustRead(t, b.String(), Options{})
		if math.Abs(tr.Drive.Stats.Max-tt.wantD) > 0.01 || math.Abs(tr.Feedback.Stats.Max-tt.wantTop) > 0.02 {
			t.Errorf("%q: drive to %g V, wiper to %g V", tt.head, tr.Drive.Stats.Max, tr.Feedback.Stats.Max)
		}
		// the user's factor is taken instead
		if tt.wiper > 1 {
			tr = mustRead(t, b.String(), Options{Scale: map[Role]float64{Feedback: 0.01}})
			if math.Abs(tr.Feedback.Stats.Max-8) > 0.05 {
				t.Errorf("%q with a factor of 0.01: wiper to %g", tt.head, tr.Feedback.Stats.Max)
			}
		}
	}
}
