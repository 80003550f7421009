package analyze

import (
	"math"
	"testing"
)

// Where the track is open beyond a place the wire drifts to its level, and every switching
// meanwhile steps the reading: no current in the sensor's wires does that, which steps it
// on the sound side as well.
func TestStepsBeyondAnOpenEdge(t *testing.T) {
	t.Parallel()
	const edge, charge = 3.0, 0.15 // V; s
	for _, c := range []struct {
		name  string
		shift float64 // V, while the motor is driven
		open  bool
		want  Fault
	}{
		{"open beyond", 0, true, FeedbackSensor},
		{"bad ground", 0.35, false, WiringControl},
		{"both", 0.35, true, WiringControl},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt = 0.02
			wire := 0.0
			d.read = func(d *draft) float64 {
				v := d.x
				if c.open && d.x > edge {
					wire += (5 - wire) * (1 - math.Exp(-d.dt/charge))
					return wire
				}
				if d.volts != 0 {
					v += c.shift
				}
				wire = v
				return v
			}
			d.run(0, 1)
			for range 3 { // up bit by bit, with rests
				for range 6 {
					d.run(12, 0.4).run(0, 0.4)
				}
				for d.x < edge-0.02 {
					d.run(12, d.dt)
				}
				for range 8 { // to and fro over the edge
					d.run(12, 0.06).run(0, 0.24).run(-12, 0.24).run(0, 0.24).run(12, 0.18)
				}
				d.run(0, 0.5).run(-12, 6).run(0, 0.5)
			}
			got, v := look(t, d)
			if v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
