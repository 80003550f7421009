package analyze

import "testing"

// seeksOpenEdge is a control that seeks a place beyond the edge of a track, where the reading
// lies at the high rail: driven out it sees the reading leap away, so it drives back
// until it sees it return, each time after a lag and a rest.
func seeksOpenEdge(seed uint64, rate, noise, lag, rest float64) *draft {
	const edge = 3.6
	d := newDraft(seed)
	d.rate, d.noise, d.dt, d.quantum = rate, noise, 0.01, 0.02
	d.x = 1.5
	d.read = func(d *draft) float64 {
		if d.x > edge {
			return 4.8
		}
		return d.x
	}
	// Rests elsewhere lose nothing.
	d.run(0, 2).run(12, 0.8/rate).run(0, 5).run(-12, 0.4/rate).run(0, 5)
	for d.x <= edge {
		d.run(12, d.dt)
	}
	d.run(12, lag).run(0, rest)
	for range 6 {
		for d.x > edge {
			d.run(-12, d.dt)
		}
		d.run(-12, lag).run(0, rest)
		for d.x <= edge {
			d.run(12, d.dt)
		}
		d.run(12, lag).run(0, rest)
	}
	// It gives up beyond the edge.
	d.run(0, 30)
	for d.x > 2 {
		d.run(-12, d.dt)
	}
	return d.run(0, 6)
}

// A slow shaft reads the same for a while before it comes over the edge, and so does one
// that has just been started anew: it does not stand there, and what it loses is the track's.
func TestOpenEdgeIsNoRest(t *testing.T) {
	t.Parallel()
	for _, e := range []struct{ rate, noise, lag, rest float64 }{
		{0.14, 0.02, 0.2, 0.02}, // as slow as its noise allows
		{0.38, 0.006, 0.06, 0.25},
	} {
		for seed := range uint64(3) {
			c, v := look(t, seeksOpenEdge(seed, e.rate, e.noise, e.lag, e.rest))
			if f := cableLoss(c); f != nil {
				t.Errorf("rate %g, seed %d: %s", e.rate, seed, f.Form)
			}
			if v.Conclusion != FeedbackSensor {
				t.Errorf("rate %g, seed %d: %s", e.rate, seed, say(c, v))
			}
		}
	}
}

// The same slow shaft against a stop there, and a wire that lets go wherever it rests:
// pressed against the stop, and midway with no drive.
func TestAWireAtRestOfASlowShaft(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.rate, d.noise, d.dt, d.quantum = 0.14, 0.02, 0.01, 0.02
		d.hi, d.x = 3.6, 1.5
		lost := false
		d.read = func(d *draft) float64 {
			if lost {
				return 4.8
			}
			return d.x
		}
		lose := func(volts, s float64) {
			lost = true
			d.run(volts, s)
			lost = false
		}
		d.run(0, 2).run(12, 6).run(0, 3)
		lose(0, 0.4)
		d.run(0, 2).run(12, 13)
		for range 3 { // pressed, with the drive on throughout
			d.run(12, 3)
			lose(12, 0.5)
		}
		d.run(12, 1).run(0, 2).run(-12, 7).run(0, 4)
		lose(0, 0.6)
		d.run(0, 3)
		c, v := look(t, d)
		if f := cableLoss(c); f == nil || f.Form != lossAtRestToo || v.Conclusion != WiringControl {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}
