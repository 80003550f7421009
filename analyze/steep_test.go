package analyze

import "testing"

// steepAt makes the track give k times the volts to the turn from a to b, of the
// shaft's own way, and less elsewhere so that the ends stay.
func steepAt(d *draft, a, b, k float64) *draft {
	all := d.hi - d.lo
	flat := all / (all + (k-1)*(b-a))
	d.read = func(d *draft) float64 {
		v := d.lo + flat*(min(d.x, a)-d.lo)
		if d.x > a {
			v += flat * k * (min(d.x, b) - a)
		}
		if d.x > b {
			v += flat * (d.x - b)
		}
		return v
	}
	return d
}

func TestSteepTrackDrawn(t *testing.T) {
	t.Parallel()
	drags := func(from, to, speed float64) func(d *draft, dir float64) float64 {
		return func(d *draft, dir float64) float64 {
			if d.x > from && d.x < to {
				return speed
			}
			return 1
		}
	}
	checkDrawn(t, []drawnCase{
		{"twice as steep over a tenth", func(s uint64) *draft { return steepAt(newDraft(s), 2.6, 3, 2).sweeps(3) }, FeedbackSensor, BentTrack},
		{"five times as steep over a seventh", func(s uint64) *draft { return steepAt(newDraft(s), 1.5, 2.1, 5).sweeps(3) }, FeedbackSensor, BentTrack},
		{"steep, at 25 Hz", func(s uint64) *draft {
			d := steepAt(newDraft(s), 2.6, 3, 3)
			d.dt = 0.04
			return d.sweeps(3)
		}, FeedbackSensor, BentTrack},
		{"a door that drags on one side, both ways", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = drags(2.2, 3.4, 0.5)
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
		{"a door that drags over much of the last half, both ways", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = drags(2.4, 3.5, 0.5)
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
	}, BentTrack)
}
