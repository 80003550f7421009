package analyze

import "testing"

// A converter of few bits steps once in many rows: short drives, in which one step falls,
// must not set the pace by which long ones would stand still.
func TestSingleStepIsNoSpeed(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		draw := func(block bool) (*Capture, Verdict) {
			d := newDraft(seed)
			d.dt, d.noise, d.quantum, d.rate = 1.0/30, 0.005, 0.07, 0.18
			d.lo, d.hi, d.x = 0.7, 2.65, 1.8
			d.run(0, 0.8).run(12, 5.6).run(0, 0.13).run(-12, 11.5).run(0, 0.13)
			d.block = func(d *draft, dir float64) bool { return block && dir > 0 && d.x > 1.6 }
			for range 2 {
				d.run(12, 7)
				for range 40 {
					d.run(0, 0.04).run(12, 0.1)
				}
				d.run(0, 0.5).run(-12, 7)
				for range 20 {
					d.run(0, 0.04).run(-12, 0.1)
				}
			}
			return look(t, d)
		}
		if c, v := draw(false); v.Conclusion != NoFault {
			t.Errorf("seed %d, sound: %s", seed, say(c, v))
		}
		if c, v := draw(true); v.Conclusion == NoFault {
			t.Errorf("seed %d, held at 1.6 V: %s", seed, say(c, v))
		}
	}
}

// A control that goes by pulses pushes on at the stop once it is there: one visit, and no
// insisting. Coming there again and again it insists.
func TestPulsesAtAStopAreOneVisit(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, visits := range []int{1, 3} {
			d := newDraft(seed)
			d.lo, d.x, d.rate = 1.1, 2.7, 0.4
			d.run(0, 1)
			for range visits {
				d.run(-12, 10)
				for range 6 {
					d.run(0, 0.15).run(-12, 0.4)
				}
				d.run(0, 2)
			pass:
				for d.x < 4.3 {
					d.run(12, 0.1)
					if len(d.time) > 1e6 {
						break pass
					}
				}
				d.run(0, 1).run(-12, 4).run(0, 1).run(12, 4.02).run(0, 1)
			}
			for range 3 - visits {
				d.run(-12, 4).run(0, 1).run(12, 4).run(0, 1)
			}
			c, v := look(t, d)
			f := formed(c, Jam, jamDriven+", while the other end is reached without a stall")
			if (f != nil) != (visits > 1) {
				t.Errorf("seed %d, %d visits: %s", seed, visits, say(c, v))
			}
		}
	}
}
