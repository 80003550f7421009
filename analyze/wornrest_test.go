package analyze

import "testing"

// wild reads a shaft whose contact is bad while bad says so: each row that moves is
// off, at rest a wrong reading is kept for a second or so and then another taken.
func (d *draft) wild(bad func(d *draft) bool) *draft {
	off, next, was := 0.0, 0.0, d.x
	d.read = func(d *draft) float64 {
		moves := d.x != was
		was = d.x
		if !bad(d) {
			return d.x
		}
		if moves || d.t > next {
			off = 1.4 * (d.rng.Float64() - 0.5)
			next = d.t + 0.5 + d.rng.Float64()
		}
		return d.x + off
	}
	return d
}

// A control goes to and from an end and corrects there by short pulses. A worn part of
// the track in which it rests throws the reading about at rest as well; a connector
// that does so knows nothing of the place.
func TestRestOnWornTrack(t *testing.T) {
	t.Parallel()
	visits := func(d *draft) *draft {
		d.dt, d.noise, d.quantum, d.rate, d.x = 0.05, 0.001, 0.001, 0.4, 1
		d.run(0, 4).run(12, 2).run(0, 3)
		for range 2 {
			d.run(12, 4.9).run(0, 4)
			for range 3 {
				d.run(12, 0.1).run(0, 2).run(-12, 0.1).run(0, 2)
			}
			d.run(-12, 5).run(0, 6)
		}
		return d
	}
	atTimes := func(d *draft) bool { return int(d.t/7)%2 == 1 }
	checkDrawn(t, []drawnCase{
		{"it rests on a worn end", func(s uint64) *draft {
			return visits(newDraft(s).wild(func(d *draft) bool { return d.x > 3.3 }))
		}, FeedbackSensor, NoisyTrack},
		{"a connector that throws the reading about at times", func(s uint64) *draft {
			return visits(newDraft(s).wild(atTimes))
		}, WiringControl, Dropouts},
		{"a sound track", func(s uint64) *draft { return visits(newDraft(s)) }, NoFault, ""},
	}, "")
}

// A control rests in an open stretch and steps out of it over its far edge, again and
// again: the near edge was met once. That the last rows of the stroke are a leap must
// not turn the sense of the drive over.
func TestRestInOpenStretch(t *testing.T) {
	t.Parallel()
	visits := func(d *draft) *draft {
		d.rate = 0.7
		d.run(0, 0.6)
		for d.x < 3.502 {
			d.run(12, d.dt)
		}
		d.run(0, 1.4).run(-12, 0.12)
		for range 4 {
			d.run(0, 1.4).run(12, 0.2).run(0, 1.4).run(-12, 0.2)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"it rests in an open stretch", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.x > 3.1 && d.x < 3.497 {
					return 0
				}
				return d.x
			}
			return visits(d)
		}, FeedbackSensor, DeadSpot},
		{"a connector that lets go while it rests", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 4 && int((d.t+0.3)/1.1)%2 == 1 {
					return 0
				}
				return d.x
			}
			return visits(d)
		}, WiringControl, Dropouts},
	}, "")
}
