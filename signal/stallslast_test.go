package signal

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

// namelessRuns writes four runs to and fro of a shaft, with a second column that is what
// of gives: of the seconds in a run of five, the last one of them at the stop.
func namelessRuns(of func(s float64) float64) string {
	var b strings.Builder
	b.WriteString("t [s],colA,colB\n")
	v, i := 0.5, 0
	for run := range 4 {
		dir := float64(1 - 2*(run%2))
		for n := range 300 { // a second of rest, then five of drive
			s, x := float64(n-50)/50, 0.0
			if s >= 0 {
				x = dir * of(s)
				if s < 4 {
					v += dir * 0.018
				}
			}
			fmt.Fprintf(&b, "%.2f,%.4f,%.4f\n", float64(i)/50, v+0.002*math.Sin(float64(7*i)), x+0.002*math.Sin(float64(5*i)))
			i++
		}
	}
	return b.String()
}

// A column without a name that is low while the wiper moves and high at the stops may be
// the current: that is asked, and a drive of the same size is none.
func TestNamelessCurrentIsAsked(t *testing.T) {
	current := func(s float64) float64 {
		if s < 4 {
			return 0.05
		}
		return 0.4
	}
	_, err := Read(strings.NewReader(namelessRuns(current)), Options{})
	var re *RoleError
	if !errors.As(err, &re) || re.Role != Drive || !strings.Contains(err.Error(), "the motor's current") || !strings.Contains(re.Hint, "--drive 3") {
		t.Errorf("current: %v", err)
	}
	for name, drive := range map[string]func(float64) float64{
		"even, a tenth of the volts": func(float64) float64 { return 1.2 },
		"turned down at the end": func(s float64) float64 {
			if s > 3.5 {
				return 0.5
			}
			return 1.25
		},
		"eased in": func(s float64) float64 { return 1.25 * math.Min(1, 0.3+s) },
		"volts, of a control that pushes at the stops": func(s float64) float64 {
			if s < 4 {
				return 5
			}
			return 12
		},
	} {
		if _, err := Read(strings.NewReader(namelessRuns(drive)), Options{}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	// The user knows.
	if _, err := Read(strings.NewReader(strings.Replace(namelessRuns(current), "colB", "drive", 1)), Options{}); err != nil {
		t.Error(err)
	}
}
