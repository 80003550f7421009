package analyze

import "testing"

// A drive that never rests leaves the stands at the stops to tell the instrument's
// noise from that of a contact that is bad everywhere.
func TestBadContactWithoutARest(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed)
		d.dt, d.rate = 0.04, 0.3
		d.read = func(d *draft) float64 {
			if d.x == d.lo || d.x == d.hi {
				return d.x
			}
			return d.x + 0.2*d.rng.NormFloat64()
		}
		for range 3 {
			d.run(12, 17).run(-12, 17)
		}
		c, v := look(t, d)
		if c.Noise > 0.02 || v.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: noise %.3f, %s", seed, c.Noise, say(c, v))
		}
	}
}

// Where a coupled capture stalls at times and goes on past it at others, by pulses, it
// does not end there.
func TestPassedStopIsNotShortOfFree(t *testing.T) {
	t.Parallel()
	span := Interval{0.5, 4.5}
	free := &Capture{Free: true, Unit: "V", Span: span, Stops: []Stop{{Level: 0.5, Direction: Down, Extreme: true}, {Level: 4.5, Direction: Up, Extreme: true}}}
	for _, c := range []struct {
		end  float64
		want bool
	}{{1.5, true}, {2.4, false}} {
		coupled := &Capture{Unit: "V", Span: Interval{0.6, 1.5}, Moves: []Move{{Start: 0.6, End: 1.5}, {Start: 1.5, End: c.end}},
			Stops: []Stop{{Level: 0.6, Direction: Down, Extreme: true}, {Level: 1.5, Direction: Up, Extreme: true}}}
		if got := shortOfFree([]*Capture{coupled, free}); (got != nil) != c.want {
			t.Errorf("moves up to %g V: %+v", c.end, got)
		}
	}
}
