package analyze

import (
	"math"
	"testing"
)

// A slow band under pulses: a motor that a door loads there draws more, and one that draws
// what it draws beside the band, at the same pulses, turns as before. Where the pulses are
// fewer there, the control slows it down. (Drawn.)
func TestSlowBandUnderPulses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		amps float64 // in the band; 0.12 elsewhere
		on   int     // rows of five, in the band; four elsewhere
		want Fault
		free bool
	}{
		{"the track", 0.12, 4, FeedbackSensor, true},
		{"a door that binds", 0.3, 4, DoorMechanism, false},
		{"fewer pulses", 0.12, 2, anyOther, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.dt = 0.004
			var amps []float64
			row := func(volts, i float64) {
				d.run(volts, d.dt)
				amps = append(amps, i+0.002*d.rng.NormFloat64())
			}
			in := func() bool { return d.x > 2 && d.x < 2.7 }
			d.speed = func(*draft, float64) float64 {
				if in() && c.on == 4 {
					return 0.4
				}
				return 1
			}
			rest := func(s float64) {
				for range int(math.Round(s / d.dt)) {
					row(0, 0)
				}
			}
			rest(1)
			for n := range 6 {
				dir := []float64{1, -1}[n%2]
				for k := range int(math.Round(8.5 / d.dt)) {
					i, on := 0.12, 4
					switch {
					case in():
						i, on = c.amps, c.on
					case d.x == d.lo || d.x == d.hi:
						i = 0.4
					}
					if k%5 < on {
						row(12*dir, i*dir)
					} else {
						row(0, i*dir)
					}
				}
				rest(1)
			}
			tr := d.trace()
			tr.Current = beside("current", "A", amps)
			got, v := lookAt(t, tr)
			f := finding(got, SlowZone)
			if (f != nil && f.has(currentBeside)) != c.free || c.want != anyOther && v.Conclusion != c.want || c.want == anyOther && v.Conclusion == FeedbackSensor {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
