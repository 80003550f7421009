package analyze

import (
	"math"
	"testing"
)

// From the high end the reading comes back late. Where the motor draws its running current
// meanwhile, the track ends before the shaft; where it draws none, it did not start. (Drawn.)
func TestLateReturnByCurrent(t *testing.T) {
	t.Parallel()
	for _, open := range []bool{false, true} {
		d := newDraft(3)
		d.dt = 0.01
		var amps []float64
		since, was, way := 0.0, 0.0, d.x
		dead := func(dir float64) bool { return open && dir < 0 && was > 4.49 && d.t-since < 1 }
		d.block = func(d *draft, dir float64) bool {
			if dir != math.Copysign(boolOf(way != 0), way) {
				since, was, way = d.t, d.x, dir
			}
			return dead(dir)
		}
		if !open {
			d.hi = 5.3
		}
		d.read = func(d *draft) float64 {
			dir := math.Copysign(boolOf(d.volts != 0), d.volts)
			switch {
			case dir == 0 || dead(dir):
				amps = append(amps, 0)
			case d.x >= d.hi && dir > 0 || d.x <= d.lo && dir < 0:
				amps = append(amps, 0.25*dir)
			default:
				amps = append(amps, 0.06*dir)
			}
			amps[len(amps)-1] += 0.002 * d.rng.NormFloat64()
			return math.Min(d.x, 4.5)
		}
		tr := d.sweeps(4).trace()
		tr.Current = beside("current", "A", amps)
		got, v := lookAt(t, tr)
		if lost := showsKind(got, EndLoss); lost == open || (v.Conclusion == FeedbackSensor) == open {
			t.Errorf("circuit open %v: %s", open, say(got, v))
		}
	}
}
