package analyze

import (
	"math"
	"testing"
)

// A place that is passed at a third of the speed, at full drive and at two thirds of it: a
// flat piece of track keeps its third, what a drag takes from full drive leaves less of the
// lower one. (Drawn.)
func TestPlaceAtTwoDrives(t *testing.T) {
	t.Parallel()
	at := func(x float64) bool { return x > 2.4 && x < 2.6 }
	for _, flat := range []bool{true, false} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.speed = func(d *draft, _ float64) float64 {
				if flat || !at(d.x) {
					return 1
				}
				// 5 V of 12 go into the drag.
				return math.Max(0.02, 1-5/math.Abs(d.volts))
			}
			// The flat piece tells 0.2 V of 0.48 V of the way.
			const slope = 5. / 12
			d.read = func(d *draft) float64 {
				switch x := d.x; {
				case !flat || x < 2.4:
					return x
				case x < 2.4+0.2/slope:
					return 2.4 + (x-2.4)*slope
				default:
					return x - 0.2/slope + 0.2
				}
			}
			for range 2 {
				d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
				d.run(8, 9).run(0, 0.5).run(-8, 9).run(0, 0.5)
			}
			d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
			c, v := look(t, d)
			f := finding(c, SlowZone)
			if f == nil {
				t.Fatalf("flat %v, seed %d: no slow place: %s", flat, seed, say(c, v))
			}
			want := DoorMechanism
			if flat {
				want = FeedbackSensor
			}
			if f.has(placeLaw) != flat || v.Conclusion != want {
				t.Errorf("flat %v, seed %d: law %.1f, %s", flat, seed, f.value(placeLaw), say(c, v))
			}
		}
	}
}
