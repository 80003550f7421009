package analyze

import (
	"math"
	"testing"
)

// A track that ends before the actuator's own stops lets the motor run on, while the
// reading stands, before it is held; with play it is held at once.
func TestPlayOrTheTracksEnds(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		ends, play := newAmmeter(seed), newAmmeter(seed)
		ends.shaft = func(d *draft) float64 { return math.Max(0.7, math.Min(4.3, d.x)) }
		play.played(0.5)
		play.amps = func(d *draft) float64 {
			if d.volts > 0 && d.x == d.hi || d.volts < 0 && d.x == d.lo {
				return play.held
			}
			return play.running
		}
		for _, c := range []struct {
			name string
			a    *ammeter
			want Fault
		}{{"the track's ends", ends, NoFault}, {"play", play, Motor}} {
			c.a.sweeps(3)
			got, err := Examine(c.a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if v := Judge(got).Verdict; v.Conclusion != c.want || showsKind(got, Play) != (c.want == Motor) {
				t.Errorf("seed %d: %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
