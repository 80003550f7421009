package analyze

import (
	"math"
	"testing"
)

// A noisy reading shows no hold of 0.4 s at a slow actuator's stop; the current does. Both stops
// that read higher then tell a zero that wanders, not two obstacles. Drives that end under way,
// at the current of a motor that turns, hold nothing. (Drawn.)
func TestBriefHoldsByTheirCurrent(t *testing.T) {
	t.Parallel()
	const (
		held, running = 0.26, 0.07 // A
		creep         = 0.02       // V/s
		lo, hi        = 1.7, 4.2   // V
		rate          = 0.25       // V/s
	)
	for _, c := range []struct {
		name  string
		stop  float64 // s that each stop is pressed
		creep float64
		want  bool
	}{{"a zero that wanders", 0.4, creep, true}, {"a steady one", 0.4, 0, false}, {"turned over before the stops", -0.4, creep, false}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt, d.noise, d.rate, d.lo, d.hi, d.x = 0.01, 0.03, rate, lo, hi, 3.4
			d.read = func(d *draft) float64 { return d.x + c.creep*d.t }
			var amps []float64
			run := func(volts, seconds float64) {
				for n := 0; n < int(math.Round(seconds/d.dt)); n++ {
					a := running
					if n < 5 || d.x >= hi && volts > 0 || d.x <= lo && volts < 0 {
						a = held
					}
					amps = append(amps, math.Copysign(a, volts)*boolOf(volts != 0)+0.003*d.rng.NormFloat64())
					d.run(volts, d.dt)
				}
			}
			run(12, (hi-d.x)/rate+c.stop)
			for range 2 {
				run(0, 0.8)
				run(-12, (d.x-lo)/rate+c.stop)
				run(0, 0.8)
				run(12, (hi-d.x)/rate+c.stop)
			}
			tr := d.trace()
			tr.Current = beside("current", "A", amps)
			got, v := lookAt(t, tr)
			if has := showsKind(got, SpanDrift); has != c.want || showsKind(got, Jam) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
