package analyze

import (
	"math"
	"testing"
)

// One reversal off a stop tells play where the current shows that the motor was held as soon as
// the reading stood, and turned while it waited. Gears in order have a little of it; a track
// that ends before the stop lets the motor run on in arriving as well; a reading that comes late
// comes late both times; what holds the shaft holds the motor. (Drawn.)
func TestPlayOfOneReversalByItsCurrent(t *testing.T) {
	t.Parallel()
	at := func(d *draft) bool { return d.volts > 0 && d.x == d.hi || d.volts < 0 && d.x == d.lo }
	for _, c := range []struct {
		name                    string
		play, ends, late, stuck float64 // V, V, s, s
		want                    bool
	}{
		{name: "play", play: 0.6, want: true},
		{name: "gears in order", play: 0.2},
		{name: "the track ends before the stop", ends: 0.6},
		{name: "a reading that comes late", late: 0.8},
		{name: "held at the stop", stuck: 0.8},
	} {
		for seed := range uint64(2) {
			a := newAmmeter(seed)
			a.x = a.hi
			if c.play > 0 {
				a.played(c.play)
			}
			waited := 0.0
			stuck := func() bool { return a.volts > 0 && waited < c.stuck && a.x == a.lo }
			a.block = func(d *draft, _ float64) bool {
				if stuck() {
					waited += d.dt
					return true
				}
				return false
			}
			a.amps = func(d *draft) float64 {
				if at(d) || stuck() {
					return a.held
				}
				return a.running
			}
			var xs []float64
			a.shaft = func(d *draft) float64 {
				xs = append(xs, math.Max(d.lo+c.ends, d.x))
				return xs[max(0, len(xs)-1-int(c.late/d.dt))]
			}
			a.run(0, 1).run(-12, 7).run(12, 8).run(0, 1)
			got, v := lookAt(t, a.trace())
			if told := showsKind(got, Play); told != c.want || told && v.Conclusion != Motor {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
