package signal

import (
	"fmt"
	"strings"
	"testing"
)

// Two columns named as the drive, one for each way of it, are its leads, whichever way
// they rest and also where one never comes on. What may be two motors is asked about.
func TestLeadsNamedForTheirWay(t *testing.T) {
	ground := func(d float64) (a, b float64) { return max(d, 0.02), max(-d, 0.03) }
	supply := func(d float64) (a, b float64) { return min(12.4, 12.4+d), min(12.4, 12.4-d) }
	dead := func(d float64) (a, b float64) { return max(d, 0), 0.01 }
	logic := func(d float64) (a, b float64) {
		x, y := ground(d)
		return float64(int(min(x, 1))), float64(int(min(y, 1)))
	}
	both := func(d float64) (a, b float64) { return d, -d }
	two := map[Role]int{TimeRole: 1, LeadA: 2, LeadB: 3, Feedback: 4}
	turned := map[Role]int{TimeRole: 1, LeadA: 3, LeadB: 2, Feedback: 4}
	for _, c := range []struct {
		name, head string
		lead       func(d float64) (a, b float64)
		want       map[Role]int // nil where it must be asked
	}{
		{"resting at ground", "t,Motor open (V),Motor close (V),wiper (V)", ground, two},
		{"resting at the supply", "t,Motor open (V),Motor close (V),wiper (V)", supply, two},
		{"the other one first", "t,Motor close (V),Motor open (V),wiper (V)", supply, turned},
		{"one dead", "t,motor_fwd,motor_rev,wiper", dead, two},
		{"German", "t,Motor auf (V),Motor zu (V),Schleifer (V)", supply, two},
		{"inputs", "t,Motor up (0/1),Motor down (0/1),wiper (V)", logic, two},
		{"pins", "t,motor pin 5,motor pin 6,wiper", dead, two},
		{"pins, the higher one first", "t,Motor Klemme 10 (V),Motor Klemme 9 (V),Schleifer (V)", supply, turned},
		{"lettered wires", "t,motor wire A (V),motor wire B (V),wiper (V)", ground, two},
		{"ends of a drive", "t,drive_plus,drive_minus,wiper", ground, two},
		{"ends of a drive, the lower one first", "t,drive_lo_v,drive_hi_v,wiper_v", supply, turned},
		{"halves of a bridge", "t,half_bridge_1,half_bridge_2,wiper", ground, two},
		{"pins that each go both ways", "t,motor pin 5,motor pin 6,wiper", both, nil},
		{"two motors", "t,Motor left (V),Motor right (V),wiper (V)", supply, nil},
		{"drives of their own", "t,Motor open (V),Motor close (V),wiper (V)", both, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := c.head + "\n" + rig(50, 60, 3, func(s, d, v, supply, ref, amps float64) string {
				x, y := c.lead(d)
				return fmt.Sprintf("%.3f,%.3g,%.3g,%.4f", s, x, y, v)
			})
			if c.want == nil {
				if _, err := Read(strings.NewReader(text), Options{}); err == nil {
					t.Error("taken without asking")
				}
				return
			}
			wantRoles(t, rolesOf(t, text, Options{}), c.want)
		})
	}
}
