package analyze

import (
	"math"
	"testing"
)

// Hum that the rows fold to their own rate, or that they show as it is, hides from row to
// row what a worn place does; means over whole cycles of it do not. Hum alone makes no
// worn place. (Drawn.)
func TestWornPlaceUnderHum(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		hz, dt  float64
		worn    bool
		deepest float64 // V, by which the reading is pulled down
	}{
		{"folded to every other row", 49.98, 0.01, true, 0.7},
		{"folded to every other row, sound", 49.98, 0.01, false, 0},
		{"folded to two rows and a half, sound", 60.02, 0.01, false, 0},
		{"four rows a cycle", 50, 0.005, true, 0.5},
		{"four rows a cycle, sound", 50, 0.005, false, 0},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt, d.noise, d.quantum, d.rate = c.dt, 0.01, 0.02, 0.38
			d.read = func(d *draft) float64 {
				v := d.x + 0.13*math.Cos(2*math.Pi*c.hz*d.t+0.4)
				if c.worn && d.x > 2.7 && d.x < 3 && d.volts != 0 && d.rng.Float64() < 0.3 {
					v -= c.deepest * d.rng.Float64()
				}
				return v
			}
			got, v := look(t, d.sweeps(2))
			f := finding(got, NoisyTrack)
			if c.worn && (f == nil || !f.Volts.Overlaps(Interval{2.7, 3}) || f.Volts.Width() > 0.6 || v.Conclusion != FeedbackSensor) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
			if !c.worn && (f != nil || v.Conclusion != NoFault) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// The mean over whole cycles leaves a hum out, that over half of one more does not.
func TestWholeCycles(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n     int
		cycle float64
		want  int
	}{{3, 0, 3}, {2, 2.0008, 2}, {3, 2, 4}, {3, 2.5, 5}, {4, 4, 4}, {5, 4, 8}, {2, 20, 2}} {
		if got := wholeCycles(c.n, c.cycle); got != c.want {
			t.Errorf("%d rows, %.4g to a cycle: %d, want %d", c.n, c.cycle, got, c.want)
		}
	}
}
