package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestFactorOf(t *testing.T) {
	for text, want := range map[string]float64{"x10": 10, "10X": 10, "×10": 10, "* 0.1": 0.1, "x1": 1,
		"10": 0, "x": 0, "X1b": 0, "": 0, "x-2": 0, "1x1": 0} {
		if got := factorOf(text); got != want {
			t.Errorf("%q: %g, want %g", text, got, want)
		}
	}
}

// A factor written beside a drive is counted only where no motor runs on the volts as
// they are written; where none is written, a note offers it.
func TestFactorBesideTheDrive(t *testing.T) {
	for _, tt := range []struct {
		head  string
		drive float64 // as written
		still bool
		want  float64
		note  string
	}{
		{"Time (s),Motor (V) x10,Wiper (V)\n", 1.3, false, 13, "unit-factor"},
		{"Time,Motor,Wiper\ns,V,V\nx1,x10,x1\n", 1.3, false, 13, "unit-factor"},
		{"Probe,10X,1X\nTime (s),Motor (V),Wiper (V)\n", 1.3, false, 13, "unit-factor"},
		{"Time (s),Motor (V),Wiper (V)\n", 1.3, false, 1.3, "low-drive"},
		// counted already
		{"Time (s),Motor (V) x10,Wiper (V)\n", 13, false, 13, ""},
		{"Probe,10X,1X\nTime (s),Motor (V),Wiper (V)\n", 13, false, 13, ""},
		// a supply that is nearly gone
		{"Time (s),Motor (V),Wiper (V)\n", 1.3, true, 1.3, ""},
		{"Time (s),Motor (V),Wiper (V)\n", 5, false, 5, ""},
	} {
		var b strings.Builder
		b.WriteString(tt.head)
		strokes(func(i int, d, v float64) {
			if tt.still {
				v = 0.5
			}
			fmt.Fprintf(&b, "%.2f,%.3f,%.3f\n", float64(i)*0.02, d*tt.drive, v+0.002*float64(i%2))
		})
		tr := mustRead(t, b.String(), Options{})
		if math.Abs(tr.Drive.Stats.Max-tt.want) > 0.01 || tr.Drive.Name != "Motor" {
			t.Errorf("%q, %g V: %s to %g V, want %g", tt.head, tt.drive, tr.Drive.Name, tr.Drive.Stats.Max, tt.want)
		}
		for _, code := range []string{"unit-factor", "low-drive"} {
			if noted := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == code }); noted != (code == tt.note) {
				t.Errorf("%q, %g V: %s noted %v: %v", tt.head, tt.drive, code, noted, tr.Notes)
			}
		}
		if tt.want != tt.drive { // the user's word is taken
			tr = mustRead(t, b.String(), Options{Scale: map[Role]float64{Drive: 1}})
			if math.Abs(tr.Drive.Stats.Max-tt.drive) > 0.01 {
				t.Errorf("%q with a factor of 1: drive to %g V", tt.head, tr.Drive.Stats.Max)
			}
		}
	}
}
