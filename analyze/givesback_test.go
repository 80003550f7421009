package analyze

import (
	"math"
	"testing"
)

// A reading that goes back little by little while the motor is pressed against a stop left
// its shaft. One that springs back as the drive ends, as padded stops let it, did not; one
// that leaps is told by its leap. (Drawn.)
func TestReadingGoesBack(t *testing.T) {
	t.Parallel()
	type reads func(d *draft, since float64) float64 // volts beside the shaft's, so many s after it met the stop
	for _, c := range []struct {
		name string
		off  reads
		want bool
	}{
		{"wanders at the stop", func(d *draft, s float64) float64 { return -0.12 * math.Min(s, 4) }, true},
		{"wanders there, hardly", func(d *draft, s float64) float64 { return -0.02 * math.Min(s, 4) }, false},
		{"leaps there", func(d *draft, s float64) float64 {
			if s > 1.5 {
				return -0.4
			}
			return 0
		}, false},
		{"springs back as the drive ends", func(d *draft, s float64) float64 {
			if d.volts == 0 {
				return -0.08
			}
			return 0
		}, false},
		{"sound", func(*draft, float64) float64 { return 0 }, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			met := math.Inf(1)
			d.read = func(d *draft) float64 {
				if d.x < d.hi {
					met = math.Inf(1)
					return d.x
				}
				met = math.Min(met, d.t)
				return d.x + c.off(d, d.t-met)
			}
			d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1).run(12, 10).run(0, 1).run(-12, 3)
			got, v := look(t, d)
			found := formed(got, SelfMotion, againstDrive) != nil
			if found != c.want || v.Conclusion == DoorMechanism || v.Conclusion == Motor || found != (v.Conclusion == FeedbackSensor) && c.name != "leaps there" {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
