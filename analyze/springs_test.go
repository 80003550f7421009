package analyze

import (
	"math"
	"testing"
)

func TestSpringsAndLossesDrawn(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{
		{"grease that warms speeds up bit by bit", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 { return 1 - 0.35*math.Exp(-d.t/12) }
			return d.run(0, 1).sweeps(4)
		}, NoFault, ""},
		{"two losses that last, at places far apart", func(s uint64) *draft {
			d := newDraft(s)
			lost := duringAny([2]float64{4.5, 0.05}, [2]float64{16, 0.06})
			d.read = func(d *draft) float64 {
				if lost(d.t) {
					return 0.35 * d.x
				}
				return d.x
			}
			return d.run(0, 1).sweeps(3)
		}, WiringControl, Dropouts},
	}, "")
}

// A stop that was pressed springs back when the drive ends: with one direction
// dead that is the only motion there is, and it is no hunting and no slow end.
func TestSpringBackIsNoHunting(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.x = 2
		d.block = func(d *draft, dir float64) bool { return dir < 0 }
		give := 0.0
		d.read = func(d *draft) float64 {
			want := 0.0
			if d.volts > 0 && d.x == d.hi {
				want = 0.08
			}
			give += (want - give) * d.dt / 0.15
			return d.x + give
		}
		d.run(0, 1).run(12, 5)
		for range 8 {
			d.run(-12, 2).run(12, 2)
		}
		got, v := look(t, d)
		if !showsKind(got, OneWay) || showsKind(got, Hunting) || v.Conclusion == FeedbackSensor {
			t.Errorf("seed %d: want it to move one way only and not to hunt, got %s", seed, say(got, v))
		}
	}
}
