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
			d.lo, d.hi, d.rate = 0.4, 3.4, 0.45
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
		{"one reading off, once", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.01
			d.sweeps(1)
			d.feed[400] += 0.09
			return d
		}, DeadSpot},
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
		{"a track with a fine grain", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate, d.lo, d.hi, d.x = 0.002, 0.0014, 0.55, 1.7, 3.5, 1.7
			grain := make([]float64, 600) // one every 5 mV of the track
			for i := range grain {
				grain[i] = 0.008 * d.rng.NormFloat64()
			}
			d.read = func(d *draft) float64 {
				i := int(d.x / 0.005)
				part := d.x/0.005 - float64(i)
				return d.x + (1-part)*grain[i%600] + part*grain[(i+1)%600]
			}
			return d.sweeps(3)
		}, DeadSpot},
	}
}

func TestCalm(t *testing.T) {
	t.Parallel()
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

// A stop that the uncoupled actuator has as well is its own, wherever it lies.
func TestOwnStop(t *testing.T) {
	t.Parallel()
	short := func(seed uint64, hi float64) *draft {
		d := newDraft(seed)
		d.lo, d.hi, d.x, d.rate = 0.4, hi, 0.4, 0.4
		return d
	}
	for seed := range uint64(4) {
		coupled := examineWith(t, short(seed, 2).sweeps(3), nil, false)
		alone := Judge(coupled)
		// Uncoupled it is driven into that stop once.
		d := short(seed, 2.06).run(0, 1).run(12, 5).run(0, 0.5).run(-12, 4).run(0, 0.5).run(12, 3).run(0, 0.5).run(-12, 5)
		free := examineWith(t, d, nil, true)
		both := Judge(coupled, free)
		if finding(coupled, Jam) == nil {
			t.Fatalf("seed %d: the stop is not blamed alone: %s", seed, say(coupled, alone.Verdict))
		}
		if v := both.Verdict; v.Conclusion != NoFault || both.Compared == nil || len(both.Compared.Gone) > 0 {
			t.Errorf("seed %d: alone %s %.2f, with the free run %+v %s", seed, alone.Verdict.Conclusion, alone.Verdict.Probability, both.Compared, say(coupled, v))
		}
		// Where it runs on uncoupled, the door is what stops it.
		far := examineWith(t, short(seed, 4.4).sweeps(3), nil, true)
		if v := Judge(coupled, far).Verdict; v.Conclusion != DoorMechanism {
			t.Errorf("seed %d: runs on uncoupled: %s", seed, say(coupled, v))
		}
	}
}

// What lay where it lies before a repair is not new after it, and a reading
// that is lost again and again tells nothing of the travel.
func TestRepairNothingNew(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		before := newDraft(seed)
		before.hi, before.rate = 2, 0.4
		before.read = func(d *draft) float64 {
			if d.x > 1.1 && d.x < 1.12 {
				return 0.01
			}
			return d.x
		}
		before.run(0, 1).run(12, 5).run(0, 0.5).run(-12, 5).run(0, 0.5)
		for range 3 { // without reaching the stops
			before.run(12, 3.5).run(0, 0.5).run(-12, 3.5).run(0, 0.5)
		}
		after := newDraft(seed + 50)
		after.hi, after.rate = 2, 0.4
		if r := prove(t, before, after.sweeps(3)); r.Result != RepairProven {
			t.Errorf("seed %d, a stop as before: %s: %s", seed, r.Result, r.Text)
		}

		before = newDraft(seed)
		before.hi, before.rate = 2.8, 0.3
		until, next := 0.0, 0.0
		before.read = func(d *draft) float64 {
			if d.t > next {
				until = d.t + 0.1 + 0.6*d.rng.Float64()
				next = until + 3*d.rng.Float64()
			}
			if d.t < until {
				return 4
			}
			return d.x
		}
		for range 4 {
			before.run(12, 9).run(0, 8).run(-12, 9).run(0, 8)
		}
		after = newDraft(seed + 50)
		after.hi, after.rate = 2.8, 0.3
		if r := prove(t, before, after.sweeps(4)); len(r.New) > 0 {
			t.Errorf("seed %d, lost at rest: %s: %s", seed, r.Result, r.Text)
		}
	}
}

// A stand at the place of a jam is the obstacle that gives way, not a motor
// that stands anywhere.
func TestStandAtJam(t *testing.T) {
	t.Parallel()
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

// An open contact reads a rail wherever it is: a track lost at the high end is
// not one at the low end.
func TestOpenEndPlace(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 4.1 {
				return 0.01
			}
			return d.x
		}
		c, v := look(t, d.sweeps(3))
		f := finding(c, EndLoss)
		if f == nil {
			t.Errorf("seed %d: not found: %s", seed, say(c, v))
			continue
		}
		if f.Form != "at the high end" || math.Abs(f.Volts.Mid()-4.1) > 0.05 {
			t.Errorf("seed %d: %q %v: %s", seed, f.Form, f.Volts, say(c, v))
		}
	}
}

// A reading that gets along its line in uneven steps has not held; one that
// waits and leaps has.
func TestOnLine(t *testing.T) {
	t.Parallel()
	w := &work{}
	e := &event{first: 1, last: 20, from: 1, to: 1.2}
	for i := range 21 {
		w.t = append(w.t, float64(i))
		w.v = append(w.v, 1+0.01*float64(i)+0.01*math.Sin(1.3*float64(i)))
	}
	if !w.onLine(e) {
		t.Error("an uneven line is taken for a hold")
	}
	for i := range 21 {
		w.v[i] = 1 + 0.2*math.Floor(float64(i)/15) + 0.01*math.Sin(1.3*float64(i))
	}
	if w.onLine(e) {
		t.Error("a hold and a leap are taken for a line")
	}
}

// The readings either side of missing rows lie far apart; that is no roughness,
// not even where only one pass went over the place.
func TestNoNoiseAcrossGap(t *testing.T) {
	t.Parallel()
	d := newDraft(4)
	d.dt, d.noise, d.x = 0.001, 0.0006, 3.2
	d.run(0, 1).run(12, 3).run(0, 1).run(-12, 9).run(0, 0.5).run(12, 2)
	a := int(6.8 / d.dt) // at 3.06 V, going down
	b := a + int(0.37/d.dt)
	d.time = append(d.time[:a:a], d.time[b:]...)
	d.drive = append(d.drive[:a:a], d.drive[b:]...)
	d.feed = append(d.feed[:a:a], d.feed[b:]...)
	got, v := look(t, d)
	if showsKind(got, NoisyTrack) {
		t.Error(say(got, v))
	}
}
