package analyze

import (
	"math"
	"testing"
)

// Where only the polarity was logged, a slow band amid the way, crossed both ways without a
// load on the motor, is the track's rather than a control's; near a stop it may be either's. (Drawn.)
func TestSlowBandAmidTheWayVoltsUnknown(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		from, to float64 // V
		again    float64 // V, where another such band begins; 0 for none
		want     bool    // the sensor is stated
	}{
		{"amid the way", 2, 2.7, 0, true},
		{"near a stop", 0.6, 1.2, 0, false},
		{"at two places", 1.4, 1.9, 3, false},
	} {
		for seed := range uint64(2) {
			a := newAmmeter(seed)
			a.signOnly = true
			in := func(d *draft) bool {
				return d.x > c.from && d.x < c.to || c.again > 0 && d.x > c.again && d.x < c.again+c.to-c.from
			}
			a.speed = func(d *draft, _ float64) float64 {
				if in(d) {
					return 0.35
				}
				return 1
			}
			a.amps = func(d *draft) float64 {
				if in(d) {
					return 0.12
				}
				return math.NaN()
			}
			a.sweeps(3)
			got, err := Examine(a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if v := Judge(got).Verdict; finding(got, SlowZone) == nil || (v.Conclusion == FeedbackSensor) != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
