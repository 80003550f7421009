package analyze

import "testing"

// The reading shrinks at one moment in the midst of a stroke, and all strokes take as
// long as before: both stops are reached, and no object holds the door short of one.
// An object that does makes the strokes shorter.
func TestScaleShrinksOnce(t *testing.T) {
	t.Parallel()
	strokes := func(d *draft) *draft {
		d.dt, d.noise, d.quantum, d.rate, d.lo, d.hi = 0.05, 0.003, 0.01, 0.43, 0.68, 4.16
		d.x = d.hi
		d.run(0, 2.5).run(12, 10.3).run(0, 2)
		return d.run(-12, 10.3).run(0, 3).run(12, 10.3).run(0, 3).run(-12, 10.3).run(0, 2).run(12, 10.3).run(0, 6)
	}
	checkDrawn(t, []drawnCase{
		{"the reading shrinks", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 33.6 {
					return 0.86 * d.x
				}
				return d.x
			}
			return strokes(d)
		}, FeedbackSensor, SpanDrift},
		{"an object falls in", func(s uint64) *draft {
			d := newDraft(s)
			d.block = func(d *draft, dir float64) bool { return d.t > 30 && dir > 0 && d.x >= 3.58 }
			return strokes(d)
		}, DoorMechanism, Jam},
	}, "")
}
