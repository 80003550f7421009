package analyze

import (
	"math"
	"strings"
	"testing"

	"threewire/signal"
)

// Cases in which what shows is far below the noise of a single row, or comes
// only once or twice in a drive.
func faintCases() []drawnCase {
	return []drawnCase{
		{"a grain of the track below the noise of a row at 1 kHz", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate = 0.001, 0.02, 0.4
			d.read = func(d *draft) float64 {
				if d.x > 2 && d.x < 2.4 { // scratches 0.03 V apart
					return d.x + 0.03*math.Sin(2*math.Pi*d.x/0.03)
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, NoisyTrack},
		{"a door comes off in the second sweep, seen by an 8-bit instrument", func(s uint64) *draft {
			d := newDraft(s)
			d.noise, d.quantum = 0.02, 0.02
			d.lo, d.hi, d.x = 0.6, 4.4, 0.6
			d.sweeps(1).run(12, 6).run(0, 0.5)
			d.lo, d.hi, d.rate = 0.45, 4.55, 0.9
			return d.run(-12, 6).run(0, 0.5).sweeps(1)
		}, DoorMechanism, LoadLost},
		{"a tooth lets go once in each drive, slowly", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.02
			slips, fall := 0, 0.0
			d.speed = func(d *draft, dir float64) float64 {
				switch {
				case dir > 0 && d.x > 4 && slips == 0:
					slips, fall = 1, 0.5
				case dir < 0:
					slips = 0
				}
				if dir > 0 && fall > 0 {
					fall -= 2 * d.rate * d.dt
					return -2
				}
				return 1
			}
			d.hi = 4.2
			return d.sweeps(4)
		}, Motor, GearSlip},
		{"an object holds the door wound up", func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(2)
			since, was := 0.0, 0.0
			d.block = func(d *draft, dir float64) bool {
				if dir != was {
					since, was = d.t, dir
				}
				return dir > 0 && d.x >= 3.1 || dir < 0 && d.x >= 3.1 && d.t-since < 0.4
			}
			return d.run(0, 0.5).sweeps(3)
		}, DoorMechanism, Jam},
		{"a track open beyond, pulled to the middle", func(s uint64) *draft {
			d := newDraft(s)
			d.rate = 0.3
			d.x = 3.5
			d.read = func(d *draft) float64 {
				if d.x > 4.2 {
					return 2.6
				}
				return d.x
			}
			d.run(0, 1).run(12, 3)
			for range 6 {
				d.run(-12, 1.2).run(0, 0.7).run(12, 1.3).run(0, 0.5)
			}
			return d.run(-12, 14).run(12, 9).run(-12, 4)
		}, FeedbackSensor, DeadSpot},
		{"a contact that is bad all along the track", func(s uint64) *draft {
			d := newDraft(s)
			last := d.x
			d.read = func(d *draft) float64 {
				moves := d.x != last
				last = d.x
				if moves {
					return d.x + 0.1*d.rng.NormFloat64()
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, NoisyTrack},
		{"a track that is bad beyond a place, also where the wiper rests", func(s uint64) *draft {
			d := newDraft(s)
			d.rate = 0.4
			d.read = func(d *draft) float64 {
				if d.x > 3.2 {
					return 1 + 3*d.rng.Float64()
				}
				return d.x
			}
			d.run(0, 1)
			for range 3 {
				d.run(12, 9).run(0, 1).run(-12, 9).run(0, 1)
			}
			return d
		}, FeedbackSensor, NoisyTrack},
		{"a loose wire that lets go at the stops and on the way", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if math.Mod(d.t, 2.3) > 2.15 {
					return 4.99
				}
				return d.x
			}
			return d.run(12, 9).run(-12, 9).run(12, 9)
		}, WiringControl, Dropouts},
		{"a seal that drags over a fifth of the way", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x > 3.7 {
					return 0.4
				}
				return 1
			}
			d.run(0, 1)
			for range 4 {
				d.run(12, 8).run(0, 0.5).run(-12, 6).run(0, 0.5)
			}
			return d
		}, DoorMechanism, SlowZone},
		{"healthy, with a seal of a twentieth of the way", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x > 4.3 {
					return 1 - 0.35*(d.x-4.3)/0.2
				}
				return 1
			}
			return d.sweeps(4)
		}, NoFault, ""},
		{"healthy, the instrument picks up a few sparks of its surroundings", func(s uint64) *draft {
			d := newDraft(s)
			n := 0
			d.read = func(d *draft) float64 {
				if d.rng.Float64() < 0.001 {
					n++
					return d.x + math.Copysign(0.6+d.rng.Float64(), float64(n%2)-0.5)
				}
				return d.x
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"healthy, the feedback's clip is taken off before the recording stops", func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(3).run(0, 1)
			d.read = func(d *draft) float64 { return 0.01 }
			return d.run(0, 0.8)
		}, NoFault, ""},
		{"healthy, through a channel that ends below the stop", func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(4)
			for i, v := range d.feed {
				d.feed[i] = math.Min(v, 4.2)
			}
			return d
		}, NoFault, ""},
		{"healthy, a control that tries its stop three times over", func(s uint64) *draft {
			d := newDraft(s)
			d.lo, d.hi = 1.6, 3.3
			d.sweeps(2).run(12, 3)
			for range 3 {
				d.run(0, 0.3).run(-12, 0.15).run(0, 0.3).run(12, 0.8)
			}
			return d.run(0, 1).run(-12, 4)
		}, NoFault, ""},
		{"healthy, springs ahead over a centre one way", func(s uint64) *draft {
			d := newDraft(s)
			d.noise, d.rate = 0.001, 0.3
			past := false
			d.speed = func(d *draft, dir float64) float64 {
				switch {
				case dir < 0:
					past = false
				case d.x > 2.5 && !past:
					past = true
					d.x += 0.04 // the play of the link, at once
				}
				return 1
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"healthy, an instrument that wanders", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.002
			wander := 0.0
			d.read = func(d *draft) float64 {
				wander += -6*wander*d.dt + 0.07*math.Sqrt(d.dt)*d.rng.NormFloat64()
				return d.x + wander
			}
			return d.sweeps(3)
		}, NoFault, ""},
	}
}

func TestFaint(t *testing.T) {
	t.Parallel()
	checkDrawn(t, faintCases(), "")
}

// A channel whose clip comes off reads nothing while the actuator goes on: it is
// neither a lost reference nor a supply that gives way.
func TestSlippedClip(t *testing.T) {
	t.Parallel()
	slip := func(level float64, n, from, to int) *signal.Series {
		m := make([]float32, n)
		for i := range m {
			m[i] = float32(level)
			if i >= from && i < to {
				m[i] = 0.01
			}
		}
		return &signal.Series{Name: "beside", Unit: "V", Mean: m, Min: m, Max: m, Stats: signal.Stats{Valid: int64(n), Max: level}}
	}
	for seed := range uint64(3) {
		for _, name := range []string{"reference", "supply"} {
			tr := newDraft(seed).sweeps(3).trace()
			n := tr.Len()
			if name == "reference" {
				tr.Reference = slip(5, n, n/2, 2*n/3)
			} else {
				tr.Supply = slip(12.6, n, n/2, 2*n/3)
			}
			c, err := Examine(tr, Defaults())
			if err != nil {
				t.Fatal(err)
			}
			v := Judge(c).Verdict
			if v.Conclusion != NoFault || !contains(strings.Join(c.Notes, "; "), name+" channel reads nothing") {
				t.Errorf("%s, seed %d: %s, notes %q", name, seed, say(c, v), c.Notes)
			}
		}
	}
}
