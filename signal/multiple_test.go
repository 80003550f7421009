package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestMultiples(t *testing.T) {
	for text, want := range map[string]float64{
		"10 mV": 0.01, "0.1 V": 0.1, "x0.1 V": 0.1, "x10 V": 10, "V/10": 10, "mV/10": 0.01, "cV": 0.01, "LSB = 10 mV": 0.01,
	} {
		if m, ok := findMultiple(text); !ok || math.Abs(m.unit.factor/want-1) > 1e-9 {
			t.Errorf("%q: %v %v, want %g", text, m, ok, want)
		}
	}
	for _, text := range []string{"5 V", "12 V", "0-5 V", "1 V", "mV", "V", "ms", "20 V", "3.3 V", "100 mV/A", "m/s", "1", "2", "10 Hz", "A1", "%", "/", "x", "1/0 s",
		"10ms/LSB", "0.1 ms", "1/50 s"} { // of time: see steppedTime
		if m, ok := findMultiple(text); ok {
			t.Errorf("%q was taken for a multiple: %v", text, m)
		}
	}
}

func TestColumnsInMultiples(t *testing.T) {
	for _, tt := range []struct {
		time, drive, wiper string
		step, d, v         float64 // what is written for 20 ms, 12 V and 1 V
		digits             int     // of the wiper
	}{
		{"Time (s)", "Motor (0.1 V)", "Wiper (V)", 0.02, 120, 1, 3},
		{"Time (s)", "Motor (V)", "Wiper (10 mV)", 0.02, 12, 100, 1},
		{"Time (1/50 s)", "Motor (V)", "Wiper (V/10)", 1, 12, 0.1, 4},
		{"Ticks (10 ms)", "Motor (V)", "Wiper (x0.1 V)", 2, 12, 10, 2},
		// settings, not factors
		{"Time (20 ms)", "Motor (12 V)", "Wiper (5 V)", 0.02, 12, 1, 3},
		{"Time (s)", "Motor (V)", "Wiper (100 mV)", 0.02, 12, 1, 3},
	} {
		var b strings.Builder
		fmt.Fprintf(&b, "%s,%s,%s\n", tt.time, tt.drive, tt.wiper)
		strokes(func(i int, d, v float64) {
			fmt.Fprintf(&b, "%.2f,%.2f,%.*f\n", float64(i)*tt.step, d*tt.d, tt.digits, v*tt.v)
		})
		o := Options{Roles: map[Role]string{Feedback: "3", Drive: "2"}}
		tr, err := Read(strings.NewReader(b.String()), o)
		if err != nil {
			t.Errorf("%s, %s, %s: %v", tt.time, tt.drive, tt.wiper, err)
			continue
		}
		if math.Abs(tr.RowStep-0.02) > 1e-6 || math.Abs(tr.Drive.Stats.Max-12) > 0.01 || math.Abs(tr.Feedback.Stats.Max-4) > 0.05 {
			t.Errorf("%s, %s, %s: step %g s, drive to %g V, wiper to %g V", tt.time, tt.drive, tt.wiper, tr.RowStep, tr.Drive.Stats.Max, tr.Feedback.Stats.Max)
		}
	}
}
