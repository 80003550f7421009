package analyze

import (
	"math"
	"testing"
)

// drawnCase is a capture drawn from straight lines, the verdict that it must get
// and the kind of finding that must show ("" for any or none).
type drawnCase struct {
	name string
	make func(seed uint64) *draft
	want Fault
	kind Kind
}

// checkDrawn judges each case with three seeds. A case that asks for another
// kind must not show the one named in only.
func checkDrawn(t *testing.T, cases []drawnCase, only Kind) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(3) {
				got, v := look(t, c.make(seed))
				if v.Conclusion != c.want || c.kind != "" && !showsKind(got, c.kind) || only != "" && c.kind != only && showsKind(got, only) {
					t.Errorf("seed %d: want %s by %q, got %s", seed, c.want, c.kind, say(got, v))
				}
			}
		})
	}
}

// counts turns a draft into ten-bit converter counts of a 5 V supply.
func (d *draft) counts() *draft { return d.countsOf(1023) }

// countsOf turns it into counts of a converter with that full scale.
func (d *draft) countsOf(full float64) *draft {
	for i, v := range d.feed {
		d.feed[i] = math.Round(math.Max(0, math.Min(full, v/5*full)))
	}
	d.quantum = math.Max(1, d.quantum/5*full)
	d.unit = "counts"
	return d
}

// percent turns a draft into percent of a 5 V supply, in tenths.
func (d *draft) percent() *draft {
	for i, v := range d.feed {
		d.feed[i] = math.Round(200*v) / 10
	}
	d.quantum = math.Max(0.1, 20*d.quantum)
	d.unit = "%"
	return d
}

// inverted mirrors the feedback in a 5 V supply.
func (d *draft) inverted() *draft {
	for i, v := range d.feed {
		d.feed[i] = 5 - v
	}
	return d
}

// triangle sweeps n times without waiting at the ends.
func (d *draft) triangle(n int) *draft {
	full := (d.hi - d.lo) / d.rate * 0.97
	for range n {
		d.run(12, full).run(-12, full)
	}
	return d
}

// shifted adds to the reading what shift says for the volts and for a stalled
// (1) or running (0) motor.
func (d *draft) shifted(shift func(volts, stalled float64) float64) *draft {
	last := d.x
	d.read = func(d *draft) float64 {
		stalled := 0.0
		if d.x == last {
			stalled = 1
		}
		last = d.x
		return d.x + shift(d.volts, stalled)
	}
	return d
}

// played lets the shaft follow only when the drive has turned through so many V
// since it last turned round.
func (d *draft) played(play float64) *draft {
	slack, was := 0.0, 1.0
	d.speed = func(d *draft, dir float64) float64 {
		if dir == 0 {
			return 1
		}
		if dir != was {
			slack = play - slack
			was = dir
		}
		if slack > 0 {
			slack -= d.rate * d.dt
			return 0
		}
		return 1
	}
	return d
}

// pressed is 1 while a drive presses the shaft against a stop.
func pressed(d *draft) float64 {
	if d.volts != 0 && (d.x == d.lo || d.x == d.hi) {
		return 1
	}
	return 0
}

// moreCases are captures drawn from straight lines in other units, shapes and
// rates than the rig's.
func moreCases() []drawnCase {
	spot := func(d *draft, lo, hi, v float64, up bool) {
		last := d.x
		rising := true
		d.read = func(d *draft) float64 {
			if d.x != last {
				rising = d.x > last
			}
			last = d.x
			if d.x > lo && d.x < hi && (rising || !up) {
				return v
			}
			return d.x
		}
	}
	return []drawnCase{
		{"healthy triangle", func(s uint64) *draft { return newDraft(s).triangle(4) }, NoFault, ""},
		{"healthy percent", func(s uint64) *draft { return newDraft(s).sweeps(3).percent() }, NoFault, ""},
		{"healthy counts", func(s uint64) *draft { return newDraft(s).sweeps(3).counts() }, NoFault, ""},
		{"healthy inverted", func(s uint64) *draft { return newDraft(s).sweeps(3).inverted() }, NoFault, ""},
		{"healthy at 9 V", func(s uint64) *draft {
			d := newDraft(s)
			full := (d.hi-d.lo)/d.rate*12/9 + 1
			for range 3 {
				d.run(9, full).run(0, 0.5).run(-9, full).run(0, 0.5)
			}
			return d
		}, NoFault, ""},
		{"healthy 20 Hz", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.05
			return d.triangle(4)
		}, NoFault, ""},
		{"dead spot in a triangle", func(s uint64) *draft {
			d := newDraft(s)
			spot(d, 2.4, 2.6, 0.02, false)
			return d.triangle(4)
		}, FeedbackSensor, DeadSpot},
		{"dead spot one way, floating high", func(s uint64) *draft {
			d := newDraft(s)
			spot(d, 2.4, 2.6, 4.99, true)
			return d.sweeps(4)
		}, FeedbackSensor, DeadSpot},
		{"dead spot of one row at 20 Hz", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.05
			spot(d, 2.5, 2.545, 0, false)
			return d.sweeps(5)
		}, FeedbackSensor, DeadSpot},
		{"dead spot in counts", func(s uint64) *draft {
			d := newDraft(s)
			spot(d, 3.1, 3.3, 0, false)
			return d.sweeps(3).counts()
		}, FeedbackSensor, DeadSpot},
		{"jam at the low side", func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(1)
			d.block = func(d *draft, dir float64) bool { return dir < 0 && d.x <= 1.7 }
			return d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5).sweeps(3)
		}, DoorMechanism, Jam},
		{"low end drifts", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 4.5 - (4.5-d.x)*(1-0.002*d.t) }
			return d.sweeps(6)
		}, FeedbackSensor, SpanDrift},
		{"one end drifts by 1.3 % over four visits", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 0.5 + (d.x-0.5)*(1-0.00033*d.t) }
			return d.sweeps(4)
		}, FeedbackSensor, SpanDrift},
		{"an end that curves to the rail in three visits", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				return math.Max(0.003, 4.5-(4.5-d.x)*(1+0.13*(1-math.Exp(-d.t/25))))
			}
			return d.run(12, 6).run(0, 0.5).sweeps(3).run(-12, 6)
		}, FeedbackSensor, SpanDrift},
		{"healthy stops that give differently each time", func(s uint64) *draft {
			d := newDraft(s)
			d.run(0, 1)
			for range 4 {
				// 0.2 % of the span, as seals and play let a stop give.
				d.lo, d.hi = 0.5+0.008*d.rng.Float64(), 4.5-0.008*d.rng.Float64()
				d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
			}
			return d
		}, NoFault, ""},
		{"teeth let go at a stop, filtered, at 50 Hz", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.02
			back := 0.0 // V that the tooth has let go of
			d.read = func(d *draft) float64 {
				if d.x < d.hi {
					back = 0
					return d.x
				}
				// Climbs in 0.12 s and falls in 0.06 s.
				back = math.Mod(d.t, 0.18)
				if back < 0.12 {
					return d.hi - 0.09 + 0.09*back/0.12
				}
				return d.hi - 0.09*(back-0.12)/0.06
			}
			return d.run(0, 1).run(12, 8).run(0, 0.5).run(-12, 7).run(0, 0.5).run(12, 8)
		}, Motor, GearSlip},
		{"teeth let go in mid travel, slowly", func(s uint64) *draft {
			d := newDraft(s)
			d.rate = 0.12
			slips := 0
			d.speed = func(d *draft, dir float64) float64 {
				switch {
				case dir > 0 && d.x > 2.6 && slips < 4:
					slips++
					d.x -= 0.2
				case dir < 0:
					slips = 0
				}
				return 1
			}
			return d.sweeps(2)
		}, Motor, GearSlip},
		{"motor current in the sensor's ground", func(s uint64) *draft {
			return newDraft(s).shifted(func(volts, stalled float64) float64 { return 0.12 * math.Abs(volts) / 12 * (1 + 2*stalled) }).sweeps(3)
		}, WiringControl, DriveShift},
		{"a reference that gives way to the motor, short strokes at 25 Hz", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.04
			d.shifted(func(volts, stalled float64) float64 { return -0.15 * d.x * math.Abs(volts) / 12 })
			d.run(0, 1)
			for range 6 {
				d.run(12, 1.5).run(0, 1.2).run(12, 1).run(0, 1).run(-12, 1.3).run(0, 1)
			}
			return d
		}, WiringControl, DriveShift},
		{"a wiper wire that picks up a lead", func(s uint64) *draft {
			return newDraft(s).shifted(func(volts, stalled float64) float64 { return -0.2 * volts / 12 }).sweeps(3)
		}, WiringControl, DriveShift},
		{"motor current in the sensor's ground, braked on the way", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.rate = 0.002, 1.1
			on, off, was := 0.0, -2.0, 0.0 // when the drive came and went, and where the shaft was
			d.read = func(d *draft) float64 {
				moving := d.x != was
				was = d.x
				switch {
				case d.volts == 0 && off == -1:
					off = d.t
				case d.volts == 0:
				case d.volts != 0 && moving:
					if off != -1 {
						on, off = d.t, -1
					}
					return d.x + 0.15 + 0.4*math.Exp(-(d.t-on)/0.05)
				case d.volts != 0:
					off = -2 // nothing turns that could be braked
					return d.x + 0.6
				}
				if off >= 0 {
					return d.x + 0.8*math.Exp(-(d.t-off)/0.05)
				}
				return d.x
			}
			d.x = 2.6
			return d.run(0, 1).run(-12, 4).run(0, 2).run(12, 0.9).run(0, 1.2).run(-12, 3)
		}, WiringControl, DriveShift},
		{"the wiper rests on the edge of a track that is open beyond", func(s uint64) *draft {
			d := newDraft(s)
			d.rate, d.hi = 0.33, 4.8
			d.x = d.hi
			d.read = func(d *draft) float64 {
				// On the edge, it opens and closes as it likes.
				if d.x < 2.1 || d.x < 2.12 && math.Sin(8*d.t) < 0 {
					return 0
				}
				return d.x
			}
			d.run(0, 1.5).run(-12, 8.6).run(0, 1.7).run(12, 9.1).run(0, 1.7).run(-12, 8.6).run(0, 1.5)
			return d.run(12, (2.11-d.x)/d.rate).run(0, 1.7).run(-12, 0.5).run(0, 1.5).run(12, 0.8)
		}, FeedbackSensor, DeadSpot},
		{"a track open beyond, recorded from there with a slow input", func(s uint64) *draft {
			d := newDraft(s)
			d.rate, d.x = 0.3, 4.3
			d.read = func(d *draft) float64 {
				if d.x > 4.07 {
					return 3.94 * math.Exp(-d.t/0.01)
				}
				return d.x
			}
			return d.run(0, 1.5).run(-12, 3).run(0, 0.7).run(12, 5).run(0, 0.8).run(-12, 6.5).run(0, 1.8).run(12, 8.5).run(0, 1.6).run(-12, 9)
		}, FeedbackSensor, DeadSpot},
		{"a track broken through, passed three times", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.x > 2.5 {
					return 4.99
				}
				return 0.01
			}
			return d.run(0, 0.1).run(12, 6).run(0, 0.3).run(-12, 6).run(0, 0.3).run(12, 4)
		}, FeedbackSensor, DeadSpot},
		{"losses at rest and on the way, with seconds at the rail", func(s uint64) *draft {
			d := newDraft(s)
			d.rate = 0.4
			d.read = func(d *draft) float64 {
				if math.Mod(d.t, 5.3) > 4.1 {
					return 0.01
				}
				return d.x
			}
			return d.run(0, 8).run(12, 6).run(0, 6).run(-12, 4).run(0, 7).run(12, 3).run(0, 6)
		}, WiringControl, Dropouts},
		{"the wiper's wire shorts to the supply and stays so", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 22 {
					return 4.97
				}
				return d.x
			}
			return d.sweeps(4)
		}, WiringControl, LastingLeap},
		{"another line from one moment on, at a stop", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 14 { // stalled at the low stop
					return 3.9 + 0.2*d.x
				}
				return d.x
			}
			return d.sweeps(4)
		}, FeedbackSensor, LastingLeap},
		{"the motor hesitates at three places and both ways", func(s uint64) *draft {
			d := newDraft(s)
			d.run(0, 1).run(12, 6).run(0, 1)
			stand := func(volts, before, stand, after float64) {
				d.block = nil
				d.run(volts, before)
				d.block = func(d *draft, dir float64) bool { return true }
				d.run(volts, stand)
				d.block = nil
				d.run(volts, after).run(0, 0.7)
			}
			stand(-12, 1, 0.8, 0)
			stand(-12, 1.6, 0.9, 0)
			stand(12, 0, 0.8, 0)
			stand(12, 1, 0.9, 0)
			stand(-12, 1.2, 0.7, 3)
			return d.run(12, 6)
		}, Motor, Pauses},
		{"much play in the gears, driven in pulses", func(s uint64) *draft {
			d := newDraft(s).played(0.35)
			d.dt, d.x = 0.01, 1
			d.run(0, 1)
			for _, v := range []float64{12, -12, 12, -12, 12, -12} {
				for range 9 {
					d.run(v, 0.25).run(0, 0.3)
				}
				d.run(0, 1)
			}
			return d
		}, Motor, Play},
		{"much play in the gears", func(s uint64) *draft {
			d := newDraft(s)
			d.played(0.4)
			d.run(0, 1).run(12, 6).run(0, 0.5)
			for _, x := range []float64{-12, 12, -12, 12, -12, -12, 12, 12} {
				d.run(x, 2).run(0, 0.7)
			}
			return d
		}, Motor, Play},
		{"healthy, starts slowly each time", func(s uint64) *draft {
			d := newDraft(s)
			since, was := 0.0, 0.0
			d.speed = func(d *draft, dir float64) float64 {
				if dir != was {
					since = d.t
				}
				was = dir
				if d.t-since < 0.35 {
					return 0
				}
				return 1
			}
			d.run(0, 1).run(12, 6)
			for _, x := range []float64{-12, 12, -12, 12, -12, -12, 12, 12} {
				d.run(0, 0.7).run(x, 2)
			}
			return d
		}, NoFault, ""},
		{"healthy, a controller that slows down before its targets", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.rate = 0.02, 0.5
			d.run(0, 1)
			for range 3 {
				d.run(12, 7.5)
				for d.x < d.hi { // slower and slower, then at once less
					d.run(9.5, 0.1)
				}
				d.run(6.6, 1).run(0, 1)
				d.run(-12, 7.5)
				for d.x > d.lo {
					d.run(-9.5, 0.1)
				}
				d.run(-6.6, 1).run(0, 1)
			}
			return d
		}, NoFault, ""},
		{"healthy, springs back from its stops", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { // by 1.5 %, as soft seals do
				return d.lo + (d.x-d.lo)*0.97 + 0.015*4*(1+math.Copysign(1, d.x-2.5)*pressed(d))
			}
			return d.sweeps(4)
		}, NoFault, ""},
		{"healthy with much noise", func(s uint64) *draft {
			d := newDraft(s)
			d.noise = 0.05
			return d.sweeps(4)
		}, NoFault, ""},
	}
}

func TestDrawnShapes(t *testing.T) {
	t.Parallel()
	checkDrawn(t, moreCases(), "")
}

// Both ends in proportion are what a sagging sensor supply does: the sensor
// must not be blamed with confidence.
func TestDrawnBothEndsScale(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 { return d.x * (1 - 0.002*d.t) }
		got, v := look(t, d.sweeps(6))
		if v.Conclusion == FeedbackSensor && v.Probability > 0.8 || v.Conclusion == NoFault || !showsKind(got, SpanDrift) {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

func showsKind(c *Capture, k Kind) bool {
	for _, f := range c.Findings {
		if f.Kind == k {
			return true
		}
	}
	return false
}

func TestStepNotRamp(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		y    []float64
		both bool // the passes go up and down in turn, down half as fast
		k    int
		want bool
	}{
		{y: []float64{1, 1.01, 1, 1.2, 1.21, 1.2}, k: 3, want: true},
		{y: []float64{1, 1.04, 1.08, 1.12, 1.16, 1.2}, k: 3},
		{y: []float64{1, 1.1, 1.15, 1.18, 1.19, 1.2}, k: 2},
		{y: []float64{1, 1, 1, 1.2, 1.2, 1.2, 1.2}, both: true, k: 3, want: true},
		{y: []float64{1, 1.04, 1.08, 1.12, 1.16, 1.2, 1.24}, both: true, k: 3},
		{y: []float64{1, 1, 1.2, 1.2}, both: true, k: 2}, // two points make any line
	} {
		var p []passing
		for i, y := range c.y {
			q := passing{0, y}
			if c.both && i%2 == 1 {
				q = passing{1, y / 2}
			}
			p = append(p, q)
		}
		if got := stepNotRamp(p, c.k); got != c.want {
			t.Errorf("stepNotRamp(%v, %d) = %v", c.y, c.k, got)
		}
	}
}

func TestIncrementMoments(t *testing.T) {
	t.Parallel()
	var even, jumps increments
	for i := range 100 {
		even.add(float64(i%2)*2 - 1)
		jumps.add(map[bool]float64{true: 9, false: -1}[i%10 == 0])
	}
	if sd, skew := even.moments(); math.Abs(sd-1) > 1e-9 || math.Abs(skew) > 1e-9 {
		t.Errorf("even steps: deviation %v, skewness %v", sd, skew)
	}
	// A Bernoulli variable of chance 0.1 has the skewness (1-2p)/sqrt(pq) = 2.667.
	if sd, skew := jumps.moments(); math.Abs(sd-3) > 1e-9 || math.Abs(skew-0.8/0.3) > 1e-9 {
		t.Errorf("jumps: deviation %v, skewness %v", sd, skew)
	}
}

// What points at two components alike stands in the evidence for the likelier
// one, not among what decides little.
func TestEvidenceForEither(t *testing.T) {
	t.Parallel()
	d := newDraft(1)
	d.read = func(d *draft) float64 {
		if d.t > 22 {
			return 4.97
		}
		return d.x
	}
	got, v := look(t, d.sweeps(4))
	if len(v.For) == 0 || v.For[0].Finding != LastingLeap {
		t.Errorf("evidence for %v, against %v: %s", v.For, v.Against, say(got, v))
	}
}

// Two reversals are enough where starts the same way lose nothing; a motor that is
// reversed on the run is late as well, each time.
func TestPlayOfFewReversals(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed).played(0.4).run(0, 1).run(12, 1.2).run(0, 1).run(12, 1.2).run(0, 1).run(12, 1.2).run(0, 1)
		d.run(-12, 1.2).run(0, 1).run(-12, 1.2).run(0, 1).run(12, 1.2).run(0, 1).run(12, 1).run(0, 1)
		if c, v := look(t, d); !c.shows(Play) || v.Conclusion == NoFault {
			t.Errorf("seed %d: no play: %s", seed, say(c, v))
		}
		d = newDraft(seed).played(0.1).run(0, 1).run(12, 2) // 0.13 s
		for range 6 {
			d.run(-12, 1.5).run(12, 1.5)
		}
		if c, v := look(t, d); v.Conclusion == Motor {
			t.Errorf("seed %d: reversed on the run: %s", seed, say(c, v))
		}
	}
}
