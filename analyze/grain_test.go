package analyze

import (
	"math"
	"testing"
)

// Cases in which what shows is far below the noise of a single row, or comes
// only once or twice in a drive.
func faintCases() []struct {
	name string
	make func(seed uint64) *draft
	want Fault
	kind Kind
} {
	return []struct {
		name string
		make func(seed uint64) *draft
		want Fault
		kind Kind
	}{
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
	for _, c := range faintCases() {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(3) {
				got, v := look(t, c.make(seed))
				if v.Conclusion != c.want || c.kind != "" && !showsKind(got, c.kind) {
					t.Errorf("seed %d: want %s by %q, got %s", seed, c.want, c.kind, say(got, v))
				}
			}
		})
	}
}
