package analyze

import (
	"math"
	"testing"
)

// A control that turns its motor over again and again, while the reading follows each
// time as a shaft does, hunts by itself: in one short approach as well, and at a place
// that looks like an end because the capture goes no further; with a rest after each of
// its pulses too, as long as its loop takes. Who waits at each place, a
// reading that stands still, and one that leaps are something else.
func TestSwingsAlikeAreTheControls(t *testing.T) {
	t.Parallel()
	// approach comes down to 2.2 V, past where a stop would be told from an end.
	approach := func(s uint64) *draft {
		d := newDraft(s)
		d.x, d.dt = 4, 0.01
		return d.run(0, 0.5).run(-12, (4-2.2)/d.rate)
	}
	swing := func(d *draft, n int, half, rest float64) *draft {
		for range n {
			d.run(12, half).run(0, rest).run(-12, half).run(0, rest)
		}
		return d
	}
	for _, c := range []struct {
		name  string
		drawn func(seed uint64) *draft
		want  map[Fault]bool
	}{
		{"one approach", func(s uint64) *draft { return swing(approach(s), 8, 0.3, 0) }, map[Fault]bool{WiringControl: true}},
		{"four cycles", func(s uint64) *draft { return swing(approach(s), 4, 0.3, 0) }, map[Fault]bool{WiringControl: true}},
		{"pulses about too narrow a dead band", func(s uint64) *draft { return swing(approach(s), 20, 0.12, 0.15) }, map[Fault]bool{WiringControl: true}},
		{"somebody who taps to and fro and waits", func(s uint64) *draft { return swing(approach(s), 8, 0.3, 0.7) }, map[Fault]bool{NoFault: true, CannotTell: true}},
		{"a converter of few counts", func(s uint64) *draft {
			d := approach(s)
			d.quantum = 0.04
			return swing(d, 10, 0.15, 0)
		}, map[Fault]bool{WiringControl: true}},
		{"somebody who waits", func(s uint64) *draft { return swing(approach(s), 8, 1, 0.8) }, map[Fault]bool{NoFault: true, CannotTell: true}},
		{"a reading that stands", func(s uint64) *draft {
			d := approach(s)
			at := d.x
			d.read = func(*draft) float64 { return at }
			return swing(d, 8, 0.3, 0)
		}, map[Fault]bool{Motor: true, CannotTell: true, FeedbackSensor: true, DoorMechanism: true}},
		{"a reading that leaps", func(s uint64) *draft {
			d := approach(s)
			at := d.x + 0.1
			d.read = func(d *draft) float64 {
				if math.Abs(d.x-at) < 0.05 {
					return 5
				}
				return d.x
			}
			return swing(d, 8, 0.3, 0)
		}, map[Fault]bool{FeedbackSensor: true, CannotTell: true}},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.drawn(seed))
			if !c.want[v.Conclusion] {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
