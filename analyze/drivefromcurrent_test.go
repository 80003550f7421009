package analyze

import (
	"math"
	"testing"
)

// unclipped takes the drive off the record and gives the current that each row of it
// drew: running amps, and amps of a motor that is held where the shaft stands under drive.
func unclipped(d *draft, running, held float64, signed bool) []float64 {
	amps := make([]float64, len(d.drive))
	for i, v := range d.drive {
		if math.Abs(v) > 1 {
			amps[i] = running
			if k := max(0, i-20); math.Abs(d.feed[i]-d.feed[k]) < 0.25*d.rate*float64(i-k)*d.dt {
				amps[i] = held
			}
			if signed {
				amps[i] *= math.Copysign(1, v)
			}
		}
		amps[i] += 0.003 * d.rng.NormFloat64()
		d.drive[i] = 0.02 * d.rng.NormFloat64()
	}
	return amps
}

// Where no clip shows the drive, the motor's current does: when it was driven, and which
// way, by its sign or by the travel. A shaft that is turned from outside makes a current
// only while it turns. (Drawn.)
func TestDriveFromCurrent(t *testing.T) {
	t.Parallel()
	patch := func(d *draft) *draft {
		d.read = func(d *draft) float64 {
			if d.x > 2 && d.x < 2.3 {
				return 4.9
			}
			return d.x
		}
		return d
	}
	broken := func(d *draft) *draft {
		d.read = func(d *draft) float64 {
			if d.t > 19 {
				return 2.6
			}
			return d.x
		}
		return d
	}
	same := func(d *draft) *draft { return d }
	for _, c := range []struct {
		name          string
		with          func(d *draft) *draft
		running, held float64
		signed        bool
		moves         bool
		kind          Kind // "" for a verdict of no fault
	}{
		{"signed", same, 0.1, 0.3, true, true, ""},
		{"without a sign", same, 0.1, 0.3, false, true, ""},
		{"signed, a worn patch", patch, 0.1, 0.3, true, true, DeadSpot},
		{"without a sign, a worn patch", patch, 0.1, 0.3, false, true, DeadSpot},
		{"signed, the reading stands from one moment on", broken, 0.1, 0.3, true, true, LastingLeap},
		{"turned from outside", same, 0.1, 0, true, false, SelfMotion},
		{"no current", same, 0, 0, true, false, SelfMotion},
	} {
		for seed := range uint64(2) {
			d := c.with(newDraft(seed)).sweeps(3)
			amps := unclipped(d, c.running, c.held, c.signed)
			tr := d.trace()
			tr.Current = beside("current", "A", amps)
			got, v := lookAt(t, tr)
			if moves := len(got.Moves) > 0; moves != c.moves || (c.kind == "") != (v.Conclusion == NoFault) || c.kind != "" && !showsKind(got, c.kind) || !c.moves && v.Conclusion != CannotTell {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
