package analyze

import (
	"math"
	"strings"
	"testing"
)

// stopsAt lets an ammeter's shaft run to and fro, and from a time on hold fast; its motor
// still turns through the play that turning over gives it, for so many seconds.
func stopsAt(seed uint64, at, play float64) *ammeter {
	a := newAmmeter(seed)
	a.dt = 0.002
	was := 0.0
	slack := 0.0
	a.block = func(d *draft, dir float64) bool {
		if dir != was {
			slack, was = play, dir
		}
		slack -= d.dt
		return d.t > at
	}
	a.amps = func(d *draft) float64 {
		if d.t > at && slack > 0 {
			return a.running
		}
		return math.NaN()
	}
	return a
}

// toAndFro drives n times up and down, so many seconds each.
func (d *draft) toAndFro(n int, seconds float64) *draft {
	for range n {
		d.run(12, seconds).run(0, 1).run(-12, seconds).run(0, 1)
	}
	return d
}

// A shaft answered its drives and answers neither way from some moment on. By the current it
// is held, or the motor turns, or is open; without it, it is no sound one, and what it is
// stays open. (Drawn.)
func TestNoMotionSince(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		play float64
		amps float64 // NaN: held; else what it draws from then on
		want Fault
		form string
	}{
		{"held at once", 0, math.NaN(), DoorMechanism, stallCurrent},
		{"held after its play", 0.2, math.NaN(), DoorMechanism, stallCurrent},
		{"open", 0, 0, Motor, noCurrentFlows},
		{"turning", 0, 0.12, FeedbackSensor, turningCurrent},
	} {
		for seed := range uint64(2) {
			a := stopsAt(seed, 8, c.play)
			if held := a.amps; c.amps == c.amps {
				a.amps = func(d *draft) float64 {
					if d.t > 8 {
						return c.amps
					}
					return held(d)
				}
			}
			a.x = 1.5
			a.run(0, 1)
			a.toAndFro(6, 2)
			got, err := Examine(a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			v := Judge(got).Verdict
			f := kinded(got, NoMotion)
			if v.Chances[0].Fault != c.want || f == nil || !strings.HasPrefix(f.Form, c.form) || f.Time.From < 8 || f.Time.From > 12 {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// kinded is the first finding of a kind, nil without one.
func kinded(c *Capture, k Kind) *Finding {
	for i := range c.Findings {
		if c.Findings[i].Kind == k {
			return &c.Findings[i]
		}
	}
	return nil
}

// What stands and yet is no shaft that moves no more: it moves on in the end, or the other
// way; the drives are too short to start it, or too few; it stands at its stop; or the
// reading never belonged to the drive. And one that does stand is not cleared, whatever it
// did before. (Drawn.)
func TestNoMotionSinceIsNone(t *testing.T) {
	t.Parallel()
	between := func(from, to float64, dir float64) func(d *draft, way float64) bool {
		return func(d *draft, way float64) bool { return d.t > from && d.t < to && (dir == 0 || way == dir) }
	}
	ends := math.Inf(1)
	for _, c := range []struct {
		name string
		draw func(d *draft)
		some bool
	}{
		{"stands since", func(d *draft) { d.block = between(8, ends, 0); d.toAndFro(6, 2) }, true},
		{"never stands", func(d *draft) { d.toAndFro(6, 2) }, false},
		{"moves on in the end", func(d *draft) { d.block = between(8, 24, 0); d.toAndFro(6, 2) }, false},
		{"moves the other way", func(d *draft) { d.block = between(8, ends, 1); d.toAndFro(6, 2) }, false},
		{"nudged since", func(d *draft) { d.toAndFro(2, 2); d.block = between(13.5, ends, 0); d.toAndFro(20, 0.3) }, false},
		{"tried once each way since", func(d *draft) { d.block = between(8, ends, 0); d.toAndFro(2, 2).run(12, 2).run(0, 1) }, false},
		{"pressed into a stop since", func(d *draft) {
			d.toAndFro(2, 2).run(12, 6)
			for range 6 {
				d.run(0, 1).run(12, 2)
			}
		}, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.x = 1.5
			d.run(0, 1)
			c.draw(d)
			got, v := look(t, d)
			f := kinded(got, NoMotion)
			if (f != nil) != c.some || c.some && v.Chances[len(v.Chances)-1].Fault != NoFault {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
