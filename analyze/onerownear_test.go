package analyze

import (
	"math"
	"testing"
)

// Three single rows that stray a little, two of them close together by chance, are no
// place; a place that throws a row off in every pass is one.
func TestSingleRowsThatFallTogether(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		at   func(d *draft, up bool) float64 // V, what a row at that place strays by
		want bool
	}{
		{"three sparks", nil, false},
		{"a worn place", func(d *draft, up bool) float64 { return 0.15 }, true},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt, d.rate, d.noise = 0.0167, 0.2, 0.001
			was, n := d.x, 0
			d.read = func(d *draft) float64 {
				last := was
				was = d.x
				over := func(place float64) bool { return math.Min(last, d.x) <= place && math.Max(last, d.x) > place }
				if c.at != nil {
					if over(4.21) {
						return d.x + c.at(d, d.x > last)
					}
					return d.x
				}
				switch {
				case d.x > last && over(4.21) && n == 0:
					n = 1
					return d.x + 0.11
				case d.x > last && over(3.97) && n == 1:
					n = 2
					return d.x - 0.16
				case d.x > last && over(4.24) && n == 2:
					n = 3
					return d.x + 0.13
				}
				return d.x
			}
			got, v := look(t, d.sweeps(2))
			if has := showsKind(got, DeadSpot) || showsKind(got, NoisyTrack); has != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
			if c.want != (v.Conclusion == FeedbackSensor) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
