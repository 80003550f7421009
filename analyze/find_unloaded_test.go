package analyze

import (
	"math"
	"testing"
)

// sagging draws drives whose volts fall with the motor's current: little for one that
// runs, much for one that is held, nothing while the circuit is open.
func sagging(seed uint64, open, held func(d *draft, dir float64) bool) *draft {
	return newDraft(seed).sagging(open, held)
}

func (d *draft) sagging(open, held func(d *draft, dir float64) bool) *draft {
	var amps []float64
	last := d.x
	d.block = func(d *draft, dir float64) bool { return dir != 0 && (open(d, dir) || held(d, dir)) }
	d.read = func(d *draft) float64 {
		dir := 0.0
		if d.volts != 0 {
			dir = math.Copysign(1, d.volts)
		}
		a := 0.0
		switch {
		case dir == 0 || open(d, dir):
		case d.x == last:
			a = 0.4
		default:
			a = 0.1
		}
		last = d.x
		amps = append(amps, a*dir)
		return d.x
	}
	d.sweeps(3)
	for i := range d.drive {
		d.drive[i] -= 1.2 * amps[i]
	}
	return d
}

// Stands at chance places, without a current channel: the volts at the leads tell a lead
// that opens from a door that catches. A gap in the teeth takes the load off as well, but
// always at one place. (Drawn.)
func TestVoltsTellOfTheCurrent(t *testing.T) {
	t.Parallel()
	never := func(*draft, float64) bool { return false }
	byTime := func(d *draft, _ float64) bool {
		for _, at := range []float64{3.1, 8.7, 16.2, 22.9, 29.3} {
			if d.t > at && d.t < at+0.5 {
				return true
			}
		}
		return false
	}
	var since float64
	byPlace := func(d *draft, dir float64) bool {
		if math.Abs(d.x-2.5) > 0.01 {
			since = d.t
		}
		return d.t-since < 0.6 && math.Abs(d.x-2.5) <= 0.006
	}
	for _, c := range []struct {
		name       string
		open, held func(d *draft, dir float64) bool
		found      bool
		want       Fault
	}{
		{"the circuit opens by time, behind the clips", byTime, never, true, CannotTell},
		{"held by time", never, byTime, false, anyOther},
		{"a gap in the teeth", byPlace, never, true, Motor},
		{"sound", never, never, false, NoFault},
	} {
		for seed := range uint64(3) {
			got, v := look(t, sagging(seed, c.open, c.held))
			if (formed(got, Broken, brokenUnloaded) != nil) != c.found || c.want != anyOther && v.Conclusion != c.want || c.want == CannotTell && !betweenMotorAndWiring(v) || c.want == anyOther && v.Conclusion == WiringControl {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// Turned over at a stop, the motor runs light while it takes up the slack of gears and links:
// a twentieth of a slow travel lasts longer than a third of a second. (Drawn.)
func TestSlackTakesNoCurrent(t *testing.T) {
	t.Parallel()
	var turned, was float64
	slack := func(d *draft, dir float64) bool {
		if dir != was && dir != 0 {
			turned, was = d.t, dir
		}
		return d.t-turned < 0.36
	}
	for seed := range uint64(3) {
		turned, was = -1, 0
		d := newDraft(seed)
		d.rate = 0.4
		d.sagging(slack, func(*draft, float64) bool { return false })
		if got, v := look(t, d); formed(got, Broken, brokenUnloaded) != nil || v.Conclusion != NoFault {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
