package analyze

import (
	"math"
	"testing"
)

// A scale that shrinks towards the high end makes the shaft read slower and creep where it
// stands; a motor that heats leaves it where it stands. (Drawn.)
func TestScaleThatShrinksAtRest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		scale, slower float64 // 1/s
		want          Fault
	}{
		{"the scale shrinks", 0.003, 0, FeedbackSensor},
		{"the motor heats", 0, 0.003, Motor},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.noise, d.quantum, d.rate = 0.003, 0.0006, 0.6
			at := func(d *draft) float64 { return float64(len(d.time)) * d.dt }
			d.speed = func(d *draft, _ float64) float64 { return math.Exp(-c.slower * at(d)) }
			d.read = func(d *draft) float64 { return 4.5 - (4.5-d.x)*math.Exp(-c.scale*at(d)) }
			d.run(0, 1).run(12, 10)
			for range 5 {
				d.run(-12, 3).run(0, 6).run(12, 10).run(0, 1)
			}
			got, v := look(t, d)
			f := formed(got, SpanDrift, byRests)
			if (f != nil) != (c.scale > 0) || v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
