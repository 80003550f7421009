package analyze

import (
	"math"
	"testing"
)

// calmCases are healthy actuators whose captures hold what a finding could be
// mistaken from: each is drawn from straight lines and must show nothing of the
// kind.
func calmCases() []struct {
	name string
	make func(seed uint64) *draft
	not  Kind
} {
	// byHand flips the polarity at a person's irregular times, near the low end.
	byHand := func(d *draft, strokes, pauses []float64) *draft {
		volts := 12.0
		for i, s := range strokes {
			d.run(volts, s).run(0, pauses[i%len(pauses)])
			volts = -volts
		}
		return d
	}
	return []struct {
		name string
		make func(seed uint64) *draft
		not  Kind
	}{
		{"a person's strokes in mid travel", func(s uint64) *draft {
			d := newDraft(s)
			d.rate = 0.4
			d.sweeps(1).run(12, 1.5).run(0, 5)
			return byHand(d, []float64{1.8, 1.5, 1.1, 1.9, 2.2, 1.2, 6}, []float64{0.02, 0.7, 0.05, 0.4, 0.1, 0.3}).run(12, 12)
		}, Hunting},
		{"a person's strokes into a stop", func(s uint64) *draft {
			d := newDraft(s)
			d.rate = 0.4
			d.sweeps(1)
			return byHand(d, []float64{2.5, 6.5, 1.6, 2.9, 2.6, 8}, []float64{0.1, 0.9, 0.7, 0.05, 0.4})
		}, Hunting},
		{"steps by a push button, against stops far inside the supply", func(s uint64) *draft {
			d := newDraft(s)
			d.lo, d.hi, d.rate = 0.5, 2.2, 0.2
			step := func(volts float64, n int) {
				for range n {
					d.run(volts, 1.2).run(0, 0.6)
				}
			}
			d.x = 2
			step(12, 4)
			step(-12, 5)
			step(12, 8)
			step(-12, 11)
			step(12, 11)
			step(-12, 4)
			step(12, 7)
			return d
		}, Jam},
		{"a stop visited three times, the other once", func(s uint64) *draft {
			d := newDraft(s)
			d.lo, d.hi, d.rate = 0.4, 2.0, 0.25
			d.run(12, 7).run(0, 0.8).run(12, 0.5).run(0, 0.5).run(-12, 4).run(0, 0.5).run(12, 5).run(0, 0.8).run(12, 0.7).run(0, 0.7).run(12, 0.7).run(0, 0.3)
			return d.run(-12, 8).run(0, 1).run(12, 7)
		}, Jam},
		{"two rows a pulse, beating", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.rate = 0.01, 1.2
			for range 3 { // a multiple of the beat apart
				d.run(0, 0.5).run(12, 4.5).run(0, 0.5).run(-12, 4.5)
			}
			for i, v := range d.drive {
				// 49.6 pulses a second, on for six tenths of each.
				if math.Mod(49.6*d.time[i], 1) > 0.6 && math.Abs(v) > 6 {
					d.drive[i] = 0
				}
			}
			return d
		}, SlowZone},
		{"sparks on both wires", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate = 0.02, 0.001, 0.3
			d.sweeps(3)
			at := 0
			for i, x := range d.feed {
				// Twice at one place, going up, and here and there.
				up := d.drive[i] > 6
				if here := up && math.Abs(x-1.5) < 0.004; here && i > at+100 || i%631 == 200 && math.Abs(d.drive[i]) > 6 {
					d.feed[i] += 0.04
					d.drive[i] *= 1.15
					at = i
				}
			}
			return d
		}, DeadSpot},
		{"single strays at 20 Hz, two of them at one place", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate = 0.05, 0.0015, 0.9
			d.lo, d.hi, d.x = 0.7, 3.8, 1.4
			d.run(12, 3.6).run(0, 0.5).run(-12, 4.5).run(0, 0.5).run(12, 4.5)
			for n, at := range []float64{1.15, 5.4, 6.4, 9.9} {
				d.feed[int(at/d.dt)] += 0.06 - 0.12*float64(n%2)
			}
			return d
		}, NoisyTrack},
		{"a control that turns its speed down here and there", func(s uint64) *draft {
			d := newDraft(s)
			slow := Interval{9, 9}
			d.speed = func(d *draft, dir float64) float64 {
				if slow.Has(d.x) {
					return 0.45
				}
				return 1
			}
			to := func(x float64, s Interval) {
				slow = s
				d.run(math.Copysign(12, x-d.x), 0.1)
				for n := 0; math.Abs(d.x-x) > 0.01 && n < 4000; n++ {
					d.run(math.Copysign(12, x-d.x), d.dt)
				}
				d.run(0, 0.6)
			}
			no, all := Interval{9, 9}, Interval{0, 5}
			d.run(0, 1)
			to(4.4, no)
			to(1.5, Interval{3.2, 3.8})
			to(4.2, no)
			to(1.2, Interval{3.2, 3.8})
			to(2.6, all)
			to(1.4, all)
			to(3.1, Interval{2.7, 3})
			to(0.9, Interval{1.3, 2.2})
			to(2.4, Interval{1.5, 1.8})
			to(1.0, no)
			return d
		}, SlowZone},
		{"pushed against the stops for minutes", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate = 0.002, 0.002, 0.3
			return d.run(0, 1).run(12, 30).run(0, 0.5).run(-12, 60).run(0, 0.5).run(12, 60).run(0, 0.5).run(-12, 60)
		}, GearSlip},
	}
}

func TestCalm(t *testing.T) {
	for _, c := range calmCases() {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(4) {
				got, v := look(t, c.make(seed))
				strong := false
				for i := range got.Findings {
					f := &got.Findings[i]
					strong = strong || f.Kind == c.not && f.force() > math.Log(3)
				}
				if v.Conclusion != NoFault || strong {
					t.Errorf("seed %d: %s", seed, say(got, v))
				}
			}
		})
	}
}

// A stand at the place of a jam is the obstacle that gives way, not a motor
// that stands anywhere.
func TestStandAtJam(t *testing.T) {
	for seed := range uint64(4) {
		d := newDraft(seed)
		d.rate = 0.3
		tries := 0
		var since float64
		d.block = func(d *draft, dir float64) bool {
			if dir < 0 || d.x < 2.99 || d.x > 3.01 {
				since = d.t
				if d.x < 2.9 && dir < 0 {
					tries++
				}
				return false
			}
			return d.t < 40 || d.t-since < 0.4
		}
		d.run(0, 1).run(12, 14).run(0, 0.5).run(-12, 12).run(0, 0.5).run(12, 11).run(0, 0.5).run(-12, 12).run(0, 0.5).run(12, 16).run(0, 0.5).run(-12, 16)
		c, v := look(t, d)
		jam, pause := finding(c, Jam), finding(c, Pauses)
		if jam == nil || pause == nil || jam.Event != pause.Event || v.Conclusion != DoorMechanism {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}
