package analyze

import "testing"

// shortDrives drives n times for so many seconds, with short pauses.
func (d *draft) shortDrives(volts, seconds float64, n int) *draft {
	for range n {
		d.run(volts, seconds).run(0, 0.1)
	}
	return d
}

// A drive in short pulses moves nothing while the gears come to bear on their other side, at
// each reversal alike; a motor that does not start now and then fails at any time, and does
// not at other reversals.
func TestPulsesInThePlay(t *testing.T) {
	t.Parallel()
	draw := func(play float64, dead ...int) *draft {
		d := newDraft(51)
		d.rate, d.x, d.noise = 0.3, 2, 0.002
		slack, was, n, on := 0.0, 0.0, 0, false
		d.speed = func(d *draft, dir float64) float64 {
			if dir == 0 {
				on = false
				return 0
			}
			if !on {
				on = true
				n++
			}
			for _, k := range dead {
				if n == k {
					return 0
				}
			}
			if dir != was {
				slack, was = play, dir
			}
			if slack > 0 {
				slack -= d.rate * d.dt
				return 0
			}
			return 1
		}
		d.run(0, 1)
		for range 3 { // pulses 1 to 20, and so on
			d.shortDrives(12, 0.3, 20).run(0, 1).pulses(-12, 0.3, 20).run(0, 1)
		}
		return d
	}
	if got, v := look(t, draw(0.09)); formed(got, Pauses, doesNotStart) != nil || v.Conclusion != NoFault {
		t.Errorf("play: %s", say(got, v))
	}
	if got, v := look(t, draw(0, 21, 22, 45, 46, 81, 82)); formed(got, Pauses, doesNotStart) == nil || v.Conclusion == NoFault {
		t.Errorf("does not start: %s", say(got, v))
	}
}
