package analyze

import "testing"

// chatter reads a shaft whose signal, while bad says so, takes another wrong level near
// the right one every so often, moving or at rest.
func (d *draft) chatter(bad func(d *draft) bool) *draft {
	off, next := 0.0, 0.0
	d.read = func(d *draft) float64 {
		if !bad(d) {
			return d.x
		}
		if d.t > next {
			off = 0.5 * d.rng.Float64()
			next = d.t + 0.1 + 0.4*d.rng.Float64()
		}
		return d.x - off
	}
	return d
}

// A wiper that comes to rest in a bad stretch of its track loses the signal at rest as
// well, and never where it rests elsewhere. A contact in the cable does so wherever the
// wiper is: also where two of its bad whiles fall into rests at one place, or where the
// wiper hardly was anywhere else.
func TestRestInBadStretch(t *testing.T) {
	t.Parallel()
	visits := func(d *draft) *draft {
		d.dt, d.noise, d.quantum, d.rate, d.x = 0.01, 0.001, 0.001, 1, 2.5
		d.run(0, 3)
		for range 3 {
			d.run(-12, 1.45).run(0, 6).run(12, 0.05).run(0, 3).run(12, 2.9).run(0, 5).run(-12, 1.5).run(0, 4)
		}
		return d
	}
	stays := func(d *draft) *draft {
		d.dt, d.noise, d.quantum, d.rate, d.x = 0.01, 0.001, 0.001, 1, 2.5
		d.run(0, 1).run(-12, 1.45)
		for range 6 {
			d.run(0, 4).run(12, 0.2).run(0, 4).run(-12, 0.2)
		}
		return d.run(12, 2.9).run(0, 1)
	}
	checkDrawn(t, []drawnCase{
		{"it rests in a bad stretch", func(s uint64) *draft {
			return visits(newDraft(s).chatter(func(d *draft) bool { return d.x < 1.3 }))
		}, FeedbackSensor, NoisyTrack},
		{"a contact that is bad for a while now and then", func(s uint64) *draft {
			return visits(newDraft(s).chatter(func(d *draft) bool { return int(d.t/9)%2 == 1 }))
		}, WiringControl, Dropouts},
		{"a contact that is bad from a moment on, at one place", func(s uint64) *draft {
			return stays(newDraft(s).chatter(func(d *draft) bool { return int(d.t/11)%2 == 1 }))
		}, WiringControl, Dropouts},
		{"a sound track", func(s uint64) *draft { return visits(newDraft(s)) }, NoFault, ""},
	}, "")
}

// The shaft was where a slope of the reading set out, not where its steepest step is.
func TestSlopeOfALoss(t *testing.T) {
	t.Parallel()
	w := &work{tol: 0.02, v: []float64{3, 3, 2.6, 1.9, 0.8, 0.7, 0.69, 0.7, 2.2, 2.9, 3, 3}}
	for bin, want := range map[int][2]int{4: {1, 5}, 8: {7, 10}} {
		if from, to := w.slopeOf(bin); [2]int{from, to} != want {
			t.Errorf("the slope that steps to bin %d goes from %d to %d, expected %v", bin, from, to, want)
		}
	}
}
