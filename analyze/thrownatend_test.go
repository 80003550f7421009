package analyze

import (
	"math"
	"testing"
)

// floated makes the reading of an open wiper's wire run down to a level, V, as an input's
// capacitor lets it, wherever open says so, and find the track again at once.
func (d *draft) floated(level float64, open func(d *draft) bool) *draft {
	const runsDown = 0.05 // s
	on, last := math.NaN(), d.x
	moving := false
	d.read = func(d *draft) float64 {
		moving, last = d.x != last, d.x
		if math.IsNaN(on) || !(moving && open(d)) {
			on = d.x
		} else {
			on += (level - on) * d.dt / runsDown
		}
		return on
	}
	return d
}

// A track that fails over the last stretch before a stop throws the reading against the
// drive as the shaft goes in and as it comes out. A contact in the cable does that
// anywhere, teeth and springs throw a shaft one way only, and what a stalled motor makes
// of its wires it makes at both stops.
func TestTrackThrownBackAtItsEnd(t *testing.T) {
	t.Parallel()
	worn := func(d *draft) bool { return d.x > 4.38 && d.x < 4.44 }
	for _, c := range []struct {
		name string
		make func(seed uint64) *draft
		want bool
	}{
		{"worn before the high stop", func(seed uint64) *draft { return newDraft(seed).floated(4.2, worn).sweeps(2) }, true},
		{"less beyond a place before the high stop", func(seed uint64) *draft {
			d := newDraft(seed)
			d.read = func(d *draft) float64 {
				if d.x > 4.3 {
					return d.x - 0.15
				}
				return d.x
			}
			return d.sweeps(3)
		}, true},
		{"visited once", func(seed uint64) *draft {
			d := newDraft(seed).floated(4.2, worn)
			return d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1).run(12, 3).run(0, 1)
		}, true},
		{"worn before the low stop, in counts", func(seed uint64) *draft {
			return newDraft(seed).floated(0.8, func(d *draft) bool { return d.x < 0.62 && d.x > 0.56 }).sweeps(2).counts()
		}, true},
		{"sound", func(seed uint64) *draft { return newDraft(seed).sweeps(2) }, false},
		{"open here and there", func(seed uint64) *draft {
			return newDraft(seed).floated(3.9, func(d *draft) bool { return math.Mod(d.t, 2.3) < 0.15 }).sweeps(2)
		}, false},
		{"thrown back as it arrives", func(seed uint64) *draft {
			d := newDraft(seed)
			since := 0.0
			d.read = func(d *draft) float64 { // a seal pushes it back whenever a tooth lets go
				if since += d.dt; d.x < d.hi || d.volts <= 0 {
					since = 0
				}
				return d.x - 0.2*math.Exp(-math.Mod(since+1e-9, 0.4)/0.1)*math.Min(1, since/0.01)
			}
			return d.sweeps(3)
		}, false},
		{"a ground that lifts with the stall's current", func(seed uint64) *draft {
			d := newDraft(seed)
			d.read = func(d *draft) float64 {
				if d.volts != 0 && (d.x == d.lo || d.x == d.hi) {
					return d.x - math.Copysign(0.15, d.volts)
				}
				return d.x
			}
			return d.sweeps(3)
		}, false},
		{"sparks at the high end", func(seed uint64) *draft {
			d := newDraft(seed)
			d.read = func(d *draft) float64 {
				if d.x > 4.2 && d.volts != 0 && d.rng.Float64() < 0.1 {
					return d.x - 0.4
				}
				return d.x
			}
			return d.sweeps(3)
		}, false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.make(seed))
			told := false
			for _, f := range got.Findings {
				// A gap that is told as a place by itself needs no more.
				told = told || (f.Form == thrownAtEnd || c.want && f.Kind == DeadSpot) && f.Strength > 0.5
			}
			if told != c.want {
				t.Errorf("%s, seed %d: thrown back at the end: %v, expected %v: %s", c.name, seed, told, c.want, say(got, v))
			}
			if c.want && v.Conclusion != FeedbackSensor {
				t.Errorf("%s, seed %d: %s %.2f: %s", c.name, seed, v.Conclusion, v.Probability, say(got, v))
			}
		}
	}
}
