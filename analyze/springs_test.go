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

// askedBack draws an actuator that presses its stop far inside the sensor's range, springs back
// by so many volts when it is let go, and is asked to come back, eight times: held by a door
// that is wedged, which leaves a motor that little of its way, or not driven that way at all.
func askedBack(seed uint64, back, rate float64) *draft {
	d := newDraft(seed)
	d.x, d.hi = 1, 2.8
	at := d.hi
	d.block = func(d *draft, dir float64) bool { return dir < 0 }
	give := 0.0
	d.read = func(d *draft) float64 {
		switch {
		case d.x < at:
		case d.volts > 0:
			give = math.Max(0, give-d.rate*d.dt)
		case d.volts < 0 && rate > 0:
			give = math.Min(back, give+rate*d.dt)
		case d.volts < 0:
			give += (back - give) * d.dt / 0.35
		}
		return d.x - give
	}
	d.run(0, 1).run(12, 5)
	for range 8 {
		d.run(0, 0.2).run(-12, 0.7).run(0, 1).run(12, 2)
	}
	return d
}

// A stop pushes the shaft back by and by. A motor takes what little way a wedged door leaves
// it at its own pace. Of a drive that was logged without its volts this tells a polarity that
// does not come from a door that holds; and the stop it presses anew is where it lies.
func TestSpringsBackAndNoMore(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		rate float64 // V/s of the motor, 0: not driven that way
		want bool
	}{{"one leg dead", 0, true}, {"a door wedged", 0.8, false}} {
		for seed := range uint64(3) {
			tr := askedBack(seed, 0.05, c.rate).trace()
			for i, v := range tr.Drive.Mean {
				tr.Drive.Mean[i] = float32(math.Round(float64(v) / 12))
			}
			tr.DriveIsPolarity = true
			got, v := lookAt(t, tr)
			f := finding(got, OneWay)
			if f == nil || f.has(onlySprings) != c.want || (v.Conclusion == WiringControl) != c.want {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
