package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// leads is a draft whose two leads are logged against ground. The reading is drawn row by
// row, so that what the leads stand at together is logged beside it.
type leads struct {
	*draft
	both []float64 // V
}

// drive drives for some seconds, or not, with both leads lifted by so many volts.
func (l *leads) drive(volts, both, s float64) *leads {
	n := len(l.time)
	l.run(volts, s)
	for range len(l.time) - n {
		l.both = append(l.both, both+0.03*l.rng.NormFloat64())
	}
	return l
}

func (l *leads) trace() *signal.Trace {
	tr := l.draft.trace()
	tr.Both = beside("lower of lead A and lead B", "V", l.both)
	return tr
}

// pairs drives up and down so many times with a second of rest after each drive, and has
// after do what comes then.
func (l *leads) pairs(n int, rests float64, after func(k int)) *leads {
	l.drive(0, rests, 1)
	for k := range n {
		for i, v := range []float64{12, -12} {
			l.drive(v, 0, 6)
			after(2*k + i)
		}
	}
	return l
}

// A lead that nothing holds at ground follows the other through the motor. A brake shorts
// the motor likewise, but beside a drive; a control that rests with both leads up raises
// none of them. (Drawn.)
func TestBothLeadsRise(t *testing.T) {
	t.Parallel()
	// rises lifts both after a rest, in the first so many pauses.
	rises := func(l *leads, times int, s, volts float64) func(int) {
		return func(k int) {
			l.drive(0, 0, 1)
			if k < times {
				l.drive(0, volts, s).drive(0, 0, 1)
			}
		}
	}
	for _, c := range []struct {
		name string
		draw func(l *leads)
		seen int
	}{
		{"three times", func(l *leads) { l.pairs(3, 0, rises(l, 3, 1, 11)) }, 3},
		{"never driven but so", func(l *leads) {
			l.drive(0, 0, 1)
			for range 5 {
				l.drive(0, 11, 2).drive(0, 0, 1)
			}
		}, 5},
		{"one direction does so, the other drives", func(l *leads) {
			l.drive(0, 0, 1).drive(12, 0, 6)
			for range 4 {
				l.drive(0, 0, 1).drive(0, 11, 3).drive(0, 0, 1).drive(12, 0, 2)
			}
		}, 4},
		{"three times in pulses", func(l *leads) {
			l.pairs(3, 0, pulsedRises(l, 3))
		}, 3},
		{"twice only", func(l *leads) { l.pairs(3, 0, rises(l, 2, 1, 11)) }, 0},
		{"for a tenth of a second", func(l *leads) { l.pairs(3, 0, rises(l, 6, 0.1, 11)) }, 0},
		{"to half of the drive", func(l *leads) { l.pairs(3, 0, rises(l, 6, 1, 6)) }, 0},
		{"braked high after each drive", func(l *leads) {
			l.pairs(3, 0, func(int) { l.drive(0, 11.8, 0.5).drive(0, 0, 1) })
		}, 0},
		{"braked high before each drive", func(l *leads) {
			l.pairs(3, 0, func(int) { l.drive(0, 0, 1).drive(0, 11.8, 0.5) })
		}, 0},
		{"rests with both leads up", func(l *leads) {
			l.pairs(3, 11.8, func(int) { l.drive(0, 11.8, 1) })
		}, 0},
		{"rests with both leads up, and starts by pulses between the rows", func(l *leads) {
			unseen := func(dir float64) func(*draft) float64 {
				return func(d *draft) float64 { d.x += dir * 0.5 * d.rate * d.dt; return d.x }
			}
			l.pairs(2, 11.8, func(int) { l.drive(0, 11.8, 1) })
			for k := range 12 {
				dir := float64(1 - k/6*2)
				l.read = unseen(dir)
				l.drive(0, 0, 0.33)
				l.read = nil
				if k%3 == 0 { // goes on at full volts
					l.drive(dir*12, 0, 0.4)
				}
				l.drive(0, 11.8, 1.2)
			}
		}, 0},
		{"open, pulled to half, and braked high in between", func(l *leads) {
			l.pairs(3, 6, func(int) { l.drive(0, 6, 1).drive(0, 11.8, 0.5).drive(0, 6, 1) })
		}, 0},
	} {
		for seed := range uint64(2) {
			l := &leads{draft: newDraft(seed)}
			l.dt = 0.01
			c.draw(l)
			got, v := lookAt(t, l.trace())
			f := formed(got, Ignored, bothRise)
			if (f != nil) != (c.seen > 0) || f != nil && (f.Seen != c.seen || v.Conclusion != WiringControl) || f == nil && v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}

// pulsedRises lifts both leads in pulses, for a second of the first so many pauses.
func pulsedRises(l *leads, times int) func(int) {
	return func(k int) {
		l.drive(0, 0, 1)
		for n := 0; k < times && n < 25; n++ {
			l.drive(0, 11, 0.03).drive(0, 0, 0.01)
		}
		l.drive(0, 0, 1)
	}
}

// One or two rises as long as the drives, amid drives both ways, are said and weighed a
// little: a lead that lost its way to ground, or a hold of the control's. (Drawn.)
func TestBothLeadsRiseSeldom(t *testing.T) {
	t.Parallel()
	clean := 0.0
	for times := range 3 {
		l := &leads{draft: newDraft(3)}
		l.dt = 0.01
		l.pairs(3, 0, func(k int) {
			l.drive(0, 0, 1)
			if k == 1 || k == 3 && times > 1 {
				if times > 0 {
					l.drive(0, 11, 5.9).drive(0, 0, 1)
				}
			}
		})
		got, v := lookAt(t, l.trace())
		f := formed(got, Ignored, bothRise)
		var sound, wiring float64
		for _, x := range v.Chances {
			switch x.Fault {
			case NoFault:
				sound = x.Probability
			case WiringControl:
				wiring = x.Probability
			}
		}
		switch {
		case times == 0:
			if clean = sound; f != nil || v.Conclusion != NoFault {
				t.Errorf("none: %s", say(got, v))
			}
		case f == nil || f.Seen != times || !f.has(seldomRise) || sound > clean-0.02*float64(times) || times > 1 && wiring < 0.2:
			t.Errorf("%d: no fault %.2f, wiring %.2f; %s", times, sound, wiring, say(got, v))
		}
	}
}

// A file that does not tell what the leads stand at says nothing of them, nor does one
// in which the shaft travels meanwhile: then the lead that stays down has slipped its clip.
func TestBothLeadsRiseUnseen(t *testing.T) {
	t.Parallel()
	l := &leads{draft: newDraft(3)}
	l.dt = 0.01
	l.drive(0, 0, 1)
	for range 4 {
		l.drive(0, 11, 1).drive(0, 0, 1)
	}
	l.drive(12, 0, 6)
	tr := l.trace()
	tr.Both = nil
	if got, v := lookAt(t, tr); formed(got, Ignored, bothRise) != nil {
		t.Errorf("no leads: %s", say(got, v))
	}
	tr = l.trace()
	for i, x := range tr.Time { // a shaft that goes to and fro, 0.4 V/s
		if tr.Both.Mean[i] > 5 {
			tr.Feedback.Mean[i] += float32(0.2 - math.Abs(0.4*math.Mod(x, 1)-0.2))
		}
	}
	if got, v := lookAt(t, tr); formed(got, Ignored, bothRise) != nil {
		t.Errorf("travels meanwhile: %s", say(got, v))
	}
}

// Drawn cases that are told by more than their number: slow edges, drives that last as
// long, falls of leads that rest up, and breaks amid drives.
func TestBothLeadsFollow(t *testing.T) {
	t.Parallel()
	// missing has the drives down come to nothing from the third on: both leads stand at
	// so many volts for s seconds instead.
	missing := func(rests, volts, s float64, n int) func(l *leads) {
		return func(l *leads) {
			l.drive(0, rests, 1).drive(12, 0, 6).drive(0, rests, 1).drive(-12, 0, 6).drive(0, rests, 1).drive(12, 0, 6).drive(0, rests, 1)
			for range n {
				l.drive(0, volts, s).drive(0, rests, 1).drive(12, 0, 6).drive(0, rests, 1)
			}
		}
	}
	// broken breaks each drive up off for those times, both leads up in them.
	broken := func(l *leads, breaks ...float64) {
		for range 2 {
			l.drive(0, 0, 1)
			for _, b := range breaks {
				l.drive(12, 0, 1).drive(0, 11.8, b)
			}
			l.drive(12, 0, 3).drive(0, 0, 1).drive(-12, 0, 6)
		}
		l.drive(0, 0, 1)
	}
	for _, c := range []struct {
		name string
		draw func(l *leads)
		form string
		seen int
	}{
		{"raised and lowered softly", func(l *leads) {
			l.pairs(3, 0, func(k int) {
				l.drive(0, 0, 1)
				if k < 3 {
					l.drive(0, 6, 0.04).drive(0, 11.8, 1).drive(0, 6, 0.04).drive(0, 0, 1)
				}
			})
		}, bothRise, 3},
		{"twice, as long as its drives, which go one way since", missing(0, 11.8, 6, 2), bothRise, 2},
		{"twice, for ten times a drive", missing(0, 11.8, 60, 2), "", 0},
		{"twice, as long as its drives, which go both ways", func(l *leads) {
			l.pairs(3, 0, func(k int) {
				l.drive(0, 0, 1)
				if k == 0 || k == 3 {
					l.drive(0, 11.8, 6).drive(0, 0, 1)
				}
			})
		}, bothRise, 2},
		{"rests up, both fall for as long as a drive", missing(11.8, 0, 6, 3), bothFall, 3},
		{"rests up, both fall twice", missing(11.8, 0, 6, 2), "", 0},
		{"rests up, goes to sleep", missing(11.8, 0, 20, 3), "", 0},
		{"rests up, goes to sleep for as long as a drive, goes both ways", func(l *leads) {
			l.pairs(3, 11.8, func(int) { l.drive(0, 11.8, 1).drive(0, 0, 6).drive(0, 11.8, 1) })
		}, "", 0},
		{"bounces on its way, and rises once from rest", func(l *leads) {
			broken(l, 0.4, 1.1, 0.25)
			l.drive(0, 11.8, 0.1).drive(0, 0, 0.02).drive(0, 11.8, 0.6).drive(0, 0, 1)
		}, bothRise, 7},
		{"broken off at one lead by hand", func(l *leads) { broken(l, 0.4, 1.1, 0.25) }, "", 0},
		{"pulsed by its clock, and rises once", func(l *leads) {
			broken(l, 0.5, 0.5, 0.5)
			l.drive(0, 11.8, 0.6).drive(0, 0, 1)
		}, "", 0},
	} {
		l := &leads{draft: newDraft(5)}
		l.dt = 0.01
		c.draw(l)
		got, v := lookAt(t, l.trace())
		rise, fall := formed(got, Ignored, bothRise), formed(got, Ignored, bothFall)
		f := rise
		if c.form == bothFall {
			f = fall
		}
		if c.form == "" && (rise != nil || fall != nil || v.Conclusion == WiringControl) || c.form != "" && (f == nil || f.Seen != c.seen || v.Conclusion != WiringControl && !f.has(seldomRise)) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
